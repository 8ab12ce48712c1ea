//! What a sentence is read with: its language, its kind, and the writer's own abbreviations.

use super::gestures::Gesture;
use super::lexicon::Language;
use super::own_palos::OwnPalos;
use crate::music::hand::Finger;
use crate::music::stroke::Action;

/// A sign of the writer's own, and what the note says that it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnSign {
    /// Folded words.
    pub words: Vec<String>,
    /// None: only the fingers are told.
    pub action: Option<Action>,
    pub fingers: Vec<Finger>,
    /// Strings that it is always played on.
    pub strings: Vec<u8>,
}

/// Known before a sentence is read. What carries over between sentences in meaning is in `discourse`.
#[derive(Debug, Clone)]
pub struct Context {
    pub language: Language,
    pub typed: bool,
    /// The note has commas and stops; a transcript may have none.
    pub punctuated: bool,
    /// Counts of one compás, where known.
    pub beats: Option<i64>,
    /// Abbreviations defined in the note.
    pub aliases: Vec<OwnSign>,
    /// Words of sound that a spoken note explains by strokes.
    pub own_sounds: Vec<String>,
    /// Words for several strokes at once.
    pub gestures: Vec<Gesture>,
    /// The string that each finger plays where none is named, as the note says.
    pub own_strings: Vec<(Finger, u8)>,
    /// Two fingers take turns in the passage being told, so that a finger named beside a fret is of the left hand.
    pub alternating: bool,
    /// Counts have three parts: "one and a".
    pub thirds: bool,
    /// The note writes the half of a count with another sign, so that `&` joins what sounds together.
    pub joins_with_ampersand: bool,
    /// The note has said that it writes a string and its fret as two numbers.
    pub pairs: bool,
    /// Counts of the core, where it has been told: the next round begins behind them.
    pub round: Option<i64>,
    /// The teacher's own palos.
    pub own_palos: OwnPalos,
    /// The highest count told so far.
    pub highest: i64,
}

impl Context {
    /// The string that a finger plays where none is named.
    pub fn string_of(&self, finger: Finger) -> Option<u8> {
        let own = self.own_strings.iter().find(|(named, _)| *named == finger);
        own.map(|(_, string)| *string)
    }

    /// The highest number that can be a count: one past the compás, or past two of a short one.
    pub fn last_count(&self) -> i64 {
        match self.beats {
            Some(beats) if beats >= 8 => beats + 4,
            Some(beats) => (beats * 4).clamp(8, 16).max(self.highest),
            None => 16,
        }
    }
}
