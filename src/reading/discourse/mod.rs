//! What statements mean together. All that carries over between sentences is here: the pattern and count being told,
//! the chord in force, a division that goes on, the finger every golpe is played with.

/// Chords and their shapes.
mod chords;

/// From what was gathered to a lesson.
mod finish;

/// Where a stroke falls.
mod place;

/// A clause about strokes takes effect.
mod told;

/// Notes that follow each other evenly.
mod runs;

/// Counts played as others are.
mod copies;

/// Chords named among strokes.
mod chord_told;

/// Something sounds.
mod event;

/// When it sounds.
mod moment;

/// A stroke joins its pattern.
mod add;

/// A stroke in a musician's words.
mod describe;

use super::context::Context;
use super::statement::{Passage, Statement, StringSaid, Told};
use crate::music::chord::ChordName;
use crate::music::hand::Finger;
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::lesson::{Conflict, Lesson, Reading, Said};
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
    /// In which sentence it was told.
    pub sentence: usize,
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
    pub context: Context,
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
    pub string: Option<u8>,
    /// Thirds in every count, said of the palo or lesson.
    pub parts: Option<i64>,
    pub chord_spans: Vec<(ChordName, i64, i64, Place)>,
    pub shape_chord: Option<(ChordName, Place)>,
    pub shape: [StringSaid; 6],
    pub sentence: usize,
    /// A count was named in the sentence being read.
    pub sentence_has_count: bool,
    /// Strokes told without a moment since the last one with one, in this sentence.
    pub loose: usize,
    /// Something was placed in this sentence.
    pub placed_in_sentence: bool,
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
    /// The counts of the typed line before.
    pub line_before: Option<(i64, i64)>,
}

impl Discourse {
    pub fn new(context: Context) -> Self {
        Self {
            lesson: Lesson::default(),
            context,
            patterns: Vec::new(),
            current: None,
            cursor: None,
            previous_count: None,
            last: None,
            run: None,
            chord: None,
            golpe_fingers: Vec::new(),
            string: None,
            parts: None,
            chord_spans: Vec::new(),
            shape_chord: None,
            shape: [StringSaid::NotSaid; 6],
            sentence: 0,
            sentence_has_count: false,
            loose: 0,
            placed_in_sentence: false,
            sentence_place: Place::default(),
            focus: None,
            own_words: Vec::new(),
            line_before: None,
            copied_span: None,
            likened: false,
            slurs_to_come: None,
            shape_sentence: 0,
        }
    }

    /// A sentence begins.
    pub fn open_sentence(&mut self, place: Place, opens_line: bool) {
        self.sentence += 1;
        self.sentence_has_count &= self.context.typed && !opens_line;
        self.loose = 0;
        self.likened = false;
        self.slurs_to_come = None;
        self.placed_in_sentence = false;
        self.sentence_place = place;
        self.focus = None;
        if self.context.typed {
            self.run = None;
        }
    }

    pub fn in_pattern(&self) -> bool {
        self.patterns
            .iter()
            .any(|pattern| !pattern.strokes.is_empty() || pattern.role != Role::Core)
    }

    /// A variation has been announced, and neither its counts nor a stroke of it told.
    pub fn fresh_variation(&self) -> bool {
        self.current
            .and_then(|index| self.patterns.get(index))
            .is_some_and(|pattern| pattern.role != Role::Core && pattern.span.is_none() && pattern.strokes.is_empty())
    }

    pub fn building(&mut self) -> Option<&mut Building> {
        self.current.and_then(|index| self.patterns.get_mut(index))
    }

    pub fn beats(&self) -> Option<i64> {
        self.lesson.meter.beats.as_ref().map(|beats| beats.value)
    }

    /// One thing said takes effect.
    pub fn hear(&mut self, statement: Statement, place: Place) {
        match statement {
            Statement::Palo(slug) => self.palo(slug, place),
            Statement::Beats(beats) => {
                if self.lesson.meter.beats.is_none() {
                    self.note(format!("{beats} counts in a compás"), place);
                    self.lesson.meter.beats = Some(Said::new(beats, place));
                    self.context.beats = Some(beats);
                }
            }
            Statement::First(first) => {
                if self.lesson.meter.first.is_none() {
                    self.note(format!("the round begins on {first}"), place);
                    self.lesson.meter.first = Some(Said::new(first, place));
                }
            }
            Statement::Accents(accents) => self.accents(accents, place),
            Statement::Lengths(lengths) => {
                if self.lesson.meter.lengths.is_none() {
                    self.context.thirds = true;
                    self.note("short and long counts".to_owned(), place);
                    self.lesson.meter.lengths = Some(Said::new(lengths, place));
                }
            }
            Statement::Tempo(tempo) => {
                if self.lesson.tempo.is_none() {
                    self.note(format!("tempo {} to {}", tempo.low, tempo.high), place);
                    self.lesson.tempo = Some(Said::new(tempo, place));
                }
            }
            Statement::Key(key) => {
                if self.lesson.key.is_none() {
                    self.note(format!("key {} {:?}", key.tonic, key.mode).to_lowercase(), place);
                    self.lesson.key = Some(Said::new(key, place));
                }
            }
            Statement::Capo(fret) => {
                if self.lesson.capo.is_none() {
                    self.note(format!("capo on fret {fret}"), place);
                    self.lesson.capo = Some(Said::new(fret, place));
                }
            }
            Statement::Repeats(times) => {
                if self.lesson.repeats.is_none() {
                    self.note(format!("{times} times round"), place);
                    self.lesson.repeats = Some(Said::new(times, place));
                }
            }
            Statement::Shape {
                chord,
                frets,
                fingers: _,
            } => self.shape_told(chord, frets, place),
            Statement::WholeShape { chord, shape, fingers } => self.whole_shape(chord, shape, fingers, place),
            Statement::ChordsNamed(names) => {
                for name in names {
                    self.use_chord(&name, place);
                }
            }
            Statement::ChordOver {
                chord,
                first,
                last,
                strokes_follow,
            } => self.chord_over(chord, first, last, strokes_follow, place),
            Statement::Begin { role, name, number } => self.begin(role, name, number, place),
            Statement::Replaces { first, last } => self.replaces(first, last, place),
            Statement::RunsOn => {
                if let Some(building) = self.building().filter(|building| building.role != Role::Core) {
                    building.runs_on = true;
                    self.note("runs on past the end".to_owned(), place);
                }
            }
            Statement::Define { alias, action, fingers } => {
                self.note(format!("{} stands for {action:?}", alias.join("")), place);
                self.context.aliases.push((alias, action, fingers));
            }
            Statement::Passage(passage) => self.passage(passage, place),
            Statement::Told(told) => self.told(&told, place),
            Statement::Parts(parts) => {
                self.context.thirds |= parts == 3;
                self.parts = Some(parts);
                self.note(format!("each count has {parts} parts"), place);
            }
            Statement::Reference {
                target,
                words,
                announced,
            } => {
                self.lesson.links.push(crate::music::lesson::CrossReference {
                    target,
                    words,
                    announced,
                    place,
                });
            }
        }
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

    fn palo(&mut self, slug: String, place: Place) {
        if self.lesson.palo.is_none() {
            self.note(format!("palo: {slug}"), place);
            self.lesson.palo = Some(Said::new(slug, place));
        }
    }

    fn accents(&mut self, accents: Vec<Position>, place: Place) {
        for accent in accents {
            let known = self.lesson.meter.accents.iter().any(|known| known.value == accent);
            if !known {
                self.lesson.meter.accents.push(Said::new(accent, place));
            }
        }
        self.lesson.meter.accents.sort_by_key(|accent| accent.value);
        let list: Vec<String> = self
            .lesson
            .meter
            .accents
            .iter()
            .map(|accent| accent.value.to_string())
            .collect();
        self.note(format!("accents on {}", list.join(", ")), place);
    }

    fn begin(&mut self, role: Role, name: String, number: Option<i64>, place: Place) {
        self.run = None;
        if role == Role::Core {
            if let Some(core) = self.patterns.iter().position(|pattern| pattern.role == Role::Core) {
                self.current = Some(core);
                return;
            }
        } else if let Some(building) = self
            .building()
            .filter(|building| building.role != Role::Core && building.strokes.is_empty())
        {
            if role != Role::Variation || building.number.is_none() {
                building.name = name;
                building.role = if role == Role::Variation { building.role } else { role };
                building.number = building.number.or(number);
            }
            return;
        }
        self.note(format!("{name} begins"), place);
        self.start(role, name, number, place);
    }

    pub fn start(&mut self, role: Role, name: String, number: Option<i64>, place: Place) {
        self.close_shape(place);
        self.patterns.push(Building {
            role,
            name,
            number,
            span: None,
            runs_on: false,
            strokes: Vec::new(),
            changes: Vec::new(),
            left: Vec::new(),
            claims: Vec::new(),
            passages: Vec::new(),
            division: None,
            place,
        });
        self.current = Some(self.patterns.len() - 1);
        self.cursor = None;
        self.last = None;
        self.string = None;
        self.chord = None;
    }

    fn replaces(&mut self, first: i64, last: i64, place: Place) {
        if !self.in_pattern() {
            return;
        }
        let fresh = self.building().is_some_and(|building| {
            building.role != Role::Core && building.strokes.is_empty() && building.span.is_none()
        });
        let same = self
            .building()
            .is_some_and(|building| building.role != Role::Core && building.span == Some(CountSpan { first, last }));
        if same {
            return;
        }
        if !fresh {
            let open = self
                .building()
                .is_some_and(|building| building.role != Role::Core && building.strokes.is_empty());
            if open {
                return;
            }
            let name = if self.context.language == super::lexicon::Language::Spanish {
                "variación"
            } else {
                "variation"
            };
            self.start(Role::Variation, name.to_owned(), None, place);
        }
        if let Some(building) = self.building() {
            building.span = Some(CountSpan { first, last });
        }
        self.cursor = Some(first);
        self.note(format!("takes the place of {first}-{last}"), place);
    }

    fn passage(&mut self, passage: Passage, place: Place) {
        if passage.golpe {
            self.golpe_fingers.clone_from(&passage.fingers);
            self.note("the finger of every golpe".to_owned(), place);
            return;
        }
        self.context.alternating = passage.alternating;
        match self.building() {
            Some(building) => building.passages.push(passage),
            None => {
                let name = if self.context.language == super::lexicon::Language::Spanish {
                    "base"
                } else {
                    "core"
                };
                self.start(Role::Core, name.to_owned(), None, place);
                if let Some(building) = self.building() {
                    building.passages.push(passage);
                }
            }
        }
        self.note("said of the whole passage".to_owned(), place);
    }

    /// The pattern that a stroke belongs to; a core begins by itself.
    pub fn pattern_for_stroke(&mut self, place: Place) -> usize {
        if let Some(current) = self.current {
            return current;
        }
        let name = if self.context.language == super::lexicon::Language::Spanish {
            "base"
        } else {
            "core"
        };
        self.start(Role::Core, name.to_owned(), None, place);
        self.current.unwrap_or(0)
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

/// A told clause with nothing but a moment moves the talk there.
pub fn only_moves(told: &Told) -> bool {
    told.is_blank() && (told.when.is_some() || told.span.is_some())
}
