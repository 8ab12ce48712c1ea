//! 1. A folder of notes, or one note, becomes timed cues.
//!
//! Comes in: a path. Goes out: [`Folder`]: files, notes with their heads and cues, what was skipped; [`lessons`] groups the notes.
//! This room never asks what a sentence means. Only here are notes read from the disk.
//! Start reading at [`load`].
//!
//! **Which files are notes.** `.txt`, `.md`, `.vtt`, `.srt`. Middle endings say the kind (`.notes`, `.spoken`, `.corrections`;
//! `.apuntes`, `.hablado`, `.correcciones`) and the language (`.en`, `.es`). A plain `.txt` is typed when it has a head, when at least
//! half of its lines are timed and the middle one has at most 100 letters, or when no line is timed and the middle one has at most 60;
//! otherwise it is a transcript. Names that begin with `.` or `_` are left alone.
//!
//! **Cues.** In a transcript a paragraph is a cue; in a typed note a timed line with the untimed lines directly below it.
//! A line without a time keeps the last one. A caption is a cue, or one for each voice in it.
//!
//! **Private.** None of this is ever published, neither the words nor what is read from them:
//! - `(private)`, `[private]` anywhere, or `private:` at the start of a line (`privado`, `privada`): from there to the end of the
//!   paragraph (the next timed or blank line), or to an end mark, if one comes before the next mark;
//! - the mark alone on its line: everything to the end mark `(end of private)`, `(public)`, `(fin de lo privado)`, `(público)`;
//! - `(private: ...)`: the parenthesis;
//! - said aloud: from "this stays between us" to "end of the private part", from "esto queda entre nosotros" to "fin de lo privado";
//! - in the head: `private: 12:40-13:05` for a stretch of the recording in all notes of the lesson, `private: all` for the note.
//!
//! What never ends stays private to the end of the note. The marks belong to what is private.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::failure::Failure;
use crate::findings::{Finding, Words};
use crate::text::{ClockTime, FileId, Language, Place, SourceText, fold};

/// A whole folder.
mod folder;

/// One file.
mod file;

/// One note and what belongs to it.
mod single;

/// Which files, in which order.
mod walk;

/// What a file's name says.
mod kinds;

/// Bytes made text.
mod decode;

/// A text's lines.
mod lines;

/// What the course is called.
mod course;

/// One file, whatever its form, as a note.
mod read_note;

/// The `name: value` lines on top.
mod head;

/// Times at the start of a line.
mod stamps;

/// Plain text, typed or spoken.
mod plain;

/// WebVTT.
mod captions;

/// SRT.
mod subrip;

/// Captions that show the line before once more.
mod rolling;

/// Tags and entities inside captions.
mod markup;

/// Who speaks.
mod speakers;

/// What is never published.
mod private;

/// The spoken marks of privacy.
mod private_words;

/// Stretches of the recording that a head calls private.
mod stretches;

/// Which notes are one lesson.
mod lessons;

/// A cue's text and the way back to its file.
mod cue;

/// A cue's text while it is gathered.
mod cue_text;

/// Findings about one file.
mod report;

/// What this room may find.
mod rules;

pub use course::CourseHead;
pub use folder::HISTORY;
pub use lessons::{LessonNotes, lessons};
pub use rules::{RULES, Rule};

/// A notes folder, read.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Folder {
    pub root: PathBuf,
    /// Indexed by `FileId`.
    pub files: Vec<SourceText>,
    /// One entry a file that is a note, in the order of the folder's names.
    pub notes: Vec<Note>,
    /// Files that are no notes and no recording that a head names, with the reason.
    pub skipped: Vec<(String, String)>,
    /// What was wrong with the files themselves.
    pub findings: Vec<Finding>,
    /// `words.toml` of the notes folder: words that the teacher adds.
    pub words: Option<SourceText>,
    /// `palos.toml` of the notes folder: palos that the teacher adds or overrides.
    pub palos: Option<SourceText>,
    /// `history.jsonl` of the notes folder: what earlier builds have to be remembered by; empty when there is none.
    pub history: String,
    /// `course.toml` of the notes folder: what the course is called.
    pub course: CourseHead,
    /// The one note that was asked for; the others in `notes` are of the same lesson.
    pub asked: Option<FileId>,
    /// Other lessons in the folder of the note that was asked for; their files are not loaded.
    pub siblings: Vec<Sibling>,
}

/// A lesson known by name only.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Sibling {
    pub id: String,
    pub title: Option<String>,
}

/// One file of notes. Several notes may be one lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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

impl Note {
    /// Captions, whose cues are a few words each: `.vtt` or `.srt`.
    pub fn is_captions(&self, folder: &Folder) -> bool {
        let file = folder.files.get(self.file.0 as usize);
        file.is_some_and(|file| file.name.ends_with(".vtt") || file.name.ends_with(".srt"))
    }

    /// The value of a head line, by its English name.
    pub fn head_value(&self, name: &str) -> Option<&str> {
        head::value(&self.head, name)
    }
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

impl NoteKind {
    /// Who is heard first within a lesson: the typed note, then corrections, then transcripts.
    fn rank(self) -> u8 {
        match self {
            NoteKind::Typed => 0,
            NoteKind::Corrections => 1,
            NoteKind::Spoken => 2,
        }
    }
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
    /// Two entries for one byte: where the run before it ends, then where the next begins.
    pub map: Vec<(usize, usize)>,
    /// The moment written on it.
    pub time: Option<ClockTime>,
    /// When it ends, where the file says so.
    pub until: Option<ClockTime>,
    /// Moments of single words, where the file gives them: `(in text, time)`.
    pub word_times: Vec<(usize, ClockTime)>,
    pub speaker: Option<String>,
    /// Never to be published: neither its words nor what is read from it. A sentence never runs over a border of privacy.
    pub private: bool,
}

/// Reads a notes folder, or a single note.
///
/// A file that cannot be read is a finding and stops nothing; a folder without a single note is a [`Failure`].
pub fn load(path: &Path) -> Result<Folder, Failure> {
    if path.is_file() {
        load_note(path)
    } else {
        folder::load_folder(path)
    }
}

/// The same, with the lessons that lie beside a single note: what only lessons together can say is told of that note.
pub fn load_in_its_folder(path: &Path) -> Result<Folder, Failure> {
    if path.is_file() {
        single::load_note(path, single::Beside::Lessons)
    } else {
        folder::load_folder(path)
    }
}

/// Reads one note, and the notes of its folder that are the same lesson: a transcript, corrections.
///
/// Its folder's own words and palos hold for it. Of other lessons there only the names are kept, in `siblings`.
pub fn load_note(path: &Path) -> Result<Folder, Failure> {
    single::load_note(path, single::Beside::Names)
}

impl Note {
    /// The words for findings about it: in the language that it says, or that most of its words are of.
    pub fn words(&self) -> &'static Words {
        let said = self.language.as_deref().map(Language::of);
        let cues = || self.cues.iter().map(|cue| cue.text.as_str());
        Words::of(said.unwrap_or_else(|| Language::of_words(cues())))
    }
}

/// `es`, `es-ES`, `Spanish`, `español` → `es`; None for a language that is not read.
fn language(said: &str) -> Option<String> {
    let folded = fold(said.trim()).text;
    let first = folded.split(['-', '_']).next().unwrap_or("");
    match first {
        "en" | "eng" | "english" | "ingles" => Some("en".to_owned()),
        "es" | "spa" | "spanish" | "espanol" | "castellano" => Some("es".to_owned()),
        _ => None,
    }
}
