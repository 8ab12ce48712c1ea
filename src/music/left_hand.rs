use serde::{Deserialize, Serialize};

use super::chord::ChordName;
use super::hand::{Fret, GuitarString, LeftFinger};
use super::position::Position;
use crate::text::Place;

/// From this moment the left hand holds a chord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    pub at: Position,
    pub chord: ChordName,
    pub place: Place,
    pub implied: Option<String>,
}

/// One thing the left hand was told to do, apart from whole chords. What was not said is absent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeftEvent {
    pub at: Position,
    pub action: LeftAction,
    pub finger: Option<LeftFinger>,
    pub string: Option<GuitarString>,
    pub fret: Option<Fret>,
    pub place: Place,
    pub implied: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeftAction {
    /// The finger goes down there and stays.
    Put,
    /// The finger, the barre, or (with no finger said) the whole hand leaves the strings.
    Lift,
    /// The finger (or the chord) stays down, past what would end it: "hold that finger down right through".
    Keep,
    /// The finger moves along the string to this fret without leaving it.
    Slide,
}
