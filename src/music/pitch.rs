use std::fmt::{self, Write};

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A pitch name without octave, with its spelling: B flat is not A sharp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NoteName {
    /// `A` to `G`.
    pub letter: char,
    /// Semitones: -1 flat, 1 sharp; -2 and 2 double.
    pub alter: i8,
}

/// Sol-fa syllables and their letters.
pub const SOLFA: [(&str, char); 7] = [
    ("do", 'C'),
    ("re", 'D'),
    ("mi", 'E'),
    ("fa", 'F'),
    ("sol", 'G'),
    ("la", 'A'),
    ("si", 'B'),
];

impl NoteName {
    pub fn new(letter: char, alter: i8) -> Self {
        Self { letter, alter }
    }

    /// Reads `C`, `Bb`, `F#`, `B♭`. None when it is not a pitch name.
    pub fn parse(text: &str) -> Option<Self> {
        let mut letters = text.chars();
        let letter = letters
            .next()
            .map(|c| c.to_ascii_uppercase())
            .filter(|c| ('A'..='G').contains(c))?;
        let mut alter = 0;
        for mark in letters {
            match mark {
                'b' | '♭' => alter -= 1,
                '#' | '♯' => alter += 1,
                _ => return None,
            }
        }
        (-2..=2).contains(&alter).then_some(Self { letter, alter })
    }

    /// Semitones above C, 0 to 11.
    pub fn pitch_class(self) -> u8 {
        let natural = match self.letter {
            'C' => 0,
            'D' => 2,
            'E' => 4,
            'F' => 5,
            'G' => 7,
            'A' => 9,
            _ => 11,
        };
        (natural + i16::from(self.alter)).rem_euclid(12) as u8
    }
}

impl fmt::Display for NoteName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_char(self.letter)?;
        let mark = if self.alter < 0 { "b" } else { "#" };
        for _ in 0..self.alter.abs() {
            f.write_str(mark)?;
        }
        Ok(())
    }
}

impl Serialize for NoteName {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for NoteName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        NoteName::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not a pitch name")))
    }
}

/// Standard tuning, string 1 to string 6, as MIDI numbers at sounding pitch (E4 B3 G3 D3 A2 E2).
pub const STANDARD_TUNING: [u8; 6] = [64, 59, 55, 50, 45, 40];
