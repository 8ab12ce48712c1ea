//! Several notes of one lesson made one: the first decides, the others fill its gaps and give it times.
//! Where two of them cannot both hold, both are kept side by side.

use std::collections::BTreeSet;

use super::lexicon::{Language, lexicon};
use super::tokens::tokens;
use crate::music::chord::Chord;
use crate::music::lesson::{Caution, Conflict, Lesson, Said, Technique};
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::stroke::{Action, Stroke};
use crate::text::{ClockTime, Place};

/// Fills the gaps of `lesson` from another note of it.
pub fn fill(lesson: &mut Lesson, other: Lesson) {
    let mut conflicts = Vec::new();
    let mut note = |about: &str, first: String, second: String, first_place: Place, place: Place| {
        conflicts.push(Conflict {
            about: about.to_owned(),
            first,
            second,
            first_place,
            place,
        });
    };
    let held = |a: &String, b: &String| a.contains(b.as_str()) || b.contains(a.as_str());
    gap(&mut lesson.palo, other.palo, held, String::clone, |a, b, x, y| {
        note("palo", a, b, x, y)
    });
    let fits = |a: &i64, b: &i64| a % b.max(&1) == 0 || b % a.max(&1) == 0;
    gap(
        &mut lesson.meter.beats,
        other.meter.beats,
        fits,
        i64::to_string,
        |a, b, x, y| note("beats", a, b, x, y),
    );
    let overlap = |a: &crate::music::key::Tempo, b: &crate::music::key::Tempo| a.low <= b.high && b.low <= a.high;
    let shown = |tempo: &crate::music::key::Tempo| match tempo.low == tempo.high {
        true => tempo.low.to_string(),
        false => format!("{}-{}", tempo.low, tempo.high),
    };
    gap(&mut lesson.tempo, other.tempo, overlap, shown, |a, b, x, y| {
        note("tempo", a, b, x, y)
    });
    let key = |key: &crate::music::key::Key| format!("{} {:?}", key.tonic, key.mode).to_lowercase();
    gap(&mut lesson.key, other.key, PartialEq::eq, key, |a, b, x, y| {
        note("key", a, b, x, y)
    });
    gap(
        &mut lesson.capo,
        other.capo,
        PartialEq::eq,
        u8::to_string,
        |a, b, x, y| note("capo", a, b, x, y),
    );
    gap(
        &mut lesson.repeats,
        other.repeats,
        PartialEq::eq,
        u32::to_string,
        |a, b, x, y| note("repeats", a, b, x, y),
    );
    lesson.conflicts.append(&mut conflicts);
    accents(lesson, other.meter.accents);
    lesson.meter.first = lesson.meter.first.take().or(other.meter.first);
    lesson.meter.lengths = lesson.meter.lengths.take().or(other.meter.lengths);
    lesson.tuning = lesson.tuning.take().or(other.tuning);
    lesson.order = lesson.order.take().or(other.order);
    lesson.recording = lesson.recording.take().or(other.recording);
    lesson.recording_length = lesson.recording_length.or(other.recording_length);
    lesson.reviewed = lesson.reviewed.take().or(other.reviewed);
    if lesson.title.as_ref().is_none_or(|title| title.implied.is_some()) {
        let better = other.title.filter(|title| title.implied.is_none());
        lesson.title = better.or(lesson.title.take());
    }
    union(&mut lesson.needs, other.needs, |a, b| a.value == b.value);
    union(&mut lesson.people, other.people, |a, b| a == b);
    union(&mut lesson.links, other.links, |a, b| a.target == b.target);
    let known = |a: &Technique, b: &Technique| a.id == b.id && a.explained >= b.explained;
    union(&mut lesson.techniques, other.techniques, known);
    union(&mut lesson.terms, other.terms, known);
    chords(lesson, other.chords);
    let language = if lesson.language == "es" {
        Language::Spanish
    } else {
        Language::English
    };
    cautions(lesson, other.cautions, language);
    patterns(lesson, other.patterns);
    lesson.chords_said = lesson.chords_said.take().or(other.chords_said);
    union(&mut lesson.remarks, other.remarks, |a, b| a.value == b.value);
    lesson.untold.extend(other.untold);
    told_elsewhere(lesson);
    lesson.advice.extend(other.advice);
    lesson.misheard.extend(other.misheard);
    lesson.moments.extend(other.moments);
    lesson.unread.extend(other.unread);
    lesson.readings.extend(other.readings);
    lesson.questions.extend(other.questions);
    lesson.conflicts.extend(other.conflicts);
    lesson.let_stand.extend(other.let_stand);
}

/// A value that is missing is taken over; two that do not fit are told with their words and places.
fn gap<T>(
    held: &mut Option<Said<T>>,
    other: Option<Said<T>>,
    fits: impl Fn(&T, &T) -> bool,
    shown: impl Fn(&T) -> String,
    mut differ: impl FnMut(String, String, Place, Place),
) {
    match (held.as_ref(), other) {
        (None, other) => *held = other,
        (Some(held), Some(other)) if !fits(&held.value, &other.value) => {
            differ(shown(&held.value), shown(&other.value), held.place, other.place);
        }
        _ => {}
    }
}

fn union<T>(held: &mut Vec<T>, others: Vec<T>, same: impl Fn(&T, &T) -> bool) {
    for other in others {
        if !held.iter().any(|known| same(known, &other)) {
            held.push(other);
        }
    }
}

fn accents(lesson: &mut Lesson, others: Vec<Said<crate::music::position::Position>>) {
    let held = &lesson.meter.accents;
    let (Some(first), Some(other)) = (held.first(), others.first()) else {
        if held.is_empty() {
            lesson.meter.accents = others;
        }
        return;
    };
    let within = others
        .iter()
        .all(|other| held.iter().any(|known| known.value == other.value));
    if !within {
        let list = |accents: &[Said<_>]| {
            let shown: Vec<String> = accents.iter().map(|accent: &Said<_>| position(&accent.value)).collect();
            shown.join(", ")
        };
        let conflict = Conflict {
            about: "accents".to_owned(),
            first: list(held),
            second: list(&others),
            first_place: first.place,
            place: other.place,
        };
        lesson.conflicts.push(conflict);
    }
}

fn position(at: &crate::music::position::Position) -> String {
    at.to_string()
}

fn chords(lesson: &mut Lesson, others: Vec<Chord>) {
    for other in others {
        let Some(known) = lesson.chords.iter_mut().find(|chord| chord.name == other.name) else {
            lesson.chords.push(other);
            continue;
        };
        match (&known.shape, &other.shape) {
            (None, Some(_)) => {
                let place = known.place;
                *known = Chord { place, ..other };
            }
            (Some(first), Some(second)) if first != second => lesson.conflicts.push(Conflict {
                about: "shape".to_owned(),
                first: format!("{} {first}", known.name),
                second: format!("{} {second}", known.name),
                first_place: known.shape_place.unwrap_or(known.place),
                place: other.shape_place.unwrap_or(other.place),
            }),
            _ => timed(&mut known.place, other.place.time),
        }
    }
}

/// A place in a note without times gets the moment at which the same was said.
fn timed(place: &mut Place, time: Option<ClockTime>) {
    place.time = place.time.or(time);
}

/// Words, numbers and note names by which two warnings are known to be one.
fn keys(caution: &Caution, language: Language) -> BTreeSet<String> {
    let tokens = tokens(&caution.about, language, lexicon(language));
    let key = |token: &super::tokens::Token| {
        if let Some(number) = token.number.or(token.ordinal) {
            return Some(number.to_string());
        }
        let stem = token.word.trim_end_matches('s');
        let small = [
            "the", "and", "you", "for", "que", "los", "las", "con", "del", "thi", "that", "with", "una",
        ];
        let least = if token.concepts.is_empty() { 3 } else { 2 };
        (stem.chars().count() >= least && !small.contains(&stem)).then(|| stem.to_owned())
    };
    tokens.iter().filter_map(key).collect()
}

/// How many words two warnings share when they are the same.
const SHARED: usize = 3;

/// Warnings that the lesson does not give yet; those that it gives get the moment at which they were said.
/// What one note leaves untold, another tells.
fn told_elsewhere(lesson: &mut Lesson) {
    let patterns = &lesson.patterns;
    let told = |span: CountSpan| {
        patterns
            .iter()
            .any(|pattern| pattern.role != Role::Core && pattern.span == Some(span))
    };
    lesson.untold.retain(|untold| !told(untold.span));
}

fn cautions(lesson: &mut Lesson, others: Vec<Caution>, language: Language) {
    let told: Vec<BTreeSet<String>> = lesson.cautions.iter().map(|caution| keys(caution, language)).collect();
    for other in others {
        let wanted = keys(&other, language);
        let shared = told
            .iter()
            .enumerate()
            .map(|(index, known)| (known.intersection(&wanted).count(), index));
        let best = shared.max_by_key(|(shared, index)| (*shared, std::cmp::Reverse(*index)));
        match best.filter(|(shared, _)| *shared >= SHARED) {
            Some((_, index)) => {
                if let Some(known) = lesson.cautions.get_mut(index) {
                    timed(&mut known.place, other.place.time);
                }
            }
            None => lesson.cautions.push(other),
        }
    }
}

/// Patterns on counts that the lesson has none for; those that it has get times.
fn patterns(lesson: &mut Lesson, others: Vec<Pattern>) {
    let own = lesson.patterns.len();
    for other in others {
        let known = lesson
            .patterns
            .iter_mut()
            .take(own)
            .find(|known| is_same(known, &other));
        let Some(known) = known else {
            lesson.patterns.push(other);
            continue;
        };
        timed(&mut known.place, other.place.time);
        let told = known.strokes.clone();
        for stroke in &mut known.strokes {
            let said = other
                .strokes
                .iter()
                .find(|said| said.at == stroke.at && said.action == stroke.action);
            timed(&mut stroke.place, said.and_then(|said| said.place.time));
            lesson.conflicts.extend(turned(stroke, &told, &other.strokes));
        }
        for change in &mut known.changes {
            let said = other
                .changes
                .iter()
                .find(|said| said.at == change.at && said.chord == change.chord);
            timed(&mut change.place, said.and_then(|said| said.place.time));
        }
    }
}

/// The core is the core; another pattern is the same where it stands for some of the same counts.
fn is_same(known: &Pattern, other: &Pattern) -> bool {
    if known.role == Role::Core || other.role == Role::Core {
        return known.role == other.role;
    }
    match (known.span, other.span) {
        (Some(known), Some(other)) => meet(known, other),
        _ => known.role == other.role,
    }
}

fn meet(a: CountSpan, b: CountSpan) -> bool {
    a.first <= b.last && b.first <= a.last
}

/// Down in one note and up in the other, at one moment of a count that is parted alike in both.
fn turned(stroke: &Stroke, own: &[Stroke], others: &[Stroke]) -> Option<Conflict> {
    let opposite = match stroke.action {
        Action::Down => Action::Up,
        Action::Up => Action::Down,
        _ => return None,
    };
    let here = |action| {
        others
            .iter()
            .find(|other| other.at == stroke.at && other.action == action)
    };
    let other = here(opposite).filter(|_| here(stroke.action).is_none())?;
    let count = |of: &[Stroke]| -> BTreeSet<_> {
        let there = of.iter().filter(|other| other.at.whole() == stroke.at.whole());
        there.map(|other| other.at).collect()
    };
    if count(own) != count(others) {
        return None;
    }
    let name = |action| if action == Action::Down { "down" } else { "up" };
    Some(Conflict {
        about: format!("count {}", position(&stroke.at)),
        first: name(stroke.action).to_owned(),
        second: name(opposite).to_owned(),
        first_place: stroke.place,
        place: other.place,
    })
}
