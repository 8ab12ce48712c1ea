//! 1. A folder of notes, or one note, becomes timed cues.
//!
//! Comes in: a path. Goes out: [`Folder`]: files, notes with their heads and cues, what was skipped.
//! This room never asks what a sentence means. Only here are notes read from the disk.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::findings::Finding;
use crate::text::{ClockTime, FileId, Place, SourceText, Span};

/// A notes folder, read.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Folder {
    pub root: PathBuf,
    /// Indexed by `FileId`.
    pub files: Vec<SourceText>,
    /// One entry a file that is a note, in the order of the folder's names.
    pub notes: Vec<Note>,
    /// Files that are no notes, with the reason.
    pub skipped: Vec<(String, String)>,
    /// What was wrong with the files themselves.
    pub findings: Vec<Finding>,
}

/// One file of notes. Several notes may be one lesson.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Note {
    pub file: FileId,
    pub kind: NoteKind,
    /// File name without the endings that say its kind: `tientos-despacio` for `tientos-despacio.es.spoken.txt`.
    pub stem: String,
    /// `en` or `es`, where the file name or head says so; otherwise reading finds out.
    pub language: Option<String>,
    /// The `name: value` lines on top, in order.
    pub head: Vec<HeadLine>,
    pub cues: Vec<Cue>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum NoteKind {
    /// Typed by the teacher: decides.
    Typed,
    /// A transcript of speech: adds times, fills gaps.
    Spoken,
    /// Corrections to a transcript, kept apart so that they outlive it.
    Corrections,
}

/// One `name: value` line of the head.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HeadLine {
    /// Lower case, English: a Spanish head name is translated.
    pub name: String,
    pub value: String,
    pub place: Place,
}

/// What was said or written at one time: a paragraph, a typed line, a caption.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cue {
    pub file: FileId,
    /// Line ends kept as `\n` in typed notes and as a space in captions; time stamps, tags and entities resolved; composed accents.
    pub text: String,
    /// For some bytes of `text`, the byte of the file it came from: `(in text, in file)`, sorted; between two entries it runs in step.
    pub map: Vec<(usize, usize)>,
    /// The moment written on it.
    pub time: Option<ClockTime>,
    /// When it ends, where the file says so.
    pub until: Option<ClockTime>,
    /// Moments of single words, where the file gives them: `(in text, time)`.
    pub word_times: Vec<(usize, ClockTime)>,
    pub speaker: Option<String>,
    /// Never to be published: neither its words nor what is read from it.
    pub private: bool,
}

impl Cue {
    /// The byte of the file that a byte of the cue's text came from.
    pub fn source_offset(&self, offset: usize) -> usize {
        let index = self.map.partition_point(|(at, _)| *at <= offset);
        match index.checked_sub(1).and_then(|index| self.map.get(index)) {
            Some((at, source)) => source + (offset - at),
            None => offset,
        }
    }

    pub fn source_span(&self, start: usize, end: usize) -> Span {
        let start_in_file = self.source_offset(start);
        let last = self.source_offset(end.saturating_sub(1).max(start));
        Span::new(start_in_file, (last + 1).max(start_in_file))
    }
}

/// Reads a folder of notes, or one note.
pub fn load(path: &std::path::Path) -> Result<Folder, crate::failure::Failure> {
    Err(crate::failure::Failure::Refused(format!(
        "{}: reading notes is not there yet in this version",
        path.display()
    )))
}
