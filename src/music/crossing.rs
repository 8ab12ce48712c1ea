//! Where the fingers of the right hand cross from one note of a quick run to the next.
//!
//! Common practice, no source: a string change is easy when the finger nearer the thumb takes the lower string. One
//! crossing to a neighbouring string is everybody's daily bread; a hand suffers where it has to cross again and again,
//! or over several strings at once, and has no time for it.

use num_rational::Ratio;

use super::hand::{Finger, GuitarString};
use super::pattern::Pattern;
use super::right_hand::{TAPPING_EASY, seconds};
use super::round::{Pulses, Round};
use super::stroke::{Action, Stroke};

/// Strings that a crossing has to go over before one alone is worth a word.
const FAR: u8 = 3;

/// Crossings in one run before they are worth a word.
const OFTEN: usize = 3;

/// A run whose fingers cross.
#[derive(Debug, Clone, PartialEq)]
pub struct Crossing<'a> {
    /// The first note of the first crossing, and the note after it.
    pub first: &'a Stroke,
    pub second: &'a Stroke,
    /// Crossings of the run, and how often it changes its string.
    pub crossed: usize,
    pub changes: usize,
    /// It is one crossing over many strings, not many over few.
    pub far: bool,
}

/// Finger and string of a single plucked note.
pub fn plucked(stroke: &Stroke) -> Option<(Finger, GuitarString)> {
    match (stroke.action, stroke.fingers.as_slice(), stroke.strings.as_slice()) {
        (Action::Pluck | Action::Picado, [finger], [string]) => Some((*finger, *string)),
        _ => None,
    }
}

/// From the thumb to the little finger the strings go up: their numbers go down.
pub fn is_crossed(one: (Finger, GuitarString), other: (Finger, GuitarString)) -> bool {
    (one.0 < other.0 && one.1 < other.1) || (one.0 > other.0 && one.1 > other.1)
}

/// The runs of a pattern in which a hand suffers: at most one crossing is told for each run.
pub fn crossings<'a>(pattern: &'a Pattern, round: &Round, pulses_a_minute: Pulses) -> Vec<Crossing<'a>> {
    let runs = runs(pattern, round, pulses_a_minute);
    runs.iter().filter_map(|run| in_run(run)).collect()
}

type Note<'a> = (Pulses, &'a Stroke, (Finger, GuitarString));

/// Notes that follow each other within the time of an easy tap. Anything else played between parts a run.
fn runs<'a>(pattern: &'a Pattern, round: &Round, pulses_a_minute: Pulses) -> Vec<Vec<Note<'a>>> {
    let from = pattern.span.map_or(round.first, |span| span.first);
    let mut strokes: Vec<(Pulses, &Stroke)> = pattern
        .strokes
        .iter()
        .map(|stroke| (round.after(from, stroke.at), stroke))
        .collect();
    strokes.sort_by_key(|(at, _)| *at);
    let mut runs: Vec<Vec<Note>> = vec![Vec::new()];
    for (at, stroke) in strokes {
        let Some(note) = plucked(stroke) else {
            runs.push(Vec::new());
            continue;
        };
        let follows = |last: &Note| at > last.0 && seconds(at - last.0, pulses_a_minute) <= Ratio::new(1, TAPPING_EASY);
        match runs.last_mut().filter(|run| run.last().is_none_or(follows)) {
            Some(run) => run.push((at, stroke, note)),
            None => runs.push(vec![(at, stroke, note)]),
        }
    }
    runs
}

fn in_run<'a>(run: &[Note<'a>]) -> Option<Crossing<'a>> {
    let pairs = run.windows(2).filter_map(|pair| match pair {
        [one, other] if one.2.1 != other.2.1 => Some((one, other)),
        _ => None,
    });
    let changes: Vec<(&Note, &Note)> = pairs.collect();
    let crossed = changes.iter().filter(|(one, other)| is_crossed(one.2, other.2));
    let crossed: Vec<&(&Note, &Note)> = crossed.collect();
    let far = crossed.iter().find(|(one, other)| one.2.1.abs_diff(other.2.1) >= FAR);
    // With the other finger first, the run would cross where it does not now: worth it when most changes cross.
    let often = crossed.len() >= OFTEN && crossed.len() * 3 > changes.len() * 2;
    let (one, other) = far.or(crossed.first().filter(|_| often))?;
    Some(Crossing {
        first: one.1,
        second: other.1,
        crossed: crossed.len(),
        changes: changes.len(),
        far: far.is_some(),
    })
}
