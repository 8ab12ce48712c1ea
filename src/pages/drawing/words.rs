//! A drawing's content in words, moment by moment: what a screen reader reads, and what anyone can check.

use super::rows::part;
use super::scene::{Moment, Scene, is_ligado, letters, wants_finger};
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::pages::labels::{Labels, show_name};
use crate::text::Place;

/// All that happens at one moment, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub at: Position,
    /// As counted: `4`, `4 &`, `1 =13`.
    pub count: String,
    pub accent: bool,
    pub chord: String,
    pub right: String,
    pub left: String,
    /// String, fret and note.
    pub strings: String,
    /// Where each thing was read, in the order of the row.
    pub places: Vec<Place>,
}

pub fn rows(scene: &Scene) -> Vec<Row> {
    scene.moments.iter().map(|moment| row(scene, moment)).collect()
}

fn row(scene: &Scene, moment: &Moment) -> Row {
    let labels = scene.labels;
    let right = moment.strokes.iter().filter(|(_, stroke)| !is_ligado(stroke.action));
    let right: Vec<String> = right.map(|(_, stroke)| right_words(stroke, labels)).collect();
    let mut left: Vec<String> = Vec::new();
    for (_, stroke) in &moment.strokes {
        if is_ligado(stroke.action) {
            left.push(with_note(action(stroke.action, labels), stroke, labels));
        }
        if let Some(finger) = stroke.left {
            left.push(labels.fill("left_finger", &[("finger", &finger.to_string())]));
        }
    }
    left.extend(moment.left.iter().map(|event| left_words(event, labels)));
    let strings = moment
        .strokes
        .iter()
        .filter(|(_, stroke)| !matches!(stroke.action, Action::Golpe | Action::Rest | Action::Damp));
    let strings: Vec<String> = strings
        .map(|(_, stroke)| string_words(stroke, labels))
        .filter(|words| !words.is_empty())
        .collect();
    let mut places: Vec<Place> = moment.strokes.iter().map(|(_, stroke)| stroke.place).collect();
    places.extend(moment.change.map(|change| change.place));
    places.extend(moment.left.iter().map(|event| event.place));
    places.dedup();
    Row {
        at: moment.at,
        count: count_words(scene, moment.at),
        accent: !scene.axis.free && scene.compas.is_accent(moment.at),
        chord: moment
            .change
            .map_or(String::new(), |change| show_name(&change.chord.to_string())),
        right: right.join(" + "),
        left: left.join(", "),
        strings: strings.join(" + "),
        places,
    }
}

fn count_words(scene: &Scene, at: Position) -> String {
    let column = scene
        .axis
        .column(scene.compas, at)
        .and_then(|(index, _)| scene.axis.columns.get(index));
    let shown = column.map_or(at.whole(), |column| column.shown);
    let mut words = shown.to_string();
    if *at.fraction().numer() != 0 {
        words.push(' ');
        words.push_str(&part(at, scene.labels));
    }
    if shown != at.whole() {
        words.push_str(&format!(" (={})", at.whole()));
    }
    words
}

fn right_words(stroke: &Stroke, labels: &Labels) -> String {
    let mut words = action(stroke.action, labels).to_owned();
    let fingers = letters(stroke);
    if !fingers.is_empty() {
        words.push(' ');
        words.push_str(&fingers.join(" "));
    } else if wants_finger(stroke.action) {
        words.push(' ');
        words.push_str(labels.get("finger_open"));
    }
    match stroke.rest_stroke {
        Some(true) => push(&mut words, labels.get("rest_stroke")),
        Some(false) => push(&mut words, labels.get("free_stroke")),
        None => {}
    }
    if stroke.accent {
        push(&mut words, labels.get("accented"));
    }
    if let Some(length) = stroke.length {
        push(&mut words, &labels.fill("lasts", &[("counts", &length.to_string())]));
    }
    if stroke.action == Action::Rasgueado {
        match stroke.arrival {
            Some(arrival) => push(&mut words, &labels.fill("arrives", &[("at", &arrival.to_string())])),
            None => push(&mut words, labels.get("arrival_open")),
        }
    }
    if stroke.implied.is_some() {
        push(&mut words, labels.get("understood"));
    }
    words
}

fn push(words: &mut String, more: &str) {
    words.push_str(", ");
    words.push_str(more);
}

fn with_note(verb: &str, stroke: &Stroke, labels: &Labels) -> String {
    let mut words = verb.to_owned();
    if stroke.implied.is_some() {
        push(&mut words, labels.get("understood"));
    }
    words
}

fn string_words(stroke: &Stroke, labels: &Labels) -> String {
    let mut words: Vec<String> = Vec::new();
    if !stroke.strings.is_empty() {
        let strings: Vec<String> = stroke.strings.iter().map(u8::to_string).collect();
        let key = if strings.len() == 1 {
            "string_one"
        } else {
            "string_many"
        };
        words.push(labels.fill(key, &[("strings", &strings.join(" "))]));
    }
    if let Some(fret) = stroke.fret {
        words.push(labels.fill("fret_long", &[("fret", &fret.to_string())]));
    }
    if let Some(note) = stroke.note {
        words.push(show_name(&note.to_string()));
    }
    words.join(", ")
}

fn left_words(event: &LeftEvent, labels: &Labels) -> String {
    let key = match event.action {
        LeftAction::Put => "left_put",
        LeftAction::Lift => "left_lift",
        LeftAction::Keep => "left_keep",
        LeftAction::Slide => "left_slide",
    };
    let finger = match (event.finger, event.action) {
        (Some(finger), _) => labels.fill("left_finger", &[("finger", &finger.to_string())]),
        (None, LeftAction::Lift | LeftAction::Keep) => labels.get("left_hand").to_owned(),
        (None, _) => labels.get("finger_open").to_owned(),
    };
    let mut words = labels.fill(key, &[("finger", &finger)]);
    if let Some(string) = event.string {
        push(
            &mut words,
            &labels.fill("string_one", &[("strings", &string.to_string())]),
        );
    }
    if let Some(fret) = event.fret {
        push(&mut words, &labels.fill("fret_long", &[("fret", &fret.to_string())]));
    }
    if event.implied.is_some() {
        push(&mut words, labels.get("understood"));
    }
    words
}

/// What a stroke is called.
fn action(action: Action, labels: &Labels) -> &str {
    labels.get(match action {
        Action::Down => "do_down",
        Action::Up => "do_up",
        Action::Golpe => "do_golpe",
        Action::Pluck => "do_pluck",
        Action::Rasgueado => "do_rasgueado",
        Action::Roll => "do_roll",
        Action::PullOff => "do_pull_off",
        Action::HammerOn => "do_hammer_on",
        Action::Damp => "do_damp",
        Action::Tremolo => "do_tremolo",
        Action::Picado => "do_picado",
        Action::Alzapua => "do_alzapua",
        Action::Rest => "do_rest",
    })
}
