use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::chord_tones::QUALITIES;
use super::hand::{Fret, GuitarString, LeftFinger};
use super::pitch::NoteName;
use crate::text::Place;

/// A chord's name as written in the facts: root, quality, added notes: `Bb`, `Dm`, `A7`, `F#m`, `A(b9)`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChordName {
    pub root: NoteName,
    /// `""`, `m`, `7`, `maj7`, `m7`, `dim`, `aug`, `sus4`, …
    pub quality: String,
    /// What stands in brackets, brackets included: `(b9)`, `(add9)`; may be empty.
    pub added: String,
}

impl ChordName {
    pub fn new(root: NoteName, quality: &str) -> Self {
        Self {
            root,
            quality: quality.to_owned(),
            added: String::new(),
        }
    }

    /// Reads `Bb`, `F#m7`, `A(b9)`; the root is a capital letter. None when it is not a chord name.
    pub fn parse(text: &str) -> Option<Self> {
        let first = text.chars().next().filter(|c| ('A'..='G').contains(c))?;
        let rest = text.get(first.len_utf8()..)?;
        let mark = rest.chars().next().filter(|c| matches!(c, 'b' | '#' | '♭' | '♯'));
        let (root, rest) = text.split_at(first.len_utf8() + mark.map_or(0, char::len_utf8));
        let root = NoteName::parse(root)?;
        let (quality, added) = match rest.find('(') {
            Some(at) => rest.split_at(at),
            None => (rest, ""),
        };
        let quality = match quality {
            "M" | "maj" => "",
            "min" | "-" => "m",
            // As the Spanish-speaking world writes them, and the signs of printed charts.
            "7M" | "M7" | "Maj7" => "maj7",
            "m7M" | "mM7" => "mmaj7",
            "7sus" => "7sus4",
            "m7-5" | "ø" => "m7b5",
            "°" | "º" => "dim",
            "°7" | "º7" => "dim7",
            "+" => "aug",
            other => other,
        };
        let closed = added.is_empty() || added.ends_with(')');
        (QUALITIES.iter().any(|(known, _)| *known == quality) && closed).then(|| Self {
            root,
            quality: quality.to_owned(),
            added: added.to_owned(),
        })
    }
}

impl fmt::Display for ChordName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{}", self.root, self.quality, self.added)
    }
}

impl Serialize for ChordName {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ChordName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        ChordName::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not a chord name")))
    }
}

/// Six strings, **from string 6 to string 1** as teachers write them; None is a string not played.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChordShape {
    pub frets: [Option<Fret>; 6],
}

impl ChordShape {
    /// Reads `x02220`. Frets above 9 stand apart by `-` or `.`: `x-10-12-12-11-10`.
    pub fn parse(text: &str) -> Option<Self> {
        let parts: Vec<String> = if text.contains(['-', '.']) {
            text.split(['-', '.']).map(str::to_owned).collect()
        } else {
            text.chars().map(String::from).collect()
        };
        if parts.len() != 6 {
            return None;
        }
        let mut frets = [None; 6];
        for (fret, part) in frets.iter_mut().zip(&parts) {
            *fret = match part.as_str() {
                "x" | "X" => None,
                digits => Some(digits.parse().ok().filter(|fret| *fret <= 24)?),
            };
        }
        Some(Self { frets })
    }

    /// The fret on a string (1 to 6); None when the string is not played.
    pub fn fret(&self, string: GuitarString) -> Option<Fret> {
        let index = usize::from(6u8.checked_sub(string)?);
        self.frets.get(index).copied().flatten()
    }
}

impl fmt::Display for ChordShape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let apart = self.frets.iter().flatten().any(|fret| *fret > 9);
        for (index, fret) in self.frets.iter().enumerate() {
            if apart && index > 0 {
                f.write_str("-")?;
            }
            match fret {
                Some(fret) => write!(f, "{fret}")?,
                None => f.write_str("x")?,
            }
        }
        Ok(())
    }
}

impl Serialize for ChordShape {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ChordShape {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        ChordShape::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not a chord shape")))
    }
}

/// One finger of the left hand in a chord shape, as said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Fingered {
    pub finger: LeftFinger,
    pub string: GuitarString,
    pub fret: Fret,
    /// The last string the finger lies over when it lies down as a barre; the same as `string` otherwise.
    pub to_string: GuitarString,
}

/// A chord that the lesson uses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chord {
    pub name: ChordName,
    pub shape: Option<ChordShape>,
    /// Left-hand fingers, as said; empty when not said.
    pub fingers: Vec<Fingered>,
    pub place: Place,
    /// Where the shape was given, when elsewhere.
    pub shape_place: Option<Place>,
    /// Where the fingers were given, when elsewhere.
    pub fingers_place: Option<Place>,
    pub implied: Option<String>,
}
