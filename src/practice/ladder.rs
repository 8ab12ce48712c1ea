//! Tempo ladders: from a start that the hands can do to the goal, in steps.
//!
//! A ladder is a habit of teachers, not a proven method: against playing at tempo from the start, and against going to
//! and fro, no significant difference was found in sixty wind players (Henley 2001, doi 10.2307/3345868).

use serde::{Deserialize, Serialize};

use super::score::{Event, Kind, Pace, Pulses};
use crate::music::hand::Finger;

/// One tempo to play at, and how often.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rung {
    /// In the unit of the book's tempo.
    pub tempo: u32,
    /// Vueltas that should come out clean before going on.
    pub clean: u32,
    /// Vueltas with faults after which to go a rung down.
    pub faults: u32,
    /// Playing and breathing between, rounded up.
    pub seconds: u32,
}

/// Rungs from `pace.start` to `pace.top`; `length` is what is played each time.
///
/// Steps grow by about a twelfth, so that each sounds like the same step; the goal is a rung of its own.
pub fn ladder(pace: &Pace, length: Pulses) -> Vec<Rung> {
    let mut tempos = vec![pace.start.max(1)];
    climb(&mut tempos, pace.goal);
    climb(&mut tempos, pace.top);
    tempos.iter().map(|tempo| rung(pace, *tempo, length)).collect()
}

/// Steps up to a tempo, each as large as the others in proportion.
fn climb(tempos: &mut Vec<u32>, to: u32) {
    let Some(from) = tempos.last().copied().filter(|from| *from < to) else {
        return;
    };
    let mut steps = 0_u32;
    let mut reached = u64::from(from) * 1000;
    while reached < u64::from(to) * 1000 && steps < 60 {
        reached = reached * 13 / 12;
        steps += 1;
    }
    let steps = steps.max(1);
    for step in 1..=steps {
        let tempo = in_proportion(from, to, step, steps);
        if tempos.last().is_some_and(|last| *last < tempo) {
            tempos.push(tempo);
        }
    }
}

/// `from * (to / from) ^ (step / steps)`, by whole numbers: found by halving, so that it is the same everywhere.
fn in_proportion(from: u32, to: u32, step: u32, steps: u32) -> u32 {
    if step >= steps {
        return to;
    }
    // tempo^steps <= from^(steps - step) * to^step, compared by logarithms of exact integers.
    let wanted = log2(from) * i64::from(steps - step) + log2(to) * i64::from(step);
    let fits = |tempo: &u32| log2(*tempo) * i64::from(steps) <= wanted;
    (from..=to).rev().find(fits).unwrap_or(from)
}

/// The base-two logarithm in 2^-32 steps, by repeated squaring of an integer mantissa.
fn log2(number: u32) -> i64 {
    let number = number.max(1);
    let whole = i64::from(31 - number.leading_zeros());
    let mut mantissa = (u64::from(number) << 32) >> whole;
    let mut log = whole << 32;
    for bit in (0..32).rev() {
        mantissa = ((u128::from(mantissa) * u128::from(mantissa)) >> 32) as u64;
        if mantissa >= 2 << 32 {
            mantissa >>= 1;
            log += 1 << bit;
        }
    }
    log
}

/// Three clean ones in a row to go up, two faults to go down: figures of ours. Counting clean repetitions rather than
/// minutes follows Duke and others 2009, doi 10.1177/0022429408328851 (seventeen pianists).
const CLEAN: u32 = 3;
const FAULTS: u32 = 2;

fn rung(pace: &Pace, tempo: u32, length: Pulses) -> Rung {
    // As many again for those that do not come out clean, and a breath of two seconds after each.
    let vueltas = u64::from(CLEAN) * 2;
    Rung {
        tempo,
        clean: CLEAN,
        faults: FAULTS,
        seconds: u32::try_from(vueltas * (seconds(pace, tempo, length) + 2)).unwrap_or(u32::MAX),
    }
}

/// How long a stretch takes at a tempo, in whole seconds, rounded up.
pub fn seconds(pace: &Pace, tempo: u32, length: Pulses) -> u64 {
    let a_minute = i64::from(tempo.max(1)) * pace.unit_pulses.max(1);
    let seconds = length * Pulses::from_integer(60) / Pulses::from_integer(a_minute);
    u64::try_from(seconds.ceil().to_integer()).unwrap_or(0)
}

/// A tempo that the hands can do at first: three fifths of the goal, or less where that would still be fast.
///
/// One hand repeats a movement 5 to 7 times a second at most, two fingers in turn about half as many again (Fujii and
/// Moritani 2009; Aoki and Kinoshita 2001): a start asks for no more than half of the lower figure.
pub fn start(goal: u32, unit_pulses: i64, events: &[Event]) -> u32 {
    let easy = goal / 5 * 3 + goal % 5 * 3 / 5;
    // Movements a second at one unit a second, times half of five: units a minute that keep to it.
    let slowest = busiest(events).map(|(strokes, within)| {
        let per_unit = strokes / within * Pulses::from_integer(unit_pulses.max(1));
        (Pulses::from_integer(150) / per_unit).floor().to_integer()
    });
    let slowest = slowest.and_then(|slowest| u32::try_from(slowest).ok()).unwrap_or(easy);
    even_figure(easy.min(slowest).max(goal / 4).max(20)).min(goal.max(1))
}

fn even_figure(tempo: u32) -> u32 {
    tempo / 2 * 2
}

/// The most movements of one finger within a pulse or less, and in how many pulses: down and up of one finger are one
/// movement there and back.
fn busiest(events: &[Event]) -> Option<(Pulses, Pulses)> {
    let mut worst: Option<(Pulses, Pulses)> = None;
    for finger in Finger::ALL {
        let mut moments: Vec<(Pulses, bool)> = Vec::new();
        // A rasgueado throws its fingers out one after another: none of them repeats its movement in it.
        for event in events.iter().filter(|event| event.kind != Kind::Rasgueado) {
            let mine = |strike: &&super::score::Strike| strike.finger == Some(finger);
            moments.extend(
                event
                    .strikes
                    .iter()
                    .filter(mine)
                    .map(|strike| (event.at + strike.after, strike.up)),
            );
            if event.kind == Kind::Golpe && event.fingers.contains(&finger) {
                moments.push((event.at, false));
            }
        }
        moments.sort_unstable();
        for pair in moments.windows(2) {
            let [(first, first_up), (second, second_up)] = pair else {
                continue;
            };
            let gap = *second - *first;
            if gap <= Pulses::from_integer(0) {
                continue;
            }
            let share = if first_up == second_up { 2 } else { 1 };
            let movement = (Pulses::new(share, 2), gap);
            if worst.is_none_or(|(strokes, within)| movement.0 / movement.1 > strokes / within) {
                worst = Some(movement);
            }
        }
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::score::{PaceGiven, PaceUnit, Strike};

    fn pace(start: u32, goal: u32, top: u32) -> Pace {
        Pace {
            unit: PaceUnit::Count,
            unit_pulses: 1,
            start,
            goal,
            top,
            given: PaceGiven::Said,
        }
    }

    fn tempos(start: u32, goal: u32, top: u32) -> Vec<u32> {
        ladder(&pace(start, goal, top), Pulses::from_integer(12))
            .iter()
            .map(|rung| rung.tempo)
            .collect()
    }

    #[test]
    fn rungs_are_even_in_proportion_and_meet_goal_and_top() {
        assert_eq!(tempos(60, 100, 110), [60, 64, 69, 74, 80, 86, 92, 100, 104, 110]);
        assert_eq!(tempos(100, 100, 100), [100]);
        assert_eq!(tempos(1, 2, 2), [1, 2]);
    }

    #[test]
    fn logarithms_are_those_of_the_standard_library() {
        for number in [1, 2, 3, 7, 10, 90, 999_983] {
            let ours = log2(number) as f64 / 4_294_967_296.0;
            assert!((ours - f64::from(number).log2()).abs() < 1e-8, "{number}: {ours}");
        }
    }

    #[test]
    fn a_rung_takes_as_long_as_its_vueltas() {
        // Seconds of a twelve-count compás are 720 / tempo: 12 s at 60, so six times 12 + 2.
        let rungs = ladder(&pace(60, 60, 60), Pulses::from_integer(12));
        assert_eq!(rungs[0].seconds, 84);
    }

    fn strokes(gap: Pulses, up: impl Fn(usize) -> bool) -> Vec<Event> {
        let event = |index: usize| {
            let mut event = Event::new(gap * Pulses::from_integer(index as i64), Kind::Down);
            event.strikes = vec![Strike {
                after: Pulses::from_integer(0),
                finger: Some(Finger::I),
                up: up(index),
            }];
            event
        };
        (0..8).map(event).collect()
    }

    #[test]
    fn the_start_keeps_to_half_of_what_a_finger_can() {
        // Quavers with one finger, all down: two a count. 150 / 2 = 75 counts a minute.
        let downs = strokes(Pulses::new(1, 2), |_| false);
        assert_eq!(start(200, 1, &downs), 74);
        // Down and up: one movement a count.
        let both = strokes(Pulses::new(1, 2), |index| index % 2 == 1);
        assert_eq!(start(200, 1, &both), 120);
        assert_eq!(start(200, 1, &[]), 120);
        assert_eq!(start(30, 1, &[]), 20);
    }
}
