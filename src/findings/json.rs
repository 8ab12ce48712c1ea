//! Findings for programs: a contract, published as a JSON Schema.

use serde::{Deserialize, Serialize};

use super::{Finding, Severity};
use crate::text::{ClockTime, SourceText};

/// What `check --format json` prints.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Report {
    pub findings: Vec<ReportedFinding>,
}

/// One finding, as a program reads it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReportedFinding {
    /// The note, relative to the notes folder, with `/`; as typed when one note was checked.
    pub file: String,
    /// From 1; 0 when the finding is about the file as a whole.
    pub line: u32,
    /// From 1, counted in letters as a reader counts them; 0 when the finding is about the file as a whole.
    pub column: u32,
    /// The moment in the recording, `m:ss` or `h:mm:ss`; null when the note gives none.
    pub time: Option<String>,
    pub severity: Severity,
    /// The id of the check: `compasario check --explain ID` explains it.
    pub rule: String,
    /// What does not add up, in one sentence.
    pub message: String,
    /// What would put it right; empty when there is nothing to suggest.
    pub help: String,
}

/// The findings with the names of their files.
pub fn report(findings: &[Finding], files: &[SourceText]) -> Report {
    let reported = |finding: &Finding| ReportedFinding {
        file: super::file_name(finding.place.file, files).to_owned(),
        line: finding.place.line,
        column: finding.place.column,
        time: finding.place.time.as_ref().map(ClockTime::to_string),
        severity: finding.severity,
        rule: finding.rule.clone(),
        message: finding.message.clone(),
        help: finding.help.clone(),
    };
    Report {
        findings: findings.iter().map(reported).collect(),
    }
}
