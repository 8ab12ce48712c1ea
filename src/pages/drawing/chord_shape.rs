//! A chord shape, lying down: strings run as in the six lines, string 1 on top, the nut on the left.

use super::signs;
use super::svg::{Frame, Svg};
use crate::music::chord::{Chord, ChordShape};
use crate::pages::labels::{Labels, show_name};

const GAP: f64 = 15.0;
const FRET: f64 = 27.0;
const LEFT: f64 = 26.0;
const TOP: f64 = 12.0;

/// Draws a chord's shape; with no shape said, an empty neck with a question mark.
pub fn chord_shape(chord: &Chord, id: &str, labels: &Labels) -> String {
    let name = show_name(&chord.name.to_string());
    let mut svg = Svg::default();
    let Some(shape) = chord.shape else {
        neck(&mut svg, 4, 1);
        signs::open(&mut svg, LEFT + FRET * 2.0, TOP + GAP * 2.5, 11.0);
        return svg.finish(&frame(id, &name, labels.get("shape_open"), 4));
    };
    let (first, count) = window(shape);
    neck(&mut svg, count, first);
    let y = |string: u8| TOP + GAP * f64::from(string.clamp(1, 6) - 1);
    let x = |fret: u8| LEFT + FRET * (f64::from(fret.saturating_sub(first)) + 0.5);
    for fingered in chord
        .fingers
        .iter()
        .filter(|fingered| fingered.to_string != fingered.string)
    {
        let (high, low) = (
            fingered.string.min(fingered.to_string),
            fingered.string.max(fingered.to_string),
        );
        svg.rect(
            "d-barre",
            (x(fingered.fret) - 7.0, y(high) - 6.5),
            (14.0, y(low) - y(high) + 13.0),
            7.0,
        );
    }
    for string in 1..=6 {
        match shape.fret(string) {
            None => svg.text("d-shape-end", (LEFT - 12.0, y(string) + 4.3), "×"),
            Some(0) => svg.text("d-shape-end", (LEFT - 12.0, y(string) + 4.3), "0"),
            Some(fret) => {
                let finger = chord.fingers.iter().find(|fingered| covers(fingered, string, fret));
                svg.circle("d-dot", (x(fret), y(string)), 6.6);
                if let Some(finger) = finger {
                    let words = if finger.finger == 0 {
                        "T".to_owned()
                    } else {
                        finger.finger.to_string()
                    };
                    svg.text("d-dot-number", (x(fret), y(string) + 4.2), &words);
                }
            }
        }
    }
    svg.finish(&frame(id, &name, &about(chord, shape, labels), count))
}

fn covers(fingered: &crate::music::chord::Fingered, string: u8, fret: u8) -> bool {
    let (high, low) = (
        fingered.string.min(fingered.to_string),
        fingered.string.max(fingered.to_string),
    );
    fingered.fret == fret && (high..=low).contains(&string)
}

fn frame<'a>(id: &'a str, title: &'a str, about: &'a str, frets: u8) -> Frame<'a> {
    Frame {
        id,
        class: "shape",
        width: LEFT + FRET * f64::from(frets) + 8.0,
        height: TOP + GAP * 5.0 + 24.0,
        title,
        about,
    }
}

/// The first fret drawn and how many: from the nut where the shape reaches no further than the fourth fret.
fn window(shape: ChordShape) -> (u8, u8) {
    let stopped = || shape.frets.iter().flatten().filter(|fret| **fret > 0);
    let high = stopped().max().copied().unwrap_or(1);
    let low = stopped().min().copied().unwrap_or(1);
    let first = if high <= 4 { 1 } else { low };
    (first, (high - first + 1).max(4))
}

fn neck(svg: &mut Svg, frets: u8, first: u8) {
    let foot = TOP + GAP * 5.0;
    let end = LEFT + FRET * f64::from(frets);
    for string in 0..6 {
        let y = TOP + GAP * f64::from(string);
        svg.line("d-neck-string", (LEFT, y), (end, y));
    }
    for fret in 0..=frets {
        let x = LEFT + FRET * f64::from(fret);
        let class = if fret == 0 && first == 1 {
            "d-nut"
        } else {
            "d-neck-fret"
        };
        svg.line(class, (x, TOP), (x, foot));
        if fret > 0 {
            svg.text(
                "d-fret-number",
                (x - FRET / 2.0, foot + 18.0),
                &(first + fret - 1).to_string(),
            );
        }
    }
}

/// The shape in words: string by string from the sixth.
fn about(chord: &Chord, shape: ChordShape, labels: &Labels) -> String {
    let mut parts = Vec::new();
    for string in (1..=6u8).rev() {
        let name = labels.fill("string_one", &[("strings", &string.to_string())]);
        let words = match shape.fret(string) {
            None => labels.get("string_not_played").to_owned(),
            Some(0) => labels.get("string_open").to_owned(),
            Some(fret) => {
                let finger = chord.fingers.iter().find(|fingered| covers(fingered, string, fret));
                let fret = labels.fill("fret_long", &[("fret", &fret.to_string())]);
                match finger {
                    Some(finger) => format!(
                        "{fret} {}",
                        labels.fill("left_finger", &[("finger", &finger.finger.to_string())])
                    ),
                    None => fret,
                }
            }
        };
        parts.push(format!("{name}: {words}"));
    }
    parts.join("; ")
}
