use serde::{Deserialize, Serialize};

use super::chord::ChordName;
use super::hand::{Fret, GuitarString};
use super::key::Mode;
use super::pitch::NoteName;

/// Something that the text says of the lesson and that the rest of it can be held against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum Remark {
    /// The compás is built of groups ("3 and 3 and 2 and 2 and 2"); `total` where their sum is said too.
    Groups { parts: Vec<i64>, total: Option<i64> },
    /// So many things are announced ("five accents", "four pieces of homework"), and so many are in their list.
    Listed { what: Things, said: usize, given: usize },
    /// These patterns are asked for in one and the same vuelta, by name.
    Together { patterns: Vec<String> },
    /// A variation is spoken of by its number, and there are not so many.
    NotTold { variation: i64 },
    /// What a rest stroke or a free stroke is, as the text explains it: whether the finger lands on the next string.
    StrokeExplained { rest_stroke: bool, lands: bool },
    /// Which way a strum down or up goes, as the text explains it: towards the floor, from the sixth string to the first, or
    /// the other way.
    StrumExplained { down: bool, to_the_floor: bool },
    /// Outside of any compás: a hammer-on or a pull-off from one fret to another, on this string where it is named.
    Slurred {
        hammer: bool,
        string: Option<GuitarString>,
        frets: (Fret, Fret),
    },
    /// Outside of any compás: one string said to sound at two frets at once; 0 is open.
    TwoFrets { string: GuitarString, frets: (Fret, Fret) },
    /// Each count of a pattern, by its name, has so many strokes.
    EachCount { pattern: String, per_count: i64 },
    /// Something is said to be played on every count that a pattern, by its name, takes.
    Filled { pattern: String },
    /// No line of the core names this count, those before and behind it are told; typed notes only.
    LeftOut { count: i64 },
    /// The lines of a variation name this count, and nothing is told to sound there; typed notes only.
    NamedOnly { pattern: String, count: i64 },
    /// The key that is heard, with the capo on this fret where the same words say so; that of the hand is the lesson's.
    SoundsIn {
        tonic: NoteName,
        mode: Mode,
        capo: Option<u8>,
    },
    /// A chord is said to be held without a barre.
    NoBarre { chord: ChordName },
}

/// What a number announces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Things {
    Accents,
    Chords,
    /// Of a variation that is told aloud.
    Notes,
    /// Homework, pieces of advice, steps: anything told first, second, third.
    Points,
}
