//! How fast each finger of the right hand has to be, against what has been measured of hands.
//!
//! A finger's movement is counted in *cycles*: there and back. A single note is a cycle. A strum down and the strum up
//! after it, by the same finger, are one cycle between them. The limits of tapping are cycles too.

use num_rational::Ratio;

use super::hand::Finger;
use super::pattern::Pattern;
use super::round::{Pulses, Round};
use super::stroke::{Action, Stroke};

/// One finger tapping again and again, cycles a second: conventional limit 5 to 7; the fastest ever measured 10 (FUJ).
pub const TAPPING_EASY: i64 = 5;
pub const TAPPING_LIMIT: i64 = 7;
pub const TAPPING_RECORD: i64 = 10;

/// Single notes of one line, notes a second. Two fingers alternating tap 7.5 to 10.5 a second (AO1, computed); players
/// report picado plateaus of 9 to 11; beyond 20 it is a slip of the pen (ours, from the same figures).
pub const LINE_FAST: i64 = 10;
pub const LINE_LIMIT: i64 = 12;
pub const LINE_SLIP: i64 = 20;

/// Intervals over which a rate is reckoned: a burst of two or three strokes is no rate.
const WINDOW: usize = 3;

/// The quickest stretch that one finger, or one line, has to play.
#[derive(Debug, Clone, PartialEq)]
pub struct Rate<'a> {
    /// None for a line of several fingers.
    pub finger: Option<Finger>,
    /// Cycles of the finger, or notes of the line, a second.
    pub per_second: Ratio<i64>,
    /// The strokes of the stretch in order; at least four.
    pub strokes: Vec<&'a Stroke>,
}

/// A stroke with its moment in pulses from the start of its pattern.
type At<'a> = (Pulses, &'a Stroke);

/// Strokes of a pattern at their moments, in order.
fn timed<'a>(pattern: &'a Pattern, round: &Round) -> Vec<At<'a>> {
    let from = pattern.span.map_or(round.first, |span| span.first);
    let at = |stroke: &'a Stroke| (round.after(from, stroke.at), stroke);
    let mut all: Vec<At<'a>> = pattern.strokes.iter().map(at).collect();
    all.sort_by_key(|(at, _)| *at);
    all
}

/// How long a stretch of pulses lasts, in seconds.
pub(super) fn seconds(pulses: Pulses, pulses_a_minute: Pulses) -> Ratio<i64> {
    pulses * Ratio::from_integer(60) / pulses_a_minute
}

/// The quickest stretch of each finger that has one, in the order p i m a x. The tempo is above 0.
pub fn finger_rates<'a>(pattern: &'a Pattern, round: &Round, pulses_a_minute: Pulses) -> Vec<Rate<'a>> {
    let all = timed(pattern, round);
    let of = |finger: Finger| {
        let own = all
            .iter()
            .filter(|(_, stroke)| moves(stroke) && stroke.fingers.contains(&finger));
        let own: Vec<At<'a>> = own.copied().collect();
        let cycles = |window: &[At]| Some(Ratio::new(window.windows(2).map(half_cycles).sum::<i64>(), 2));
        let (per_second, strokes) = quickest(&own, cycles, pulses_a_minute)?;
        let finger = Some(finger);
        Some(Rate {
            finger,
            per_second,
            strokes,
        })
    };
    Finger::ALL.into_iter().filter_map(of).collect()
}

/// The quickest stretch of single notes in one line: picado, tremolo, or plucked notes by one or two fingers.
pub fn line_rate<'a>(pattern: &'a Pattern, round: &Round, pulses_a_minute: Pulses) -> Option<Rate<'a>> {
    let notes = timed(pattern, round)
        .into_iter()
        .filter(|(_, stroke)| is_single_note(stroke));
    let notes: Vec<At<'a>> = notes.collect();
    let (per_second, strokes) = quickest(&notes, notes_of_a_line, pulses_a_minute)?;
    let finger = None;
    Some(Rate {
        finger,
        per_second,
        strokes,
    })
}

/// Notes over a window, where it is one line.
fn notes_of_a_line(window: &[At]) -> Option<Ratio<i64>> {
    let all = |action: Action| window.iter().all(|(_, stroke)| stroke.action == action);
    let one_line = all(Action::Picado) || all(Action::Tremolo);
    let mut fingers: Vec<Finger> = window
        .iter()
        .flat_map(|(_, stroke)| stroke.fingers.iter().copied())
        .collect();
    fingers.sort_unstable();
    fingers.dedup();
    // An arpeggio spreads its notes over three fingers or more, and the thumb has its own rate.
    let plucked = !fingers.is_empty() && fingers.len() <= 2 && !fingers.contains(&Finger::P);
    (one_line || plucked).then_some(Ratio::from_integer(WINDOW as i64))
}

/// The highest rate over windows of strokes, and the strokes that go on at it. `work` is what a window holds.
fn quickest<'a>(
    strokes: &[At<'a>],
    work: impl Fn(&[At<'a>]) -> Option<Ratio<i64>>,
    pulses_a_minute: Pulses,
) -> Option<(Ratio<i64>, Vec<&'a Stroke>)> {
    let rate = |window: &[At<'a>]| {
        let ((first, _), (last, _)) = (window.first()?, window.last()?);
        let time = seconds(*last - *first, pulses_a_minute);
        let work = work(window)?;
        (time > Ratio::from_integer(0) && work > Ratio::from_integer(0)).then(|| work / time)
    };
    let rates: Vec<Option<Ratio<i64>>> = strokes.windows(WINDOW + 1).map(rate).collect();
    let highest = rates.iter().flatten().max().copied()?;
    let start = rates.iter().position(|rate| *rate == Some(highest))?;
    let on = rates
        .iter()
        .skip(start)
        .take_while(|rate| **rate == Some(highest))
        .count();
    let run = strokes.iter().skip(start).take(on + WINDOW);
    Some((highest, run.map(|(_, stroke)| *stroke).collect()))
}

/// Half-cycles from one stroke of a finger to its next: down then up is one, all else two.
fn half_cycles(pair: &[At]) -> i64 {
    match pair {
        [(_, one), (_, other)] => match (one.action, other.action) {
            (Action::Down, Action::Up) | (Action::Up, Action::Down) => 1,
            _ => 2,
        },
        _ => 0,
    }
}

/// Strokes that are one movement of each finger named. What rolls over several fingers has to be laid out before (see
/// [`super::rolled_out`]).
fn moves(stroke: &Stroke) -> bool {
    match stroke.action {
        Action::Down | Action::Up | Action::Pluck | Action::Picado | Action::Golpe => true,
        Action::Tremolo => stroke.fingers.len() == 1,
        _ => false,
    }
}

fn is_single_note(stroke: &Stroke) -> bool {
    let single = match stroke.action {
        Action::Pluck | Action::Picado => true,
        Action::Tremolo => stroke.fingers.len() == 1,
        _ => false,
    };
    single && stroke.fingers.len() <= 1 && stroke.strings.len() <= 1
}

/// A finger that plays two notes running, quicker than the easy rate of tapping, in a line of index and middle finger
/// that otherwise alternates: each such pair.
pub fn repeats<'a>(pattern: &'a Pattern, round: &Round, pulses_a_minute: Pulses) -> Vec<(&'a Stroke, &'a Stroke)> {
    let notes = timed(pattern, round)
        .into_iter()
        .filter(|(_, stroke)| is_line_note(stroke));
    let mut runs: Vec<Vec<At<'a>>> = Vec::new();
    for (at, stroke) in notes {
        let close = |last: &At| seconds(at - last.0, pulses_a_minute) <= Ratio::new(1, TAPPING_EASY);
        match runs.last_mut().filter(|run| run.last().is_some_and(close)) {
            Some(run) => run.push((at, stroke)),
            None => runs.push(vec![(at, stroke)]),
        }
    }
    let mut found = Vec::new();
    for run in runs.iter().filter(|run| run.len() > WINDOW) {
        let pairs = run.windows(2).filter_map(|pair| match pair {
            [(_, one), (_, other)] if one.fingers == other.fingers => Some((*one, *other)),
            _ => None,
        });
        let pairs: Vec<(&Stroke, &Stroke)> = pairs.collect();
        // A line alternates when most of it does.
        if pairs.len() * 3 < run.len() {
            found.extend(pairs);
        }
    }
    found
}

/// A single note by index or middle finger: the notes of picado.
fn is_line_note(stroke: &Stroke) -> bool {
    is_single_note(stroke) && matches!(stroke.fingers.as_slice(), [Finger::I | Finger::M])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::lesson::{Lesson, Said};
    use crate::music::palo::PaloTable;
    use crate::music::pattern::{CountSpan, Role};
    use crate::music::position::Position;
    use crate::text::Place;

    /// `1 down i`, `7+1/4 pluck m`; a list of moments in one count: `7/4 pluck i` is four a count from 7.
    fn pattern(words: &str) -> Pattern {
        let mut strokes = Vec::new();
        for word in words.split(", ") {
            let parts: Vec<&str> = word.split(' ').collect();
            let action = match parts[1] {
                "down" => Action::Down,
                "up" => Action::Up,
                "golpe" => Action::Golpe,
                "picado" => Action::Picado,
                _ => Action::Pluck,
            };
            let (count, parts_of) = parts[0]
                .split_once('/')
                .filter(|(count, _)| !count.contains('+'))
                .unwrap_or((parts[0], "1"));
            let count = Position::parse(count).expect("a position");
            let under: i64 = parts_of.parse().expect("a number");
            for over in 0..under {
                let mut stroke = Stroke::new(count.plus(Ratio::new(over, under)), action, Place::default());
                let letters: Vec<char> = parts[2].chars().collect();
                let letter = letters.get(over as usize % letters.len());
                stroke.fingers = Finger::ALL
                    .into_iter()
                    .filter(|finger| Some(&finger.letter()) == letter)
                    .collect();
                strokes.push(stroke);
            }
        }
        let span = Some(CountSpan { first: 1, last: 12 });
        let (name, role, place) = (String::new(), Role::Core, Place::default());
        Pattern {
            name,
            role,
            span,
            strokes,
            changes: Vec::new(),
            left: Vec::new(),
            runs_on: None,
            claims: Vec::new(),
            place,
        }
    }

    fn round() -> Round {
        let palo = Some(Said::new("buleria".to_owned(), Place::default()));
        Round::of(
            &Lesson {
                palo,
                ..Lesson::default()
            },
            PaloTable::ours(),
        )
        .expect("a compás")
    }

    #[test]
    fn cycles_of_a_finger() {
        // what it plays, tempo, finger, cycles a second (computed by hand)
        let table = [
            // Index alone, four single notes a count at 220: 220 / 60 * 4.
            ("7/4 pluck i, 8/4 pluck i, 9/4 pluck i", 220, Finger::I, (44, 3)),
            // Down and up on every half at 240 is one cycle a count.
            (
                "1 down i, 1+1/2 up i, 2 down i, 2+1/2 up i, 3 down i",
                240,
                Finger::I,
                (4, 1),
            ),
            // Thumb notes, two a count at 110.
            ("5/2 pluck p, 6/2 pluck p", 110, Finger::P, (11, 3)),
            // Downs only: each is a cycle.
            ("1 down i, 2 down i, 3 down i, 4 down i", 120, Finger::I, (2, 1)),
        ];
        for (words, tempo, finger, (over, under)) in table {
            let pattern = pattern(words);
            let rates = finger_rates(&pattern, &round(), Ratio::from_integer(tempo));
            let rate = rates.iter().find(|rate| rate.finger == Some(finger)).expect("a rate");
            assert_eq!(rate.per_second, Ratio::new(over, under), "{words}");
        }
    }

    #[test]
    fn a_burst_is_no_rate() {
        let pattern = pattern("7 pluck i, 7+1/4 pluck i, 7+1/2 pluck i");
        assert!(finger_rates(&pattern, &round(), Ratio::from_integer(240)).is_empty());
    }

    #[test]
    fn the_whole_run_is_told() {
        let pattern = pattern("6 pluck i, 7/4 pluck i, 8/4 pluck i, 10 pluck i");
        let rates = finger_rates(&pattern, &round(), Ratio::from_integer(220));
        let moments: Vec<String> = rates[0].strokes.iter().map(|stroke| stroke.at.to_string()).collect();
        assert_eq!((moments.first().map(String::as_str), moments.len()), (Some("7"), 8));
    }

    #[test]
    fn notes_of_a_line() {
        // what is played, tempo, notes a second
        let table = [
            ("5/4 picado im, 6/4 picado im", 124, Some((124, 15))),
            ("5/4 pluck im", 124, Some((124, 15))),
            // An arpeggio is no line.
            ("5/4 pluck pima, 6/4 pluck pima", 124, None),
            ("5/3 down i", 124, None),
        ];
        for (words, tempo, expected) in table {
            let pattern = pattern(words);
            let rate = line_rate(&pattern, &round(), Ratio::from_integer(tempo));
            assert_eq!(
                rate.map(|rate| rate.per_second),
                expected.map(|(over, under)| Ratio::new(over, under)),
                "{words}"
            );
        }
    }

    #[test]
    fn a_finger_that_repeats_in_an_alternating_line() {
        let moments = |words: &str| -> Vec<String> {
            let pattern = pattern(words);
            repeats(&pattern, &round(), Ratio::from_integer(180))
                .iter()
                .map(|(_, second)| second.at.to_string())
                .collect()
        };
        assert_eq!(moments("5/4 picado imim, 6/4 picado mimi"), ["6"]);
        assert!(moments("5/4 picado imim, 6/4 picado imim").is_empty());
        // Played by one finger throughout: not an alternating line.
        assert!(moments("5/4 picado i, 6/4 picado i").is_empty());
    }
}
