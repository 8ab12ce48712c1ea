use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::Folder;
use super::course::read_course;
use super::decode::{Decoded, LARGEST, decode};
use super::kinds::read_name;
use super::lessons::address_findings;
use super::read_note::read_note;
use super::stretches::{seal_stretches, untimed_findings};
use super::walk::{Found, reason, walk};
use crate::failure::Failure;
use crate::findings::{Finding, Severity};
use crate::text::{FileId, SourceText, Span};

/// The teacher's own words, and palos, at the top of the notes folder.
pub(super) const WORDS: &str = "words.toml";
pub(super) const PALOS: &str = "palos.toml";
/// What the course is called.
const COURSE: &str = "course.toml";

pub(super) fn load_folder(root: &Path) -> Result<Folder, Failure> {
    let mut folder = Folder {
        root: root.to_path_buf(),
        ..Folder::default()
    };
    for found in walk(root)? {
        match found {
            Found::File { path, name, bytes } => folder.take_file(&path, name, bytes),
            Found::Skipped { name, reason } => folder.skipped.push((name, reason)),
            Found::Trouble { name, rule, message } => {
                folder.add_trouble(name, rule, message, "");
            }
        }
    }
    folder.finish()?;
    Ok(folder)
}

impl Folder {
    fn take_file(&mut self, path: &Path, name: String, bytes: u64) {
        match name.as_str() {
            WORDS => self.words = self.read_text(path, name, bytes),
            PALOS => self.palos = self.read_text(path, name, bytes),
            COURSE => self.take_course(path, name, bytes),
            _ => self.take_note(path, name, bytes),
        }
    }

    fn take_course(&mut self, path: &Path, name: String, bytes: u64) {
        if let Some(source) = self.read_text(path, name, bytes) {
            let (head, finding) = read_course(&source);
            self.course = head;
            self.findings.extend(finding);
        }
    }

    /// Reads a file as a note, or says why it is none.
    pub(super) fn take_note(&mut self, path: &Path, name: String, bytes: u64) {
        let says = match read_name(path) {
            Ok(says) => says,
            Err(reason) => return self.skipped.push((name, reason)),
        };
        let Some(source) = self.read_text(path, name, bytes) else {
            return;
        };
        let (note, findings) = read_note(&source, says);
        self.notes.extend(note);
        self.findings.extend(findings);
    }

    /// The text of a file, kept under its id. None, and a finding, when it cannot be read.
    pub(super) fn read_text(&mut self, path: &Path, name: String, bytes: u64) -> Option<SourceText> {
        if bytes > LARGEST {
            let message = format!(
                "this file has {} MB, far more than any note; it is left out",
                bytes / 1_000_000
            );
            self.add_trouble(
                name,
                "file-too-large",
                message,
                "Move it out of the notes folder, or part it",
            );
            return None;
        }
        let read = match fs::read(path) {
            Ok(read) => read,
            Err(error) => {
                let message = format!("this file cannot be read: {}", reason(&error));
                self.add_trouble(name, "file-not-readable", message, "");
                return None;
            }
        };
        match decode(read) {
            Decoded::Text(text) => {
                let source = SourceText::new(self.next_id(), name, text);
                self.files.push(source.clone());
                Some(source)
            }
            Decoded::Fault(fault) => {
                let source = SourceText::new(self.next_id(), name, fault.shown);
                let span = Span::new(fault.at, fault.at);
                self.add_finding(source, span, fault.rule, fault.message, &fault.help);
                None
            }
        }
    }

    /// A finding about a file as a whole, whose text is not known.
    fn add_trouble(&mut self, name: String, rule: &str, message: String, help: &str) {
        let source = SourceText::new(self.next_id(), name, "");
        self.add_finding(source, Span::new(0, 0), rule, message, help);
    }

    fn add_finding(&mut self, source: SourceText, span: Span, rule: &str, message: String, help: &str) {
        self.findings.push(Finding {
            place: source.place(span, None),
            severity: Severity::Error,
            rule: rule.to_owned(),
            message,
            help: help.to_owned(),
            also: Vec::new(),
        });
        self.files.push(source);
    }

    fn next_id(&self) -> FileId {
        FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX))
    }

    /// What can be said only when all notes are there.
    pub(super) fn finish(&mut self) -> Result<(), Failure> {
        if self.notes.is_empty() {
            return Err(no_note(self));
        }
        let recordings: BTreeSet<&str> = self
            .notes
            .iter()
            .filter_map(|note| note.head_value("recording"))
            .collect();
        self.skipped.retain(|(name, _)| !recordings.contains(name.as_str()));
        seal_stretches(self);
        self.findings.extend(untimed_findings(self));
        self.findings.extend(address_findings(self));
        Ok(())
    }
}

/// Most names that a message lists.
const LISTED: usize = 5;

fn no_note(folder: &Folder) -> Failure {
    let name = |finding: &Finding| {
        folder
            .files
            .get(finding.place.file.0 as usize)
            .map_or("", |file| file.name.as_str())
    };
    let failed = folder
        .findings
        .iter()
        .map(|finding| format!("\"{}\": {}", name(finding), finding.message));
    let skipped = folder
        .skipped
        .iter()
        .map(|(name, reason)| format!("\"{name}\": {reason}"));
    let reasons: Vec<String> = failed.chain(skipped).collect();
    let root: PathBuf = folder.root.clone();
    if reasons.is_empty() {
        return Failure::Refused(format!(
            "{}: this folder is empty; put a lesson's notes into it as a .txt, .md, .vtt or .srt file",
            root.display()
        ));
    }
    let more = reasons.len().saturating_sub(LISTED);
    let more = if more > 0 {
        format!("\n  and {more} more")
    } else {
        String::new()
    };
    let listed: Vec<&str> = reasons.iter().take(LISTED).map(String::as_str).collect();
    Failure::Refused(format!(
        "{}: there is no note in this folder that can be read\n  {}{more}",
        root.display(),
        listed.join("\n  ")
    ))
}
