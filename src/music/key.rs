use serde::{Deserialize, Serialize};

use super::pitch::NoteName;

/// The mode of the key. `Phrygian` is the flamenco mode: Phrygian with a major chord at home.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Mode {
    Phrygian,
    Major,
    Minor,
}

/// The key as fingered; a capo moves what sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Key {
    pub tonic: NoteName,
    pub mode: Mode,
}

/// Counts a minute (pulses a minute where counts are uneven); `low` equals `high` when one figure was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Tempo {
    pub low: u32,
    pub high: u32,
}
