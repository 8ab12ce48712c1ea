//! Versions: the core, and the core with one variation in place. What practice is made of.

use serde::{Deserialize, Serialize};

use super::score::Pulses;
use super::turn::{Stretch, Turn};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::round::{self, Round};
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
    /// Times round the compás (of its core) that it takes.
    pub vueltas: u32,
    /// How far it runs on into the vuelta after it, in pulses of that vuelta; absent when it does not.
    pub runs_on: Option<Pulses>,
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

/// The versions of some lessons, in order, cores first in each lesson as the teacher gives them.
pub fn versions(lessons: &[&Lesson], palos: &PaloTable) -> (Vec<Placed>, Vec<Unplaced>) {
    let mut placed: Vec<Placed> = Vec::new();
    let mut unplaced = Vec::new();
    // One compás counted from 12 in one lesson and from 1 in another is cut at the same count, so that they can be joined.
    let common = lessons.iter().find_map(|lesson| Round::of(lesson, palos));
    for (index, lesson) in lessons.iter().enumerate() {
        let palo = round::palo_of(lesson, palos);
        let round = Round::of(lesson, palos).map(|round| begun_as(round, common.as_ref()));
        let free = round.is_none() && palo.is_some_and(|palo| palo.free);
        for (number, pattern) in lesson.patterns.iter().enumerate() {
            let place = match &round {
                Some(round) => counted(lesson, index, number, pattern, round),
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
    number_alike(&mut placed);
    (placed, unplaced)
}

fn begun_as(mut round: Round, common: Option<&Round>) -> Round {
    if let Some(common) = common.filter(|common| common.counts == round.counts && common.lengths == round.lengths) {
        round.first = common.first;
    }
    round
}

fn counted(
    lesson: &Lesson,
    index: usize,
    number: usize,
    pattern: &Pattern,
    round: &Round,
) -> Result<Placed, &'static str> {
    if pattern.strokes.is_empty() {
        return Err("unplaced-no-strokes");
    }
    let span = pattern
        .span
        .or_else(|| whole_round(pattern, round))
        .ok_or("unplaced-no-span")?;
    if pattern.role == Role::Core {
        let turn = Turn::of(round, span).ok_or("unplaced-no-span")?;
        let whole = whole(&turn);
        let moments = pattern.strokes.iter().map(|stroke| turn.of_core(span, stroke.at));
        let last = moments.max().filter(|at| *at >= turn.length);
        return Ok(place(index, number, pattern, None, turn, whole, last));
    }
    match home(lesson, span, round) {
        Some((core, turn)) if round.pulses_in(span) <= turn.length => {
            let stretch = turn.stretch(span);
            let last = last_moment(&turn, span, pattern);
            let core = (round.pulses_in(span) < turn.length).then_some(core);
            Ok(place(index, number, pattern, core, turn, stretch, last))
        }
        _ => alone(index, number, pattern, span, round),
    }
}

/// A pattern that fills its own vueltas: a falseta over a whole compás or several.
fn alone(
    index: usize,
    number: usize,
    pattern: &Pattern,
    span: CountSpan,
    round: &Round,
) -> Result<Placed, &'static str> {
    let turn = Turn::of(round, span).ok_or("unplaced-no-span")?;
    if turn.counts % round.counts != 0 {
        return Err("unplaced-no-core");
    }
    let whole = whole(&turn);
    let last = last_moment(&turn, span, pattern);
    Ok(place(index, number, pattern, None, turn, whole, last))
}

fn whole(turn: &Turn) -> Stretch {
    Stretch {
        from: Pulses::from_integer(0),
        to: turn.length,
    }
}

fn last_moment(turn: &Turn, span: CountSpan, pattern: &Pattern) -> Option<Pulses> {
    let moments = pattern.strokes.iter().map(|stroke| stroke.at).chain(pattern.runs_on);
    moments
        .map(|at| turn.of_pattern(span, at))
        .max()
        .filter(|at| *at >= turn.length)
}

fn place(
    lesson: usize,
    number: usize,
    pattern: &Pattern,
    core: Option<usize>,
    turn: Turn,
    stretch: Stretch,
    last: Option<Pulses>,
) -> Placed {
    Placed {
        version: Version {
            id: slug(&pattern.name),
            name: pattern.name.clone(),
            role: pattern.role,
            lesson,
            pattern: number,
            core,
            from: stretch.from,
            to: stretch.to.min(turn.length),
            length: turn.length,
            vueltas: u32::try_from(turn.counts / turn.round.counts.max(1))
                .unwrap_or(1)
                .max(1),
            runs_on: last.map(|last| last - turn.length),
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
        },
        turn: None,
    }
}

/// The first core of the lesson whose vuelta has the span's counts.
fn home(lesson: &Lesson, span: CountSpan, round: &Round) -> Option<(usize, Turn)> {
    let cores = lesson
        .patterns
        .iter()
        .enumerate()
        .filter(|(_, pattern)| pattern.role == Role::Core);
    let mut turns = cores.filter_map(|(index, core)| {
        let span = core.span.or_else(|| whole_round(core, round))?;
        Some((index, Turn::of(round, span)?))
    });
    turns.find(|(_, turn)| turn.has(span.first) && turn.has(span.last))
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

fn number_alike(placed: &mut [Placed]) {
    for index in 0..placed.len() {
        let (before, rest) = placed.split_at_mut(index);
        let Some(here) = rest.first_mut() else { continue };
        let plain = here.version.id.clone();
        let mut number = 1;
        while before.iter().any(|other| other.version.id == here.version.id) {
            number += 1;
            here.version.id = format!("{plain}-{number}");
        }
    }
}
