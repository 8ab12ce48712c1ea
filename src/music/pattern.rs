use serde::{Deserialize, Serialize};

use super::left_hand::{Change, LeftEvent};
use super::pitch::NoteName;
use super::position::Position;
use super::stroke::{Action, Stroke};
use crate::music::chord::ChordName;
use crate::text::Place;

/// What a pattern is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    Core,
    Variation,
    Falseta,
    Llamada,
    Remate,
    Cierre,
}

/// First and last count covered, as counted. `[12, 11]` is a round that begins on 12.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct CountSpan {
    pub first: i64,
    pub last: i64,
}

/// `7`, `10-12`: as a teacher writes it.
impl std::fmt::Display for CountSpan {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.first)?;
        if self.first == self.last {
            return Ok(());
        }
        write!(f, "-{}", self.last)
    }
}

/// A pattern of strokes over a span of counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pattern {
    pub name: String,
    pub role: Role,
    /// What it covers; for all but a core: the counts of the core that it takes the place of.
    /// Absent when the text does not say and it cannot be told from the strokes.
    pub span: Option<CountSpan>,
    /// Sorted by moment, then by `Action`.
    pub strokes: Vec<Stroke>,
    /// Sorted by moment.
    pub changes: Vec<Change>,
    /// Sorted by moment.
    pub left: Vec<LeftEvent>,
    /// How far it runs past its span, where the text says that it does: the last moment it claims (13 of 12).
    pub runs_on: Option<Position>,
    /// What the text says twice, kept so that the two can be held against each other.
    pub claims: Vec<Claim>,
    pub place: Place,
}

/// Something said that the strokes can be held against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Claim {
    pub place: Place,
    pub about: ClaimAbout,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum ClaimAbout {
    /// A line or sentence announces the counts it is about ("4-6 G: …"), with or without a chord.
    Covers { span: CountSpan, chord: Option<ChordName> },
    /// A span said to be divided evenly: `per_count` notes in each of `counts` counts; `given` notes are named.
    Divided {
        from: Position,
        counts: i64,
        per_count: i64,
        given: usize,
    },
    /// A number of strokes or notes said beside its list ("three strokes: …").
    Numbered { at: Position, said: usize, given: usize },
    /// Material given for a count outside of the span replaced, with nothing said about running on.
    Outside { at: Position, span: CountSpan },
    /// A string said to sound open and fretted at one moment.
    OpenAndFretted { at: Position, string: u8, fret: u8 },
    /// A row said aloud ("tac, up, down up"): the strokes in order, with moments where counted.
    Recited {
        span: CountSpan,
        row: Vec<(Option<Position>, Option<Action>)>,
    },
    /// The names of notes said over behind the notes ("F, E, D, C"): each with the moment of the note it stands for.
    NamedAgain { row: Vec<(Position, NoteName)> },
    /// A finger of the right hand said to play a whole passage.
    Passage {
        span: CountSpan,
        fingers: Vec<super::hand::Finger>,
    },
}
