//! What we have to say to the writer of a note.
//!
//! Comes in: findings made anywhere in the corridor. Goes out: text for people, JSON for programs.
//! A finding is a value; making one never stops a run. Only this room draws them.

/// Findings for people.
pub mod human;

/// Findings for programs.
pub mod json;

/// What findings say, in English and Spanish.
pub mod wording;

/// A line with the words underlined.
mod excerpt;

/// Lines of a certain width.
mod wrap;

use serde::{Deserialize, Serialize};

pub use wording::{Holes, Words};

use crate::text::{FileId, Language, Place, SourceText};

/// How serious a finding is. Ordered from light to serious.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    Note,
    Warning,
    Error,
}

/// Something that does not add up, or that was not understood, and what would put it right.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Finding {
    pub place: Place,
    pub severity: Severity,
    /// The id of the check, the same word as its file: `overlapping-spans`.
    pub rule: String,
    /// One sentence in a teacher's language, naming the two things in conflict; no full stop.
    pub message: String,
    /// What would put it right; empty when there is nothing to suggest.
    pub help: String,
    /// A second place that has to do with it, and why.
    pub also: Vec<(Place, String)>,
    /// The language it is worded in: that of the note.
    pub language: Language,
}

impl Finding {
    /// A finding in the words of its rule: `message` and `help`, or those of their cases.
    pub fn worded(
        words: &Words,
        rule: &str,
        severity: Severity,
        place: Place,
        (message, help): (&str, &str),
        holes: Holes,
    ) -> Self {
        Self {
            place,
            severity,
            rule: rule.to_owned(),
            message: words.say(rule, "message", message, holes),
            help: words.say(rule, "help", help, holes),
            also: Vec::new(),
            language: words.language,
        }
    }
}

/// How many of each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    pub errors: usize,
    pub warnings: usize,
    pub notes: usize,
}

impl Tally {
    pub fn of(findings: &[Finding]) -> Self {
        let count = |severity| findings.iter().filter(|finding| finding.severity == severity).count();
        Self {
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            notes: count(Severity::Note),
        }
    }
}

/// A file's name as shown to people; empty for a place that stands in no file.
fn file_name(file: FileId, files: &[SourceText]) -> &str {
    files.get(file.0 as usize).map_or("", |source| source.name.as_str())
}
