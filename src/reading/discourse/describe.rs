use std::fmt::Write;

use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};

/// A stroke in a musician's words.
pub fn describe(stroke: &Stroke) -> String {
    const COMMON: usize = 32;
    let mut text = String::with_capacity(COMMON);
    let count = stroke.at.whole();
    if stroke.at == Position::count(count) {
        push_number(&mut text, count);
    } else {
        // Nothing can go wrong when text is written into text.
        let _ = write!(text, "{}", stroke.at);
    }
    text.push_str(": ");
    text.push_str(action_word(stroke.action));
    for finger in &stroke.fingers {
        text.extend([' ', finger.letter()]);
    }
    for string in &stroke.strings {
        text.push_str(" s");
        push_number(&mut text, i64::from(*string));
    }
    if let Some(fret) = stroke.fret {
        text.push_str(" f");
        push_number(&mut text, i64::from(fret));
    }
    if let Some(note) = stroke.note {
        let _ = write!(text, " ({note})");
    }
    text
}

/// Counts, strings and frets mostly have one figure.
fn push_number(text: &mut String, number: i64) {
    match u8::try_from(number) {
        Ok(figure @ 0..=9) => text.push(char::from(b'0' + figure)),
        _ => {
            let _ = write!(text, "{number}");
        }
    }
}

pub(super) fn action_word(action: Action) -> &'static str {
    match action {
        Action::Down => "down",
        Action::Up => "up",
        Action::Golpe => "golpe",
        Action::Pluck => "pluck",
        Action::Rasgueado => "rasgueado",
        Action::Roll => "roll",
        Action::PullOff => "pull-off",
        Action::HammerOn => "hammer-on",
        Action::Damp => "damp",
        Action::Tremolo => "tremolo",
        Action::Picado => "picado",
        Action::Alzapua => "alzapúa",
        Action::Rest => "rest",
    }
}
