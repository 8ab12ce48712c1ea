//! What sounds: one value that the player on the site, the practice track and the exports all start from.
//!
//! Time runs in *pulses*. Where counts are even a count is one pulse; a siguiriya's counts are 2 2 3 3 2 pulses.
//! A [`Score`] is flat: everything at its moment from the start. A [`Book`] keeps many scores small.
//!
//! How a sound ends (the same rule for every player of a score): a sounding string stops when it is struck again,
//! when an event of kind [`Kind::Damp`] comes, or when a [`Kind::Hand`] no longer has that string at the fret that is
//! sounding. An open string stops by a hand only where it becomes fretted. Nothing else stops it; it dies away.
//!
//! What the lesson leaves open is not guessed: such an event has no `sounds` and says why in `open`.

use serde::{Deserialize, Serialize};

use crate::music::chord::{ChordName, ChordShape};
use crate::music::hand::{Finger, Fret, GuitarString};
use crate::music::position::Position;

/// An exact time or length in pulses; as JSON a pair `[over, under]`: `[9, 2]` is four and a half.
pub use crate::music::round::Pulses;

pub use super::book::{Bar, Book, Cut, Ground, Line};

/// Everything that is to be played, in order, each at its moment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Score {
    /// Stable inside its book: `core`, `piece-1-4`, `join-core-thumb-run`, `circuit-1`, `mix-1`.
    pub id: String,
    pub title: String,
    pub strings: Strings,
    pub tempo: Pace,
    /// From start to end; the last bar is counted in full.
    pub length: Pulses,
    /// The counts said aloud; empty in a free palo, which has no click and no palmas either.
    pub counts: Vec<CountMark>,
    /// Accented moments, on counts or between them.
    pub accents: Vec<Pulses>,
    pub palmas: Vec<Clap>,
    /// The chords in force, each from its moment on.
    pub chords: Vec<ChordMark>,
    /// Sorted by moment; at one moment the left hand first, then in the lesson's order, golpe after what it goes with.
    pub events: Vec<Event>,
    /// What is being played from when to when: for the words beside the picture, and for `listening` answers.
    pub passages: Vec<Passage>,
}

/// The guitar that plays it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Strings {
    /// Open strings from string 1 to string 6 as MIDI numbers at sounding pitch, without capo.
    pub tuning: [u8; 6],
    /// Frets that every pitch is raised by.
    pub capo: u8,
}

/// How fast.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pace {
    pub unit: PaceUnit,
    /// Pulses in one unit: a figure of 90 is `90 * unit_pulses` pulses a minute.
    pub unit_pulses: i64,
    /// Units a minute: where practice begins.
    pub start: u32,
    /// Units a minute: where it is going, the low end of what the teacher (or the palo) wants.
    pub goal: u32,
    /// Units a minute: the high end.
    pub top: u32,
    /// Who says `goal` and `top`.
    pub given: PaceGiven,
}

/// Who says how fast it is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PaceGiven {
    /// The lesson.
    Said,
    /// The palo's usual tempo, where the lesson is silent.
    Palo,
    /// Nobody: a figure of ours to begin with.
    Ours,
}

/// What a tempo figure counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PaceUnit {
    /// Counts, all equally long.
    Count,
    /// Pulses, where counts are uneven.
    Pulse,
    /// Moves of a free palo, by relative length: only a speed to listen at.
    Move,
}

/// One count as said aloud.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CountMark {
    pub at: Pulses,
    pub length: Pulses,
    /// What is said: 12, 1, 2, …
    pub count: i64,
    pub accent: bool,
    /// The round begins here.
    pub first: bool,
}

/// One clap of the palmas.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Clap {
    pub at: Pulses,
    pub layer: Layer,
    /// Muffled (sordas) or bright (claras).
    pub muffled: bool,
    /// 0 to 100.
    pub level: u8,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Layer {
    Base,
    Contra,
}

/// A chord in force from a moment on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ChordMark {
    pub at: Pulses,
    pub name: ChordName,
    /// Absent where the notes give none.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub shape: Option<ChordShape>,
    /// Why it is in force, when it was not said at this moment.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub because: Option<String>,
}

/// One thing the hands do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Event {
    pub at: Pulses,
    /// The time it fills: its own length where said, else until the next stroke; zero for golpe, damp and hand.
    pub length: Pulses,
    pub kind: Kind,
    /// Right-hand fingers as said, in the order said.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub fingers: Vec<Finger>,
    /// How often and when the hand goes over the strings: once at zero for anything but a rasgueado. A roll goes over
    /// them once, in all its `length`. None for golpe, damp, rest and hand.
    pub strikes: Vec<Strike>,
    /// In the order that the first strike meets them. Empty for golpe, damp, hand, rest, and where it is open.
    pub sounds: Vec<Sound>,
    /// 0 to 100: 60 plain, 80 on an accent of the compás, 90 where the teacher asks for one.
    pub level: u8,
    /// On an accent of the compás, or asked for by the teacher.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub accent: bool,
    /// A rest stroke (apoyando), fuller than a free one; absent when not said.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rest_stroke: Option<bool>,
    /// Of a [`Kind::Hand`] only: from this moment the left hand holds these frets, string 1 to string 6; null is a
    /// string that is not known to be held.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hand: Option<[Option<Fret>; 6]>,
    /// Why nothing sounds though a stroke is played.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub open: Option<String>,
    /// Something beyond the text was worked out from it, and how: "frets from the chord shape".
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub worked_out: Option<String>,
    /// The stroke of the lesson that this is: for marking it in the drawing. Absent for `hand`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub drawn: Option<Drawn>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    Down,
    Up,
    Golpe,
    Pluck,
    Rasgueado,
    Roll,
    PullOff,
    HammerOn,
    Damp,
    Tremolo,
    Picado,
    Alzapua,
    Rest,
    /// Only the left hand: it changes what it holds.
    Hand,
}

/// One passing of a finger over the strings of an event.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Strike {
    /// After the event's moment.
    pub after: Pulses,
    /// The finger that does it; absent when not said, or when several do it together.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub finger: Option<Finger>,
    /// True when it goes towards the ceiling: the strings are met in the other order.
    pub up: bool,
}

/// One string sounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sound {
    pub string: GuitarString,
    /// From the capo; 0 is open.
    pub fret: Fret,
    /// MIDI number without capo; what sounds is this plus the capo.
    pub pitch: u8,
}

/// Which stroke of which pattern of which lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Drawn {
    /// Index into the lessons that the book was made from.
    pub lesson: usize,
    pub pattern: usize,
    pub stroke: usize,
    /// As said.
    pub at: Position,
}

/// A stretch of a score that is one bar, or a part of one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Passage {
    pub from: Pulses,
    pub to: Pulses,
    /// Index into the versions of the book.
    pub version: usize,
    pub name: String,
}

impl Score {
    /// A score in which nothing happens yet.
    pub fn empty(id: &str, title: &str, strings: Strings, tempo: Pace) -> Self {
        Self {
            id: id.to_owned(),
            title: title.to_owned(),
            strings,
            tempo,
            length: Pulses::from_integer(0),
            counts: Vec::new(),
            accents: Vec::new(),
            palmas: Vec::new(),
            chords: Vec::new(),
            events: Vec::new(),
            passages: Vec::new(),
        }
    }
}

impl Event {
    /// Something at a moment, with nothing said about it yet.
    pub fn new(at: Pulses, kind: Kind) -> Self {
        Self {
            at,
            length: Pulses::from_integer(0),
            kind,
            fingers: Vec::new(),
            strikes: Vec::new(),
            sounds: Vec::new(),
            level: 0,
            accent: false,
            rest_stroke: None,
            hand: None,
            open: None,
            worked_out: None,
            drawn: None,
        }
    }

    /// The left hand changes what it holds, and nothing is struck.
    pub fn hand_only(at: Pulses, hand: [Option<Fret>; 6]) -> Self {
        Self {
            hand: Some(hand),
            ..Self::new(at, Kind::Hand)
        }
    }
}
