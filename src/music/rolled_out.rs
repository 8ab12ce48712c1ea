//! Rasgueados, tremolos and alzapúas stroke by stroke: what each finger has to do in the time that they take.
//!
//! Only what the text says is laid out: the fingers it names, evenly over the time up to the arrival or length that it
//! gives, or else up to the next stroke, and no further than the end of the count.

use num_rational::Ratio;

use super::pattern::Pattern;
use super::position::Position;
use super::stroke::{Action, Stroke};

/// The pattern with a stroke of its own for each finger of a rolling technique.
pub fn rolled_out(pattern: &Pattern) -> Pattern {
    let strokes = pattern.strokes.iter().flat_map(|stroke| match is_rolling(stroke) {
        true => single_strokes(pattern, stroke),
        false => vec![stroke.clone()],
    });
    let mut strokes: Vec<Stroke> = strokes.collect();
    strokes.sort_by_key(|stroke| (stroke.at, stroke.action));
    Pattern {
        strokes,
        ..pattern.clone()
    }
}

fn is_rolling(stroke: &Stroke) -> bool {
    matches!(stroke.action, Action::Rasgueado | Action::Tremolo | Action::Alzapua) && stroke.fingers.len() > 1
}

fn single_strokes(pattern: &Pattern, stroke: &Stroke) -> Vec<Stroke> {
    let length = end(pattern, stroke).0 - stroke.at.0;
    let fingers = stroke.fingers.len() as i64;
    let single = |(index, finger)| Stroke {
        at: stroke.at.plus(length * Ratio::new(index as i64, fingers)),
        action: action(stroke, index),
        fingers: vec![finger],
        length: None,
        arrival: None,
        ..stroke.clone()
    };
    stroke.fingers.iter().copied().enumerate().map(single).collect()
}

/// When it has to be over.
fn end(pattern: &Pattern, stroke: &Stroke) -> Position {
    let count_over = Position::count(stroke.at.whole() + 1);
    let later = pattern.strokes.iter().filter(|other| other.at > stroke.at);
    let next = later
        .map(|other| other.at)
        .min()
        .map_or(count_over, |next| next.min(count_over));
    stroke.ends().filter(|said| *said > stroke.at).unwrap_or(next)
}

/// The notes of a tremolo are one line. A finger that strikes again comes back the other way: index down, index up.
fn action(stroke: &Stroke, index: usize) -> Action {
    let finger = stroke.fingers.get(index);
    let before = stroke
        .fingers
        .iter()
        .take(index)
        .rev()
        .take_while(|other| Some(*other) == finger);
    match stroke.action {
        Action::Tremolo => Action::Tremolo,
        Action::Alzapua if index % 2 == 1 => Action::Up,
        Action::Rasgueado if before.count() % 2 == 1 => Action::Up,
        _ => Action::Down,
    }
}
