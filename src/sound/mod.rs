//! 7. Scores become sound: the practice track that needs no browser.
//!
//! Comes in: a [`Score`](crate::practice::score::Score) and a [`Choice`] of what is heard. Goes out: samples, and the
//! bytes of a WAV file. This room touches no file and no device, knows no clock and no chance.
//! It is the same model as the player's scripts (templates/assets/player-strings.js, -noises, -touch, -sound):
//! tests/outside/sound holds the two against each other and against libraries from outside.
//! Start reading at [`track`].

/// One plucked string as samples.
mod strings;

/// Golpe, palmas, click as samples.
mod noises;

/// From an event to what each string does.
mod touch;

/// What is heard, and the count that leads in.
mod choice;

/// Where the click falls.
mod beats;

/// Sounds added up, softly bent where they are many.
mod sum;

/// A score laid out and summed.
mod track;

/// The bytes of a WAV file.
mod wav;

pub use beats::clicks;
pub use choice::{Choice, Click, Hands, Palmas, count_in};
pub use noises::{Noise, TAKES, noise};
pub use strings::{Touch, hertz, pluck};
pub use touch::{StringTouch, number, stops, touches};
pub use track::{Track, render};
pub use wav::wav;

/// Samples a second of every practice track.
pub const SAMPLE_RATE: u32 = 44_100;
