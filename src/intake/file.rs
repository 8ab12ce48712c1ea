use std::fs;
use std::path::{Path, PathBuf};

use super::Note;
use super::decode::{Decoded, LARGEST, decode};
use super::kinds::NameSays;
use super::read_note::read_note;
use super::walk::reason;
use crate::findings::{Finding, Holes, Severity, Words};
use crate::text::{FileId, Language, SourceText, Span};

/// A file that may be read, and what it is.
#[derive(Debug, Clone)]
pub(super) struct Waiting {
    pub(super) path: PathBuf,
    /// As people see it.
    pub(super) name: String,
    pub(super) bytes: u64,
    pub(super) role: Role,
}

#[derive(Debug, Clone)]
pub(super) enum Role {
    Note(NameSays),
    /// `words.toml`
    Words,
    /// `palos.toml`
    Palos,
    /// `course.toml`
    Course,
    /// Something that could not be looked at: the rule, and why.
    Trouble(&'static str, String),
}

/// A file that was read, as far as it could be.
pub(super) struct Taken {
    pub(super) source: SourceText,
    pub(super) role: Role,
    /// False when its text is not known.
    pub(super) is_read: bool,
    pub(super) note: Option<Note>,
    pub(super) findings: Vec<Finding>,
}

/// Reads a file. It depends on nothing but the file, so files may be read side by side.
pub(super) fn take(id: FileId, waiting: Waiting) -> Taken {
    let Waiting {
        path,
        name,
        bytes,
        role,
    } = waiting;
    let language = match &role {
        Role::Note(says) => says.language.as_deref().map_or(Language::English, Language::of),
        _ => Language::English,
    };
    let words = Words::of(language);
    let source = match &role {
        Role::Trouble(rule, why) => {
            let own = words.say("folder-leads-back", "notes_folder", "", &[]);
            let up = if why.is_empty() { own } else { format!("\"{why}\"") };
            Err(trouble(words, id, name, rule, &[("why", why), ("up", &up)]))
        }
        Role::Note(_) | Role::Words | Role::Palos | Role::Course => read_text(words, id, &path, name, bytes),
    };
    match source {
        Err(unread) => {
            let (source, finding) = *unread;
            Taken {
                source,
                role,
                is_read: false,
                note: None,
                findings: vec![finding],
            }
        }
        Ok(source) => {
            let (note, findings) = match &role {
                Role::Note(says) => read_note(&source, says.clone()),
                Role::Words | Role::Palos | Role::Course | Role::Trouble(..) => (None, Vec::new()),
            };
            Taken {
                source,
                role,
                is_read: true,
                note,
                findings,
            }
        }
    }
}

/// What can be shown of a file that cannot be read, and why it cannot.
type Unread = Box<(SourceText, Finding)>;

fn read_text(words: &Words, id: FileId, path: &Path, name: String, bytes: u64) -> Result<SourceText, Unread> {
    if bytes > LARGEST {
        let megabytes = bytes / 1_000_000;
        return Err(trouble(words, id, name, "file-too-large", &[("megabytes", &megabytes)]));
    }
    let read = match fs::read(path) {
        Ok(read) => read,
        Err(error) => {
            let why = reason(&error);
            return Err(trouble(words, id, name, "file-not-readable", &[("why", &why)]));
        }
    };
    match decode(read) {
        Decoded::Text(text) => Ok(SourceText::new(id, name, text)),
        Decoded::Fault(fault) => {
            let place = SourceText::new(id, name, fault.shown);
            let span = Span::new(fault.at, fault.at);
            let byte = format!("{:#04x}", fault.byte);
            let letter = fault.letter.map(String::from).unwrap_or_default();
            let holes: Holes = &[("at", &fault.number), ("byte", &byte), ("letter", &letter)];
            let at = place.place(span, None);
            let finding = Finding::worded(words, fault.rule, Severity::Error, at, (fault.case, ""), holes);
            Err(Box::new((place, finding)))
        }
    }
}

/// A finding about a file as a whole, whose text is not known.
fn trouble(words: &Words, id: FileId, name: String, rule: &str, holes: Holes) -> Unread {
    let source = SourceText::new(id, name, "");
    let place = source.place(Span::new(0, 0), None);
    let finding = Finding::worded(words, rule, Severity::Error, place, ("", ""), holes);
    Box::new((source, finding))
}
