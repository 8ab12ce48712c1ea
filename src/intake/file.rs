use std::fs;
use std::path::{Path, PathBuf};

use super::Note;
use super::decode::{Decoded, LARGEST, decode};
use super::kinds::NameSays;
use super::read_note::read_note;
use super::walk::reason;
use crate::findings::{Finding, Severity};
use crate::text::{FileId, SourceText, Span};

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
    let source = match &role {
        Role::Trouble(rule, message) => Err(trouble(id, name, rule, message.clone(), "")),
        Role::Note(_) | Role::Words | Role::Palos | Role::Course => read_text(id, &path, name, bytes),
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

fn read_text(id: FileId, path: &Path, name: String, bytes: u64) -> Result<SourceText, Unread> {
    if bytes > LARGEST {
        let megabytes = bytes / 1_000_000;
        let message = format!("this file has {megabytes} MB, far more than any note; it is left out");
        let help = "Move it out of the notes folder, or part it";
        return Err(trouble(id, name, "file-too-large", message, help));
    }
    let read = match fs::read(path) {
        Ok(read) => read,
        Err(error) => {
            let message = format!("this file cannot be read: {}", reason(&error));
            return Err(trouble(id, name, "file-not-readable", message, ""));
        }
    };
    match decode(read) {
        Decoded::Text(text) => Ok(SourceText::new(id, name, text)),
        Decoded::Fault(fault) => {
            let source = SourceText::new(id, name, fault.shown);
            let span = Span::new(fault.at, fault.at);
            let finding = finding(&source, span, fault.rule, fault.message, &fault.help);
            Err(Box::new((source, finding)))
        }
    }
}

/// A finding about a file as a whole, whose text is not known.
fn trouble(id: FileId, name: String, rule: &str, message: String, help: &str) -> Unread {
    let source = SourceText::new(id, name, "");
    let finding = finding(&source, Span::new(0, 0), rule, message, help);
    Box::new((source, finding))
}

fn finding(source: &SourceText, span: Span, rule: &str, message: String, help: &str) -> Finding {
    Finding {
        place: source.place(span, None),
        severity: Severity::Error,
        rule: rule.to_owned(),
        message,
        help: help.to_owned(),
        also: Vec::new(),
    }
}
