//! The sound model in Rust against the player's scripts, by a table that the scripts write (tests/player/tone-table.mjs).
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test may stop at what should not be"
)]

use compasario::sound::{Noise, Touch, hertz, noise, pluck};
use serde::Deserialize;

#[derive(Deserialize)]
struct Table {
    tones: Vec<Tone>,
    noises: Vec<NoiseRow>,
}

#[derive(Deserialize)]
struct Tone {
    touch: String,
    string: u8,
    midi: u8,
    length: usize,
    samples: Vec<(usize, f32)>,
}

#[derive(Deserialize)]
struct NoiseRow {
    name: String,
    take: usize,
    length: usize,
    samples: Vec<(usize, f32)>,
}

/// The two differ by what sine and cosine of two libraries differ by, grown in a loop with feedback.
const HAIR: f32 = 1e-5;

fn same(what: &str, ours: &[f32], length: usize, theirs: &[(usize, f32)]) {
    assert_eq!(ours.len(), length, "{what}");
    for (at, sample) in theirs {
        assert!(
            (ours[*at] - sample).abs() < HAIR,
            "{what}: sample {at} is {}, not {sample}",
            ours[*at]
        );
    }
}

fn table() -> Table {
    serde_json::from_str(include_str!("player/tones.json")).unwrap()
}

#[test]
fn strings_sound_alike_in_the_browser_and_in_the_track() {
    for tone in table().tones {
        let touch = match tone.touch.as_str() {
            "free" => Touch::Free,
            "rest" => Touch::Rest,
            "strum" => Touch::Strum,
            "thumb" => Touch::Thumb,
            "slur" => Touch::Slur,
            "damped" => Touch::Damped,
            other => panic!("a touch that Rust does not have: {other}"),
        };
        let ours = pluck(tone.string, hertz(tone.midi, 440.0), touch);
        let what = format!("{} string {} pitch {}", tone.touch, tone.string, tone.midi);
        same(&what, &ours, tone.length, &tone.samples);
    }
}

#[test]
fn noises_sound_alike_in_the_browser_and_in_the_track() {
    for row in table().noises {
        let kind = match row.name.as_str() {
            "golpe" => Noise::Golpe,
            "clara" => Noise::Clara,
            "sorda" => Noise::Sorda,
            "click" => Noise::Click,
            "clickStrong" => Noise::ClickStrong,
            other => panic!("a noise that Rust does not have: {other}"),
        };
        let what = format!("{} take {}", row.name, row.take);
        same(&what, &noise(kind, row.take), row.length, &row.samples);
    }
}
