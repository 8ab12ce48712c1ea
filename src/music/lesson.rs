use serde::{Deserialize, Serialize};

use super::chord::Chord;
use super::key::{Key, Tempo};
use super::pattern::{CountSpan, Pattern};
use super::position::Position;
use super::remark::Remark;
use crate::text::{ClockTime, Place};

/// A value with the words it was read from. `implied` names the rule when it was not said outright.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Said<T> {
    pub value: T,
    pub place: Place,
    pub implied: Option<String>,
}

impl<T> Said<T> {
    pub fn new(value: T, place: Place) -> Self {
        Self {
            value,
            place,
            implied: None,
        }
    }
}

/// The compás as this lesson states it. What it does not state is empty, and then the palo's own table holds.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Meter {
    /// Counts in one compás, as counted aloud.
    pub beats: Option<Said<i64>>,
    /// Accented moments, sorted.
    pub accents: Vec<Said<Position>>,
    /// The count that a round begins on, when it is not 1.
    pub first: Option<Said<i64>>,
    /// Pulses in each count, where the text says that counts are uneven (siguiriya: 2 2 3 3 2).
    pub lengths: Option<Said<Vec<i64>>>,
}

/// Everything that one lesson taught. What was not said is absent.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Lesson {
    /// Stable name: the stem of its notes, or the `lesson:` line, as a slug.
    pub id: String,
    pub title: Option<Said<String>>,
    /// ASCII, lower case, hyphens: `solea-por-buleria`.
    pub palo: Option<Said<String>>,
    pub meter: Meter,
    pub tempo: Option<Said<Tempo>>,
    pub key: Option<Said<Key>>,
    /// Fret that the capo is on; 0 when said to be off.
    pub capo: Option<Said<u8>>,
    /// Open strings from string 1 to string 6 as MIDI numbers, where not standard.
    pub tuning: Option<Said<[u8; 6]>>,
    /// `en` or `es`.
    pub language: String,
    /// Place in the course, from the head.
    pub order: Option<Said<i64>>,
    /// Lessons that have to be known first, by id.
    pub needs: Vec<Said<String>>,
    /// Address or file of the recording.
    pub recording: Option<Said<String>>,
    /// Length of the recording, when known.
    pub recording_length: Option<ClockTime>,
    /// Date on which the teacher checked this reading, as written.
    pub reviewed: Option<Said<String>>,
    /// Names never to be published.
    pub people: Vec<String>,
    pub chords: Vec<Chord>,
    /// How many chords the text says that there are, in front of their list.
    pub chords_said: Option<Said<usize>>,
    /// What the text says of the lesson and can be held against the rest of it.
    pub remarks: Vec<Said<Remark>>,
    pub patterns: Vec<Pattern>,
    /// Said to take the place of some counts, and yet nothing that is played there was read.
    pub untold: Vec<Untold>,
    pub cautions: Vec<Caution>,
    /// How many times to loop the core.
    pub repeats: Option<Said<u32>>,
    /// Practice advice, in the teacher's words.
    pub advice: Vec<Said<String>>,
    pub links: Vec<CrossReference>,
    /// Moments of a recording that the text sends its reader to.
    pub moments: Vec<Said<ClockTime>>,
    /// Techniques that the lesson uses or explains, by id of the techniques table.
    pub techniques: Vec<Technique>,
    /// Words of the trade that the lesson uses or explains, as the glossary writes them.
    pub terms: Vec<Technique>,
    /// Words of the recogniser put right.
    pub misheard: Vec<Misheard>,
    /// Sentences that carry music, or may, and were not understood.
    pub unread: Vec<Unread>,
    /// Each thing understood, in the order of the text: for `read`.
    pub readings: Vec<Reading>,
    /// Questions that the text leaves open.
    pub questions: Vec<Said<String>>,
    /// Places where one thing was said and then another that contradicts it.
    pub conflicts: Vec<Conflict>,
    /// Findings that the teacher has looked at and lets stand: `(let stand tempo-implausible: we start slowly)`.
    pub let_stand: Vec<LetStand>,
}

/// A variation of which only the counts are known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Untold {
    /// Counts of the core that it takes the place of.
    pub span: CountSpan,
    pub place: Place,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Caution {
    pub about: String,
    pub place: Place,
    /// Counts that it names, if any.
    pub counts: Vec<Position>,
}

/// A mention of another lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CrossReference {
    /// The lesson's id as a slug, or the palo's, as far as the words tell.
    pub target: String,
    /// As written.
    pub words: String,
    /// A lesson still to come is announced, not referred to.
    pub announced: bool,
    pub place: Place,
}

/// A technique, or a word of the trade.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Technique {
    pub id: String,
    /// The sentence explains how it is done, not only uses it.
    pub explained: bool,
    pub place: Place,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Misheard {
    pub heard: String,
    pub read_as: String,
    pub place: Place,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Unread {
    pub text: String,
    /// Why nothing was read from it, in a teacher's language.
    pub reason: String,
    /// It plainly carries music (a warning), or it only may (a note).
    pub musical: bool,
    pub place: Place,
}

/// A thing understood, and the words it was read from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// In a musician's words: "3: down with i, golpe with a".
    pub what: String,
    pub place: Place,
    /// The sentence it was read from: what may be published.
    pub sentence: Place,
    pub implied: Option<String>,
}

/// Two statements about one thing that cannot both hold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Conflict {
    pub about: String,
    pub first: String,
    pub second: String,
    pub first_place: Place,
    pub place: Place,
}

/// A line of the note that asks for a check's findings in this note to be let stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LetStand {
    /// The id of the check, as written.
    pub rule: String,
    /// As written; empty when none was given.
    pub reason: String,
    pub place: Place,
}
