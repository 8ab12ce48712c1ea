use crate::findings::{Finding, Holes, Severity, Words};
use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::{Lesson, Said};
use crate::music::palo::PaloTable;
use crate::music::remark::Remark;
use crate::text::{Language, Place};

/// One check: a row of the table.
#[derive(Debug)]
pub struct Check {
    /// Names what is flagged, not the cure; the same word as its file and its fixture.
    pub id: &'static str,
    /// How serious it is as a rule; a check may say that a case is lighter.
    pub severity: Severity,
    pub family: Family,
    pub example: Example,
    pub run: Run,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    Sums,
    Compas,
    Chords,
    LeftHand,
    RightHand,
    Joins,
    Text,
    Course,
    Files,
}

impl Family {
    /// As it stands over a group of checks: the key of its words.
    pub fn key(self) -> &'static str {
        match self {
            Family::Sums => "family_sums",
            Family::Compas => "family_compas",
            Family::Chords => "family_chords",
            Family::LeftHand => "family_left-hand",
            Family::RightHand => "family_right-hand",
            Family::Joins => "family_joins",
            Family::Text => "family_text",
            Family::Course => "family_course",
            Family::Files => "family_files",
        }
    }
}

/// A note that trips a check, and the same put right. What it finds and why it matters stand in `findings.*.toml`.
#[derive(Debug, Clone, Copy)]
pub struct Example {
    pub trips: &'static str,
    pub right: &'static str,
}

/// What a check looks at.
#[derive(Debug, Clone, Copy)]
pub enum Run {
    /// One lesson by itself.
    Lesson(fn(&Lesson, &Context) -> Vec<Finding>),
    /// One thing that a text remarks, and the lesson that it is held against.
    Remark(fn(&Lesson, &Said<Remark>) -> Option<Finding>),
    /// All lessons together.
    Course(fn(&[Lesson], &Context) -> Vec<Finding>),
    /// It is found while something else is done, and explained here.
    Elsewhere,
}

/// What is known beside the lesson that is looked at.
pub struct Context<'a> {
    pub folder: &'a Folder,
    pub lessons: &'a [Lesson],
    pub palos: &'a PaloTable,
}

impl<'a> Context<'a> {
    pub fn new(folder: &'a Folder, lessons: &'a [Lesson], palos: &'a PaloTable) -> Self {
        Self { folder, lessons, palos }
    }

    fn note_at(&self, place: &Place) -> Option<&Note> {
        self.folder.notes.iter().find(|note| note.file == place.file)
    }

    /// True where a person typed: there, what is written is meant. Speech is looser with its numbers.
    pub fn is_typed(&self, place: &Place) -> bool {
        self.note_at(place).is_none_or(|note| note.kind != NoteKind::Spoken)
    }

    /// The words for findings about a note that no lesson is asked for.
    pub fn words_at(&self, place: &Place) -> &'static Words {
        let note = self.note_at(place);
        note.map_or(Words::of(Language::English), Note::words)
    }

    /// The name of a place's file, as shown to people.
    pub fn file_name(&self, place: &Place) -> &str {
        let file = self.folder.files.get(place.file.0 as usize);
        file.map_or("", |source| source.name.as_str())
    }
}

impl Check {
    /// A finding of this check, in the words of `findings.*.toml`: `message` and `help`, or those of the case.
    pub(crate) fn says(&self, words: &Words, place: Place, case: &str, holes: Holes) -> Finding {
        self.tells(words, place, (case, case), holes)
    }

    /// The same where the help has cases of its own: those of the message and of the help.
    pub(super) fn tells(&self, words: &Words, place: Place, cases: (&str, &str), holes: Holes) -> Finding {
        Finding::worded(words, self.id, self.severity, place, cases, holes)
    }
}

/// The words for the findings of a lesson.
pub(super) fn words_of(lesson: &Lesson) -> &'static Words {
    Words::of(Language::of(&lesson.language))
}

impl Finding {
    /// The same finding, as serious as this case is.
    pub(super) fn weighing(self, severity: Severity) -> Self {
        Self { severity, ..self }
    }

    /// The same finding with a second place that has to do with it, in the check's words `also`, or those of the case.
    pub(super) fn see_also(mut self, place: Place, case: &str, holes: Holes) -> Self {
        let why = Words::of(self.language).say(&self.rule, "also", case, holes);
        self.also.push((place, why));
        self
    }
}
