//! One thing said: what the forms find in a sentence, before it is known what it means together.

use super::moments::When;
use crate::music::chord::{ChordName, ChordShape, Fingered};
use crate::music::hand::{Finger, Fret, GuitarString, LeftFinger};
use crate::music::key::{Key, Tempo};
use crate::music::pattern::Role;
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::Action;

/// A statement with the bytes of the sentence it was read from.
#[derive(Debug, Clone, PartialEq)]
pub struct Located {
    pub statement: Statement,
    pub start: usize,
    pub end: usize,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Statement {
    Palo(String),
    Beats(i64),
    First(i64),
    Accents(Vec<Position>),
    Lengths(Vec<i64>),
    /// Of some counts, how long each is.
    SomeLengths(Vec<(i64, i64)>),
    Tempo(Tempo),
    Key(Key),
    Capo(u8),
    Repeats(u32),
    /// A chord is named or shaped; `frets` may hold only some strings (index 0 is string 6).
    Shape {
        chord: Option<ChordName>,
        frets: [StringSaid; 6],
        fingers: Vec<Fingered>,
    },
    WholeShape {
        chord: ChordName,
        shape: ChordShape,
        fingers: Vec<Fingered>,
    },
    ChordsNamed(Vec<ChordName>),
    /// These counts are under this chord.
    ChordOver {
        chord: ChordName,
        first: i64,
        last: i64,
        strokes_follow: bool,
    },
    /// The pattern stands on one chord from its first count on.
    ChordThroughout(ChordName),
    /// A pattern begins.
    Begin {
        role: Role,
        name: String,
        number: Option<i64>,
    },
    /// The pattern takes the place of these counts.
    Replaces {
        first: i64,
        last: i64,
    },
    RunsOn,
    /// An abbreviation of the writer's own.
    Define {
        alias: Vec<String>,
        /// As written.
        word: String,
        /// None: only the fingers are told.
        action: Option<Action>,
        fingers: Vec<Finger>,
        strings: Vec<u8>,
    },
    /// The string that each finger plays where none is named.
    FingerStrings(Vec<(Finger, u8)>),
    /// Said of a whole passage.
    Passage(Passage),
    Told(Box<Told>),
    Reference {
        target: String,
        words: String,
        announced: bool,
    },
    /// The parts that every count has.
    Parts(i64),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum StringSaid {
    #[default]
    NotSaid,
    Muted,
    Fret(u8),
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Passage {
    pub fingers: Vec<Finger>,
    pub alternating: bool,
    pub rest_stroke: Option<bool>,
    pub picado: bool,
    /// Notes in a count.
    pub division: Option<i64>,
    /// Of the golpes only.
    pub golpe: bool,
    /// Of every strum of the lesson that names no finger.
    pub strum: bool,
    /// Of every stroke, not only of single notes.
    pub every: bool,
    pub string: Option<GuitarString>,
}

/// What a chord is called in a stroke's clause.
#[derive(Debug, Clone, PartialEq)]
pub enum ChordSaid {
    Named(ChordName),
    /// "this chord", "the chord".
    This,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SameAs {
    /// The counts it is like; none: what was last told.
    pub counts: Option<(i64, i64)>,
    pub core: bool,
    /// The variation it is like, by its number.
    pub variation: Option<i64>,
}

/// A clause about strokes: everything in it, nothing worked out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    pub when: Option<When>,
    pub span: Option<(i64, i64)>,
    pub actions: Vec<Action>,
    pub strum: bool,
    pub golpe: bool,
    pub golpe_fingers: Vec<Finger>,
    pub fingers: Vec<Finger>,
    pub little_finger_as: Option<String>,
    pub strings: Vec<GuitarString>,
    pub same_string: bool,
    /// "the same finger": that of the stroke before.
    pub same_finger: bool,
    pub frets: Vec<Fret>,
    pub notes: Vec<NoteName>,
    pub chord: Option<ChordSaid>,
    /// The chord stands in brackets behind the stroke.
    pub bracketed: bool,
    /// A word or mark in front of the chord says that it comes here: "on G", "F now".
    pub chord_cued: bool,
    /// A chord is said to be reached here, or to be the one that the round opens with.
    pub arrives: bool,
    pub begins: bool,
    /// "still on the B7": in force already.
    pub still: bool,
    pub rest_stroke: Option<bool>,
    pub left: Option<LeftFinger>,
    /// The left-hand finger stands in front of its string: "LH 1 on s3 f1".
    pub left_leads: bool,
    pub silence: bool,
    pub division: Option<i64>,
    /// Note values that fill the count unevenly.
    pub figure: Vec<num_rational::Ratio<i64>>,
    /// A slur whose direction was not said.
    pub slur: bool,
    /// "two pull-offs".
    pub how_many: Option<i64>,
    pub same: Option<SameAs>,
    pub as_usual: bool,
    pub negated: bool,
    /// The "no" stands in front of what is played: "no up after it".
    pub denies: bool,
    /// What went before in this count is taken back.
    pub corrects: bool,
    /// Behind a "so": a summing up.
    pub recap: bool,
    pub let_ring: bool,
    pub alone: bool,
    /// The chord or finger is said to leave the strings.
    pub lifts: bool,
    /// The sentence has few words.
    pub short: bool,
    /// The clause opens its line.
    pub leads: bool,
    pub open_string: bool,
    pub plays: bool,
    /// At the same moment as what was told before.
    pub with: bool,
    /// A "with" or "+" has been read: what comes sounds together with what stands before.
    pub with_pending: bool,
    /// On the half of every count: "on every and", "en cada y".
    pub every_half: bool,
    /// Where its moment stands in the sentence.
    pub when_at: usize,
    pub start: usize,
    pub end: usize,
}

impl Told {
    pub fn sounds(&self) -> bool {
        !self.actions.is_empty() || self.golpe || self.silence
    }

    /// It goes down or up across the strings once.
    pub fn is_one_strum(&self) -> bool {
        matches!(self.actions.as_slice(), [Action::Down | Action::Up])
    }

    pub fn has_note(&self) -> bool {
        !self.strings.is_empty() || !self.frets.is_empty() || self.same_string || self.open_string
    }

    /// The one string and fret that it names.
    pub fn one_place(&self) -> Option<(GuitarString, Fret)> {
        match (self.strings.as_slice(), self.frets.as_slice()) {
            ([string], [fret]) => Some((*string, *fret)),
            _ => None,
        }
    }

    pub fn has_details(&self) -> bool {
        self.has_note()
            || !self.fingers.is_empty()
            || !self.notes.is_empty()
            || self.chord.is_some()
            || self.left.is_some()
    }

    pub fn is_blank(&self) -> bool {
        !self.sounds()
            && !self.has_details()
            && self.same.is_none()
            && self.division.is_none()
            && self.figure.is_empty()
            && !self.corrects
            && !self.strum
            && self.rest_stroke.is_none()
    }
}
