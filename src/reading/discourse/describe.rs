use std::fmt::{self, Write};

use crate::music::stroke::{Action, Stroke};

/// A stroke in a musician's words.
pub fn describe(stroke: &Stroke) -> String {
    const COMMON: usize = 32;
    let mut text = String::with_capacity(COMMON);
    said(&mut text, format_args!("{}: {}", stroke.at, action_word(stroke.action)));
    for finger in &stroke.fingers {
        text.extend([' ', finger.letter()]);
    }
    for string in &stroke.strings {
        said(&mut text, format_args!(" s{string}"));
    }
    if let Some(fret) = stroke.fret {
        said(&mut text, format_args!(" f{fret}"));
    }
    if let Some(note) = stroke.note {
        said(&mut text, format_args!(" ({note})"));
    }
    text
}

/// Adds some words; nothing can go wrong when text is written into text.
fn said(text: &mut String, words: fmt::Arguments) {
    let _ = text.write_fmt(words);
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
