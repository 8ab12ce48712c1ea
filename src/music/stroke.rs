use serde::{Deserialize, Serialize};

use super::hand::{Finger, Fret, GuitarString, LeftFinger};
use super::pitch::NoteName;
use super::position::{Counts, Position};
use crate::text::Place;

/// What happens at a moment. The names are the trade's; as JSON they are the words of the facts contract.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// A strum towards the floor.
    Down,
    /// A strum towards the ceiling.
    Up,
    /// A knock on the plate.
    Golpe,
    /// One or more strings sounded together by thumb or fingers.
    Pluck,
    /// Fingers opened one after another; one stroke where it starts.
    Rasgueado,
    /// A rolled run over strings that the text does not spell out.
    Roll,
    PullOff,
    HammerOn,
    /// All sound is stopped by a hand.
    Damp,
    Tremolo,
    Picado,
    Alzapua,
    /// A whole count said to be silent.
    Rest,
}

/// One thing that the right hand (or, for ligados, the left) does at a moment.
///
/// A golpe made with a strum or pluck is a stroke of its own at the same moment.
/// What the text does not say is absent, never guessed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stroke {
    pub at: Position,
    pub action: Action,
    /// In the order said; empty when not said.
    pub fingers: Vec<Finger>,
    /// As said; empty when not said.
    pub strings: Vec<GuitarString>,
    /// Fret of a single note, as said.
    pub fret: Option<Fret>,
    /// Pitch name as said.
    pub note: Option<NoteName>,
    /// The left-hand finger that stops the note, as said.
    pub left: Option<LeftFinger>,
    /// True for a rest stroke (apoyando), false for a free stroke (tirando), absent when not said.
    pub rest_stroke: Option<bool>,
    pub accent: bool,
    /// How long it lasts, in counts, where the text says so.
    #[serde(with = "super::position::counts_as_text")]
    pub length: Option<Counts>,
    /// When a rasgueado arrives, where the text says so.
    pub arrival: Option<Position>,
    /// The letter or letters the writer used for the little finger, drawn as written.
    pub little_finger_as: Option<String>,
    pub place: Place,
    /// Absent: said. Present: implied, by this rule.
    pub implied: Option<String>,
}

impl Stroke {
    /// When it is over, where the text says so: a rasgueado's arrival, or the end of a length.
    pub fn ends(&self) -> Option<Position> {
        self.arrival.or_else(|| self.length.map(|length| self.at.plus(length)))
    }

    pub fn new(at: Position, action: Action, place: Place) -> Self {
        Self {
            at,
            action,
            fingers: Vec::new(),
            strings: Vec::new(),
            fret: None,
            note: None,
            left: None,
            rest_stroke: None,
            accent: false,
            length: None,
            arrival: None,
            little_finger_as: None,
            place,
            implied: None,
        }
    }
}
