//! What statements mean together. All that carries over between sentences is here: the pattern and count being told,
//! the chord in force, a division that goes on, the finger every golpe is played with.

/// One thing said takes effect.
mod hear;

/// Chords and their shapes.
mod chords;

/// From what was gathered to a lesson.
mod finish;

/// The prose held against the head.
mod head;

/// Where a stroke falls.
mod place;

/// A clause about strokes takes effect.
mod told;

/// A figure told again, and how many strokes it had.
mod figure_again;

/// What is taken back, and what is said instead.
mod retold;

/// What fingers of the left hand are told to do.
mod left_told;

/// Fingers of the left hand with their places.
mod fingers_told;

/// Which counts a warning is about.
mod warned;

/// Notes that follow each other evenly.
mod runs;

/// Counts played as others are.
mod copies;

/// Chords named among strokes.
mod chord_told;

/// The name of a chord, or of the note beside whose place it stands.
mod note_or_chord;

/// Something sounds.
mod event;

/// When it sounds.
mod moment;

/// Strokes outside of what the variation being told covers.
mod elsewhere;

/// A stroke joins its pattern.
mod add;

/// A row of note names under the notes just told.
mod row_of_names;

/// A row said over resolves what was left open.
mod row_said;

/// Lists that stand under one another.
mod rows;

/// A stroke in a musician's words.
mod describe;

use std::rc::Rc;

use super::context::Context;
use super::remarks::{Mentions, Points, Together};
use super::rows::Row;
use super::statement::{Passage, StringSaid};
use crate::music::chord::{ChordName, ChordShape};
use crate::music::hand::Finger;
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::lesson::{Conflict, Lesson, Reading};
use crate::music::pattern::{Claim, CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;
use crate::written::OwnWord;

/// A stroke with how it got there.
#[derive(Debug, Clone)]
pub struct Placed {
    pub stroke: Stroke,
    /// Taken over from another count.
    pub copied: bool,
    /// A note whose action was not said.
    pub tentative: bool,
    /// In which sentence it was told last.
    pub sentence: usize,
    /// In which sentence it was told first.
    pub since: usize,
}

/// A pattern while it is being told.
#[derive(Debug, Clone)]
pub struct Building {
    pub role: Role,
    pub name: String,
    pub number: Option<i64>,
    pub span: Option<CountSpan>,
    pub runs_on: bool,
    pub strokes: Vec<Placed>,
    pub changes: Vec<Change>,
    pub left: Vec<LeftEvent>,
    pub claims: Vec<Claim>,
    pub passages: Vec<Passage>,
    /// Notes to a count, said of the whole pattern.
    pub division: Option<i64>,
    /// How many strokes each of its counts is said to have, and where.
    pub each_count: Option<(i64, Place)>,
    /// Where every one of its counts is said to be filled.
    pub filled: Option<Place>,
    /// How many notes the pattern is said to have, and where.
    pub notes_said: Option<(usize, Place)>,
    pub place: Place,
}

/// Notes that follow each other evenly from a count on.
#[derive(Debug, Clone)]
pub struct Run {
    pub from: i64,
    pub counts: i64,
    pub per_count: i64,
    /// Where in the count each stands, where they are uneven.
    pub offsets: Vec<num_rational::Ratio<i64>>,
    /// How many have been told.
    pub told: i64,
    pub place: Place,
    /// The division was said; otherwise it follows from how many were told.
    pub said: bool,
}

/// The discourse state.
pub struct Discourse {
    pub lesson: Lesson,
    /// Shared with the sentence that is being read, which goes on being read with what was known when it began.
    pub context: Rc<Context>,
    pub patterns: Vec<Building>,
    pub current: Option<usize>,
    /// The count that the talk is at.
    pub cursor: Option<i64>,
    /// The count told before that.
    pub previous_count: Option<i64>,
    pub last: Option<Position>,
    pub run: Option<Run>,
    pub chord: Option<ChordName>,
    pub golpe_fingers: Vec<Finger>,
    /// "three is the thumb": a count and its finger, while the string is still to come; with the sentence it was told in.
    pub finger_waits: Option<(i64, Vec<Finger>, usize)>,
    /// The finger of every strum that names none.
    pub strum_finger: Option<Finger>,
    /// What was taken back in this sentence: what is not said anew of it holds.
    pub taken_back: Vec<Stroke>,
    /// What was said instead in this sentence.
    pub corrected: Option<Action>,
    /// The moment that a sentence named and told nothing of, and that sentence.
    pub named_before: Option<(super::moments::When, usize)>,
    /// Counts that stood by themselves in a sentence, and in which.
    pub listed: Option<(i64, i64, usize)>,
    /// A stroke was told for a moment that has another one, and went nowhere.
    pub passed_over: bool,
    /// The sentence in which something was last said to have been told wrongly.
    pub corrects_since: Option<usize>,
    pub string: Option<u8>,
    /// Thirds in every count, said of the palo or lesson.
    pub parts: Option<i64>,
    pub chord_spans: Vec<(ChordName, i64, i64, Place)>,
    pub shape_chord: Option<(ChordName, Place)>,
    pub shape: [StringSaid; 6],
    /// The chord whose shape was given at once, with the sentence: what is told behind it string by string is that shape.
    pub shape_given: Option<(ChordName, ChordShape, usize)>,
    pub sentence: usize,
    /// A count was named in the sentence being read.
    pub sentence_has_count: bool,
    /// Strokes told without a moment since the last one with one, in this sentence.
    pub loose: usize,
    /// Something was placed in this sentence.
    pub placed_in_sentence: bool,
    /// How many things have been taken in, new or known already: a sentence that adds none was not understood.
    pub taken: usize,
    /// How many of those tell of anything but the hands.
    pub stated: usize,
    pub sentence_place: Place,
    pub focus: Option<(i64, i64)>,
    /// Words that the note has defined.
    pub own_words: Vec<OwnWord>,
    /// Counts that the last "same as" filled, when there were several.
    pub copied_span: Option<(i64, i64)>,
    /// A count was said to be like another in this sentence: bare strokes behind that only describe it.
    pub likened: bool,
    /// Notes still to come of "two pull-offs".
    pub slurs_to_come: Option<(Action, i64)>,
    /// When strings of a chord were last told.
    pub shape_sentence: usize,
    /// What the note's head said.
    pub of_head: head::OfHead,
    /// The counts of the typed line before.
    pub line_before: Option<(i64, i64)>,
    /// Counts told as short or long, in pulses.
    pub lengths_told: std::collections::BTreeMap<i64, i64>,
    /// The chord whose fingers are being told, with the sentence that told them last.
    pub fingered_chord: Option<(ChordName, usize)>,
    /// Numbers that the lines of a typed note name.
    pub named: Vec<(u32, i64)>,
    /// How many accents are announced, and where.
    pub accents_announced: Option<(usize, Place)>,
    /// Things that are told first, second, third.
    pub points: Points,
    pub variations: Mentions,
    /// Variations asked for in one vuelta, and where.
    pub together: Vec<(Together, Place)>,
    /// Lists that stand under one another, until the last of them has been read.
    pub rows: Vec<(Row, Place)>,
}

impl Discourse {
    pub fn new(context: Context) -> Self {
        Self {
            lesson: Lesson::default(),
            context: Rc::new(context),
            patterns: Vec::new(),
            current: None,
            cursor: None,
            previous_count: None,
            last: None,
            run: None,
            chord: None,
            golpe_fingers: Vec::new(),
            strum_finger: None,
            taken_back: Vec::new(),
            corrected: None,
            corrects_since: None,
            passed_over: false,
            listed: None,
            named_before: None,
            finger_waits: None,
            string: None,
            parts: None,
            chord_spans: Vec::new(),
            shape_chord: None,
            shape: [StringSaid::NotSaid; 6],
            shape_given: None,
            sentence: 0,
            sentence_has_count: false,
            loose: 0,
            placed_in_sentence: false,
            taken: 0,
            stated: 0,
            sentence_place: Place::default(),
            focus: None,
            own_words: Vec::new(),
            line_before: None,
            rows: Vec::new(),
            fingered_chord: None,
            named: Vec::new(),
            accents_announced: None,
            points: Points::default(),
            variations: Mentions::default(),
            together: Vec::new(),
            lengths_told: std::collections::BTreeMap::new(),
            copied_span: None,
            likened: false,
            slurs_to_come: None,
            shape_sentence: 0,
            of_head: head::OfHead::default(),
        }
    }

    /// A sentence begins.
    pub fn open_sentence(&mut self, place: Place, opens_line: bool) {
        self.sentence += 1;
        self.sentence_has_count &= self.context.typed && !opens_line;
        self.loose = 0;
        self.taken_back.clear();
        self.passed_over = false;
        self.corrected = None;
        self.likened = false;
        self.slurs_to_come = None;
        self.placed_in_sentence = false;
        self.sentence_place = place;
        self.focus = None;
        if self.context.typed && opens_line {
            self.run = None;
        }
    }

    pub fn in_pattern(&self) -> bool {
        self.patterns
            .iter()
            .any(|pattern| !pattern.strokes.is_empty() || pattern.role != Role::Core)
    }

    /// The variation that has been announced, perhaps with its counts, and no stroke of it told.
    pub fn announced(&self) -> Option<&Building> {
        let told = self.pattern();
        told.filter(|pattern| pattern.role != Role::Core && pattern.strokes.is_empty())
    }

    /// A variation has been announced, and neither its counts nor a stroke of it told.
    pub fn fresh_variation(&self) -> bool {
        self.announced().is_some_and(|pattern| pattern.span.is_none())
    }

    /// The pattern that is being told.
    pub fn pattern(&self) -> Option<&Building> {
        self.current.and_then(|index| self.patterns.get(index))
    }

    pub fn building(&mut self) -> Option<&mut Building> {
        self.current.and_then(|index| self.patterns.get_mut(index))
    }

    pub fn beats(&self) -> Option<i64> {
        self.lesson.meter.beats.as_ref().map(|beats| beats.value)
    }

    /// What is known from here on.
    pub fn context_mut(&mut self) -> &mut Context {
        Rc::make_mut(&mut self.context)
    }

    /// Records what was understood from which words.
    pub fn note(&mut self, what: String, place: Place) {
        self.lesson.readings.push(Reading {
            what,
            place,
            sentence: self.sentence_place,
            implied: None,
        });
    }

    pub fn conflict(&mut self, about: &str, first: String, second: String, first_place: Place, place: Place) {
        self.lesson.conflicts.push(Conflict {
            about: about.to_owned(),
            first,
            second,
            first_place,
            place,
        });
    }

    pub fn core(&self) -> Option<&Building> {
        self.patterns.iter().find(|pattern| pattern.role == Role::Core)
    }

    pub fn finish(self) -> Lesson {
        finish::lesson(self)
    }
}

impl Building {
    pub fn pattern(self, strokes: Vec<Stroke>, changes: Vec<Change>, runs_on: Option<Position>) -> Pattern {
        Pattern {
            name: self.name,
            role: self.role,
            span: self.span,
            strokes,
            changes,
            left: self.left,
            runs_on,
            claims: self.claims,
            place: self.place,
        }
    }
}

/// What a pattern is called that has no name of its own.
pub fn role_name(role: Role, language: super::lexicon::Language) -> &'static str {
    let spanish = language == super::lexicon::Language::Spanish;
    match role {
        Role::Core if spanish => "base",
        Role::Core => "core",
        Role::Variation if spanish => "variación",
        Role::Variation => "variation",
        Role::Falseta => "falseta",
        Role::Llamada => "llamada",
        Role::Remate => "remate",
        Role::Cierre => "cierre",
    }
}
