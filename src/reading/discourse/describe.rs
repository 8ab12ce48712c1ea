use crate::music::hand::Finger;
use crate::music::stroke::{Action, Stroke};

/// A stroke in a musician's words.
pub fn describe(stroke: &Stroke) -> String {
    let mut text = format!("{}: {}", stroke.at, action_word(stroke.action));
    if !stroke.fingers.is_empty() {
        let letters: Vec<String> = stroke
            .fingers
            .iter()
            .map(|finger: &Finger| finger.letter().to_string())
            .collect();
        text.push(' ');
        text.push_str(&letters.join(" "));
    }
    if !stroke.strings.is_empty() {
        let strings: Vec<String> = stroke.strings.iter().map(|string| format!("s{string}")).collect();
        text.push(' ');
        text.push_str(&strings.join(" "));
    }
    if let Some(fret) = stroke.fret {
        text.push_str(&format!(" f{fret}"));
    }
    if let Some(note) = stroke.note {
        text.push_str(&format!(" ({note})"));
    }
    text
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
