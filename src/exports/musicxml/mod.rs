//! A score as MusicXML 4.0: a guitar staff and a staff of tablature in one part.
//!
//! Written as fingered, the capo beside it, an octave above sounding as guitars are. A note lasts until the next stroke:
//! what rings on is not written. A strum has an arrow from the first string to the last that it meets, which points up
//! the page when the hand goes down; pulgar and fingers are p i m a (`pluck`), the golpe is the standard's own. What it
//! has no sign for (rasgueado, alzapúa, apoyando, apagado) stands as `other-technical`. What the lesson leaves open is a
//! slash without a pitch, or absent: no key, no tempo, no metre where none was said.
//! The staff of tablature sounds at no loudness, so that a program that plays both sounds each note once.

/// XML as a value.
mod element;

/// Lengths as note values.
mod lengths;

/// What is struck at each moment of a bar.
mod moments;

/// Chord names and their shapes.
mod harmony;

/// What stands at the head: parts, clefs, key, metre, tempo.
mod head;

/// One note on one staff.
mod note;

use num_rational::Ratio;

use self::element::{Element, el, text};
use self::harmony::harmony;
use self::lengths::{Quarters, Value, values};
use self::moments::{Ligado, Moment, ligados, moments};
use super::bars::{self, Measure};
use crate::music::chord::ChordName;
use crate::music::lesson::Lesson;
use crate::practice::score::Score;

const DOCTYPE: &str = "score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \
    \"http://www.musicxml.org/dtds/partwise.dtd\"";

/// The document. None for a score in which nothing happens.
pub fn musicxml(lesson: &Lesson, score: &Score, per_minute: u32) -> Option<String> {
    let page = Page {
        lesson,
        score,
        per_minute,
        pulses_in_quarter: bars::pulses_in_quarter(score),
        ligados: ligados(score).into_iter().collect(),
    };
    let measures = bars::measures(score);
    let laid: Vec<(Measure, Vec<Moment>)> = measures
        .into_iter()
        .map(|measure| {
            let moments = moments(score, &measure, page.pulses_in_quarter);
            (measure, moments)
        })
        .collect();
    if laid.is_empty() {
        return None;
    }
    let divisions = divisions(&page, &laid);
    let mut metre = None;
    let bars = laid.iter().enumerate().map(|(index, (measure, moments))| {
        let said = measure.metre(page.pulses_in_quarter);
        let changed = index == 0 || said != metre;
        metre = said.clone();
        let mut bar = el("measure").attr("number", index + 1);
        if changed {
            bar = bar.with(head::attributes(&page, divisions, said.as_ref(), index == 0));
        }
        bar = bar.with_all(head::directions(&page, measure, divisions, index == 0));
        for staff in [note::Staff::Notes, note::Staff::Tablature] {
            if staff == note::Staff::Tablature {
                let length = in_divisions(
                    measure.length() / Ratio::from_integer(page.pulses_in_quarter),
                    divisions,
                );
                bar = bar.with(el("backup").with(text("duration", length)));
            }
            bar = bar.with_all(staff_of(&page, staff, measure, moments, divisions));
        }
        bar
    });
    let part = el("part").attr("id", "P1").with_all(bars);
    head::document(&page).with(part).document(DOCTYPE)
}

/// What a page is written from.
struct Page<'a> {
    lesson: &'a Lesson,
    score: &'a Score,
    per_minute: u32,
    pulses_in_quarter: i64,
    ligados: Vec<Ligado>,
}

impl Page<'_> {
    fn pulse(&self) -> Quarters {
        Ratio::new(1, self.pulses_in_quarter)
    }

    fn values(&self, moment: &Moment) -> Vec<Value> {
        values(moment.from, moment.to, self.pulse())
    }
}

/// The harmonies and notes of one staff in one bar.
fn staff_of(page: &Page, staff: note::Staff, measure: &Measure, moments: &[Moment], divisions: i64) -> Vec<Element> {
    let mut row = Vec::new();
    let valued: Vec<(&Moment, Vec<Value>)> = moments.iter().map(|moment| (moment, page.values(moment))).collect();
    let all: Vec<&Value> = valued.iter().flat_map(|(_, values)| values).collect();
    let mut place = 0;
    for (moment, values) in &valued {
        if staff == note::Staff::Notes {
            row.extend(harmonies(page, measure, moment, divisions));
        }
        let written = moment.written();
        for (index, value) in values.iter().enumerate() {
            let at = note::At {
                value,
                first: index == 0,
                last: index + 1 == values.len(),
                opens: opens(&all, place, page.pulse()),
                closes: closes(&all, place, page.pulse()),
                duration: in_divisions(value.to - value.from, divisions),
            };
            row.extend(note::notes(page, staff, moment, &written, &at));
            place += 1;
        }
    }
    row
}

/// The chords that begin between a moment and the next.
fn harmonies(page: &Page, measure: &Measure, moment: &Moment, divisions: i64) -> Vec<Element> {
    let quarters = |at| (at - measure.from) / Ratio::from_integer(page.pulses_in_quarter);
    let inside = page.score.chords.iter().filter(|mark| {
        let at: Quarters = quarters(mark.at);
        mark.at >= measure.from && mark.at < measure.to && at >= moment.from && at < moment.to
    });
    let known = |name: &ChordName| page.lesson.chords.iter().find(|chord| chord.name == *name);
    inside
        .map(|mark| {
            harmony(
                mark,
                known(&mark.name),
                in_divisions(quarters(mark.at) - moment.from, divisions),
            )
        })
        .collect()
}

/// Does a bracket of so many in the time of so many begin with this value? It never goes over a pulse.
fn opens(all: &[&Value], place: usize, pulse: Quarters) -> bool {
    let Some(here) = all.get(place) else { return false };
    let before = place.checked_sub(1).and_then(|before| all.get(before));
    here.tuplet.is_some() && !before.is_some_and(|before| together(before, here, pulse))
}

fn closes(all: &[&Value], place: usize, pulse: Quarters) -> bool {
    let Some(here) = all.get(place) else { return false };
    let next = all.get(place + 1);
    here.tuplet.is_some() && !next.is_some_and(|next| together(here, next, pulse))
}

fn together(one: &Value, other: &Value, pulse: Quarters) -> bool {
    one.tuplet == other.tuplet && (one.from / pulse).floor() == (other.from / pulse).floor()
}

/// The smallest division of a quarter note in which every moment falls on a whole number.
fn divisions(page: &Page, laid: &[(Measure, Vec<Moment>)]) -> i64 {
    let mut divisions = 1;
    let mut take = |at: Quarters| divisions = least_common_multiple(divisions, *at.denom());
    for (measure, moments) in laid {
        let quarters = |at| (at - measure.from) / Ratio::from_integer(page.pulses_in_quarter);
        take(quarters(measure.to));
        for moment in moments {
            page.values(moment).iter().for_each(|value| take(value.to));
        }
        let inside = |at: &Ratio<i64>| *at >= measure.from && *at < measure.to;
        let marks = page.score.chords.iter().map(|mark| mark.at);
        let marks = marks.chain(measure.counts.iter().map(|mark| mark.at));
        marks.filter(inside).for_each(|at| take(quarters(at)));
    }
    divisions
}

fn least_common_multiple(one: i64, other: i64) -> i64 {
    let (mut a, mut b) = (one, other);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    (one / a.max(1)).saturating_mul(other)
}

fn in_divisions(length: Quarters, divisions: i64) -> i64 {
    (length * Ratio::from_integer(divisions)).round().to_integer()
}
