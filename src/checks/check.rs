use crate::findings::{Finding, Severity};
use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::text::Place;

/// One check: a row of the table.
#[derive(Debug)]
pub struct Check {
    /// Names what is flagged, not the cure; the same word as its file and its fixture.
    pub id: &'static str,
    /// How serious it is as a rule; a check may say that a case is lighter.
    pub severity: Severity,
    pub family: Family,
    pub about: About,
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
    /// As it stands over a group of checks.
    pub fn title(self) -> &'static str {
        match self {
            Family::Sums => "sums",
            Family::Compas => "compás",
            Family::Chords => "chords and notes",
            Family::LeftHand => "left hand",
            Family::RightHand => "right hand",
            Family::Joins => "joins",
            Family::Text => "text",
            Family::Course => "course",
            Family::Files => "files",
        }
    }
}

/// What `check --explain ID` prints.
#[derive(Debug, Clone, Copy)]
pub struct About {
    /// What it finds, in one or two sentences.
    pub finds: &'static str,
    /// Why it matters to a player.
    pub matters: &'static str,
    /// A note that trips it.
    pub trips: &'static str,
    /// The same, put right.
    pub right: &'static str,
}

/// What a check looks at.
#[derive(Debug, Clone, Copy)]
pub enum Run {
    /// One lesson by itself.
    Lesson(fn(&Lesson, &Context) -> Vec<Finding>),
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

    /// The name of a place's file, as shown to people.
    pub fn file_name(&self, place: &Place) -> &str {
        let file = self.folder.files.get(place.file.0 as usize);
        file.map_or("", |source| source.name.as_str())
    }
}

impl Check {
    /// A finding of this check. The message names the two things in conflict and has no full stop.
    pub(crate) fn found(&self, place: Place, message: String, help: String) -> Finding {
        Finding {
            place,
            severity: self.severity,
            rule: self.id.to_owned(),
            message,
            help,
            also: Vec::new(),
        }
    }
}

impl Finding {
    /// The same finding, as serious as this case is.
    pub(super) fn weighing(self, severity: Severity) -> Self {
        Self { severity, ..self }
    }

    /// The same finding with a second place that has to do with it.
    pub(super) fn see_also(mut self, place: Place, why: impl Into<String>) -> Self {
        self.also.push((place, why.into()));
        self
    }
}
