//! What one line in the written form says.

use crate::music::chord::{Chord, ChordName};
use crate::music::hand::{Finger, GuitarString};
use crate::music::key::{Key, Tempo};
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::lesson::{Caution, Conflict, CrossReference, LetStand, Misheard, Technique, Unread};
use crate::music::pattern::{ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::music::stroke::Stroke;
use crate::text::{ClockTime, Span};

use super::shorthand::Meaning;

/// A value, the bytes of the given text that it was read from, and the moment written on its line, if one is.
#[derive(Debug, Clone, PartialEq)]
pub struct Spanned<T> {
    pub value: T,
    pub span: Span,
    /// The `[m:ss]` in front of the line or at its end; absent when the line carries none.
    pub time: Option<ClockTime>,
}

/// One thing that a line says. Places inside the values are empty: the caller knows the file.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A field of the lesson's head, and the rule when it is marked as implied.
    Head(Head, Option<String>),
    /// `A = x02220`.
    Chord(Chord),
    /// A pattern begins here.
    Begin(Begin),
    /// The line is about these counts: `1-3 A: …`, or a plan of chords: `A 1-2, Bb 3-6`.
    Covers(Covers),
    Stroke(Stroke),
    Change(Change),
    Left(LeftEvent),
    /// `4-6 same RH as 1-3`.
    Same(Same),
    /// `x8`: loop so many times.
    Repeats(u32, Option<String>),
    Caution(Caution),
    Advice(String, Option<String>),
    Link(CrossReference),
    Question(String, Option<String>),
    Technique(Technique),
    Misheard(Misheard),
    Unread(Unread),
    Conflict(Conflict),
    /// `(let stand tempo-implausible: we start slowly)`.
    LetStand(LetStand),
    /// `// …`: a line for the people who read the note; it says nothing about the music.
    Comment(String),
    /// What the line says about its own strokes, to be held against them.
    Claim(ClaimAbout),
    /// `gp = golpe w/ a`: the writer's own shorthand.
    Defines(OwnWord),
}

impl Item {
    pub(super) fn is_chord(&self) -> bool {
        matches!(self, Item::Change(_) | Item::Covers(_))
    }

    /// Moves the item to another moment.
    pub(super) fn set_moment(&mut self, at: Position) {
        match self {
            Item::Stroke(stroke) => stroke.at = at,
            Item::Change(change) => change.at = at,
            Item::Left(event) => event.at = at,
            _ => {}
        }
    }

    /// Marks the item as implied by a rule, unless it carries a mark of its own.
    pub(super) fn mark_implied(&mut self, rule: &str) {
        let mark = match self {
            Item::Head(_, mark) | Item::Repeats(_, mark) | Item::Advice(_, mark) | Item::Question(_, mark) => mark,
            Item::Chord(chord) => &mut chord.implied,
            Item::Stroke(stroke) => &mut stroke.implied,
            Item::Change(change) => &mut change.implied,
            Item::Left(event) => &mut event.implied,
            _ => return,
        };
        if mark.is_none() {
            *mark = Some(rule.to_owned());
        }
    }
}

/// A field of the head, or of the compás.
#[derive(Debug, Clone, PartialEq)]
pub enum Head {
    Id(String),
    Title(String),
    Palo(String),
    /// Counts in one compás.
    Beats(i64),
    /// One accent; a line of them gives several items.
    Accent(Position),
    /// The count that a round begins on.
    First(i64),
    /// Pulses in each count.
    Lengths(Vec<i64>),
    Tempo(Tempo),
    Key(Key),
    Capo(u8),
    /// String 1 to string 6 as MIDI numbers.
    Tuning([u8; 6]),
    Language(String),
    Order(i64),
    /// A lesson to be known first; a line of them gives several items.
    Need(String),
    Recording(String),
    RecordingLength(ClockTime),
    Reviewed(String),
    Person(String),
}

/// The opening line of a pattern. What it does not say is absent.
#[derive(Debug, Clone, PartialEq)]
pub struct Begin {
    pub role: Role,
    /// As written: `thumb`, `V1`. Absent: the pattern is called by its role.
    pub name: Option<String>,
    pub span: Option<CountSpan>,
    pub runs_on: Option<Position>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Covers {
    pub span: CountSpan,
    pub chord: Option<ChordName>,
    /// The chord is said to go on, not to begin: `7-9, still Bb`.
    pub still: bool,
}

/// Counts that are played as others are. Strokes on the same line stand in place of what they replace.
#[derive(Debug, Clone, PartialEq)]
pub struct Same {
    /// Absent: the whole pattern.
    pub counts: Option<CountSpan>,
    pub of: SameOf,
    /// Only the right hand is the same; the chord is another or stays open.
    pub right_hand_only: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub enum SameOf {
    /// Counts of the pattern at hand.
    Counts(CountSpan),
    /// The core.
    Core,
    /// What was written just before.
    Before,
}

/// A word of the writer's own, defined in the note.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnWord {
    /// As written: `gp`, `G!`, `palm`.
    pub word: String,
    pub meaning: Meaning,
    /// Fingers that go with it: `gp = golpe w/ a`.
    pub fingers: Vec<Finger>,
    /// Strings that it is always played on.
    pub strings: Vec<u8>,
}

/// What is known around the line. `LineContext::default()` knows nothing.
#[derive(Debug, Clone, Default)]
pub struct LineContext<'a> {
    /// The count that a line beginning with `&` belongs to: the last one written.
    pub count: Option<i64>,
    /// Counts in one round, where known: tells how many counts "12-2" covers.
    pub beats: Option<i64>,
    /// The count that a round begins on, when it is not 1: counts may then run 12, 1, 2.
    pub first: Option<i64>,
    /// Pulses in each count, where counts are uneven: decides what `3 & a` in a row of counts means.
    pub lengths: &'a [i64],
    /// Words that the note has defined.
    pub own_words: &'a [OwnWord],
    /// Notes to a count, where a passage was announced ("four to the beat").
    pub per_count: Option<i64>,
    /// The string of a passage ("run on s1").
    pub string: Option<GuitarString>,
    /// Columns that stood in front of the first line and are cut off (its time stamp): rows are aligned by column.
    pub indent: usize,
}
