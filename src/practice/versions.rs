//! Versions: the core, and the core with one variation in place. What practice is made of.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::score::Pulses;
use super::turn::{Stretch, Turn};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::music::round::{self, Round};
use crate::music::version;
use crate::text::fold;

/// One way to play a vuelta.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Version {
    /// Stable: the pattern's name as a slug, numbered where two are alike.
    pub id: String,
    pub name: String,
    pub role: Role,
    /// Index into the lessons that practice is made from.
    pub lesson: usize,
    /// Index into the lesson's patterns.
    pub pattern: usize,
    /// The core that it stands in, where it does not fill the vuelta; index into the lesson's patterns.
    pub core: Option<usize>,
    /// Where it takes the core's place, in pulses from the start of the vuelta.
    pub from: Pulses,
    pub to: Pulses,
    /// Pulses from start to end, without what runs on.
    pub length: Pulses,
    /// Times round the compás that it takes; 1 for half a compás too.
    pub vueltas: u32,
    /// How much of the vuelta after it it claims, up to where the core goes on; absent when it does not run on.
    pub runs_on: Option<Pulses>,
    /// Where its own lesson has the capo; 0 for none.
    pub capo: u8,
}

/// A version with the vuelta that it is counted in.
#[derive(Debug, Clone)]
pub struct Placed {
    pub version: Version,
    /// None in a free palo.
    pub turn: Option<Turn>,
}

/// A pattern that finds no place, and why: a key of the words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unplaced {
    pub lesson: usize,
    pub pattern: usize,
    pub why: &'static str,
}

/// The versions of some lessons, in the order in which the teacher gives them.
pub fn versions(lessons: &[&Lesson], palos: &PaloTable) -> (Vec<Placed>, Vec<Unplaced>) {
    let mut placed: Vec<Placed> = Vec::new();
    let mut unplaced = Vec::new();
    let mut common: Option<(Round, i64)> = None;
    for (index, lesson) in lessons.iter().enumerate() {
        let round = Round::of(lesson, palos);
        let cut = round.as_ref().and_then(|round| cut(lesson, round, &mut common));
        let free = round::palo_of(lesson, palos).is_some_and(|palo| palo.free);
        for (number, pattern) in lesson.patterns.iter().enumerate() {
            let place = match &round {
                Some(round) => {
                    let spot = Spot {
                        lesson: index,
                        number,
                        pattern,
                    };
                    counted(lesson, round, cut, spot)
                }
                None if free => Ok(phrase(index, number, pattern)),
                None => Err("unplaced-no-compas"),
            };
            match place {
                Ok(version) => placed.push(version),
                Err(why) => unplaced.push(Unplaced {
                    lesson: index,
                    pattern: number,
                    why,
                }),
            }
        }
    }
    for version in placed.iter_mut().map(|placed| &mut placed.version) {
        version.capo = lessons.get(version.lesson).map_or(0, |lesson| capo(lesson));
    }
    number_alike(
        &mut placed,
        |version| &mut version.id,
        |plain, number| format!("{plain}-{number}"),
    );
    tell_apart(&mut placed, lessons);
    (placed, unplaced)
}

/// The fret that a lesson has the capo at; 0 for none.
pub fn capo(lesson: &Lesson) -> u8 {
    lesson.capo.as_ref().map_or(0, |capo| capo.value)
}

/// The count at which whole rounds are cut into vueltas: where the lesson says that a round begins, as long as no
/// pattern goes over that seam; else where the core begins. Lessons that count alike are cut alike, so that one that
/// counts from 12 and one that counts from 1 can be joined.
fn cut(lesson: &Lesson, round: &Round, common: &mut Option<(Round, i64)>) -> Option<i64> {
    if let Some((known, first)) = common {
        return ((known.counts, &known.lengths) == (round.counts, &round.lengths)).then_some(*first);
    }
    let core = round::core(lesson).and_then(|core| core.span).map(|span| span.first);
    let said = lesson.meter.first.as_ref().map(|said| said.value);
    let crossed = |first: i64| lesson.patterns.iter().any(|pattern| crosses(pattern, round, first));
    let first = said.filter(|first| !crossed(*first)).or(core)?;
    *common = Some((round.clone(), first));
    Some(first)
}

/// True when a pattern that is no core goes over the seam before a count.
fn crosses(pattern: &Pattern, round: &Round, first: i64) -> bool {
    let Some(span) = pattern.span.filter(|_| pattern.role != Role::Core) else {
        return false;
    };
    let last = pattern
        .strokes
        .iter()
        .map(|stroke| stroke.at)
        .chain(pattern.runs_on)
        .max();
    let start = round.after(first, Position::count(span.first));
    let reach = last.map_or(Pulses::from_integer(0), |last| round.after(span.first, last));
    start + reach.max(round.pulses_in(span)) > round.pulses()
}

/// A pattern and where it stands in the lessons.
#[derive(Clone, Copy)]
struct Spot<'a> {
    lesson: usize,
    number: usize,
    pattern: &'a Pattern,
}

fn counted(lesson: &Lesson, round: &Round, cut: Option<i64>, spot: Spot) -> Result<Placed, &'static str> {
    let pattern = spot.pattern;
    if pattern.strokes.is_empty() {
        return Err("unplaced-no-strokes");
    }
    let span = pattern.span.or_else(|| whole_round(pattern, round));
    let span = span.ok_or("unplaced-no-span")?;
    if pattern.role != Role::Core
        && let Some((core, turn)) = home(lesson, span, round, cut)
    {
        let stretch = turn.stretch(span);
        let fills = stretch.to - stretch.from == turn.length;
        let mut placed = place(spot, (!fills).then_some(core), turn, span, stretch);
        placed.version.runs_on = placed.version.runs_on.map(|end| as_ever(lesson, core, &placed, end));
        return Ok(placed);
    }
    let turn = Turn::of(round, span, cut).ok_or("unplaced-no-span")?;
    if pattern.role != Role::Core && turn.counts % round.counts != 0 {
        return Err("unplaced-no-core");
    }
    let whole = Stretch {
        from: Pulses::from_integer(0),
        to: turn.length,
    };
    Ok(place(spot, None, turn, span, whole))
}

/// How far a version takes the next vuelta, whose core goes on at its next stroke in the count run on to.
fn as_ever(lesson: &Lesson, core: usize, placed: &Placed, end: Pulses) -> Pulses {
    let pattern = lesson.patterns.get(placed.version.pattern);
    let (Some(turn), Some(pattern), Some(core)) = (&placed.turn, pattern, lesson.patterns.get(core)) else {
        return end;
    };
    let span = pattern.span.or_else(|| whole_round(pattern, &turn.round));
    let last = pattern
        .strokes
        .iter()
        .map(|stroke| stroke.at)
        .chain(pattern.runs_on)
        .max();
    let (Some(span), Some(last)) = (span, last) else {
        return end;
    };
    let start = turn.of_pattern(span, Position::count(span.first));
    let (moment, count_end) = version::claimed(&turn.round, span.first, pattern, last);
    let core_span = core.span.or_else(|| whole_round(core, &turn.round)).unwrap_or(span);
    let struck: Vec<Pulses> = core
        .strokes
        .iter()
        .map(|stroke| turn.of_core(core_span, stroke.at))
        .collect();
    version::resumes(&struck, turn.length, start + moment, start + count_end) - turn.length
}

fn place(spot: Spot, core: Option<usize>, turn: Turn, span: CountSpan, stretch: Stretch) -> Placed {
    let pattern = spot.pattern;
    let last = pattern.strokes.iter().map(|stroke| stroke.at).chain(pattern.runs_on);
    let claimed = last.map(|last| match pattern.role {
        Role::Core => turn.claimed_by_core(span, last),
        _ => turn.claimed(span, last),
    });
    let past = claimed.max().map(|end| end - turn.length);
    Placed {
        version: Version {
            id: slug(&pattern.name),
            name: pattern.name.clone(),
            role: pattern.role,
            lesson: spot.lesson,
            pattern: spot.number,
            core,
            from: stretch.from,
            to: stretch.to.min(turn.length),
            length: turn.length,
            vueltas: u32::try_from(turn.counts / turn.round.counts.max(1))
                .unwrap_or(1)
                .max(1),
            runs_on: past.filter(|past| *past > Pulses::from_integer(0)),
            capo: 0,
        },
        turn: Some(turn),
    }
}

/// A phrase of a free palo: its strokes in order, each move one step.
fn phrase(lesson: usize, number: usize, pattern: &Pattern) -> Placed {
    let moves = pattern.strokes.iter().map(|stroke| stroke.at.whole());
    let first = pattern.span.map(|span| span.first).or(moves.clone().min()).unwrap_or(1);
    let last = pattern.span.map(|span| span.last).or(moves.max()).unwrap_or(first);
    let length = Pulses::from_integer((last - first + 1).max(1));
    Placed {
        version: Version {
            id: slug(&pattern.name),
            name: pattern.name.clone(),
            role: pattern.role,
            lesson,
            pattern: number,
            core: None,
            from: Pulses::from_integer(0),
            to: length,
            length,
            vueltas: 1,
            runs_on: None,
            capo: 0,
        },
        turn: None,
    }
}

/// The first core of the lesson whose vuelta has the span's counts and is long enough.
fn home(lesson: &Lesson, span: CountSpan, round: &Round, cut: Option<i64>) -> Option<(usize, Turn)> {
    let cores = lesson.patterns.iter().enumerate();
    let cores = cores.filter(|(_, pattern)| pattern.role == Role::Core);
    let mut turns = cores.filter_map(|(index, core)| {
        let span = core.span.or_else(|| whole_round(core, round))?;
        Some((index, Turn::of(round, span, cut)?))
    });
    let length = round.pulses_in(span);
    turns.find(|(_, turn)| turn.has(span.first) && turn.has(span.last) && length <= turn.length)
}

/// A pattern with no span said, whose strokes all lie in one round, is taken to cover the round.
fn whole_round(pattern: &Pattern, round: &Round) -> Option<CountSpan> {
    let inside = |at: i64| (1..=round.counts).contains(&at);
    let all = pattern.role == Role::Core && pattern.strokes.iter().all(|stroke| inside(stroke.at.whole()));
    let whole = CountSpan {
        first: 1,
        last: round.counts,
    };
    all.then_some(whole)
}

/// Lower case, plain letters, hyphens.
pub fn slug(name: &str) -> String {
    let folded = fold(name).text;
    let words = folded.split(|letter: char| !letter.is_ascii_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        "pattern".to_owned()
    } else {
        words.join("-")
    }
}

/// Numbers the texts of a field that are alike from the second on: `numbered` spells one with its number.
fn number_alike(placed: &mut [Placed], field: fn(&mut Version) -> &mut String, numbered: fn(&str, usize) -> String) {
    let mut before = BTreeSet::new();
    for here in placed.iter_mut().map(|placed| field(&mut placed.version)) {
        let plain = here.clone();
        let mut number = 1;
        while before.contains(here) {
            number += 1;
            *here = numbered(&plain, number);
        }
        before.insert(here.clone());
    }
}

/// Every lesson has a core: where lessons share a name, each says which lesson it is from. What is still alike is
/// numbered, so that nobody has to choose between two of one name.
fn tell_apart(placed: &mut [Placed], lessons: &[&Lesson]) {
    let names: Vec<(String, usize)> = placed
        .iter()
        .map(|placed| (placed.version.name.clone(), placed.version.lesson))
        .collect();
    for version in placed.iter_mut().map(|placed| &mut placed.version) {
        let shared = |(name, lesson): &(String, usize)| *name == version.name && *lesson != version.lesson;
        let title = lessons.get(version.lesson).and_then(|lesson| lesson.title.as_ref());
        if let Some(title) = title.filter(|_| names.iter().any(shared)) {
            version.name = format!("{} ({})", version.name, title.value);
        }
    }
    number_alike(
        placed,
        |version| &mut version.name,
        |plain, number| format!("{plain} ({number})"),
    );
}
