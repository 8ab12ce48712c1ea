use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::Folder;
use super::course::read_course;
use super::file::{Role, Taken, Waiting, take};
use super::kinds::read_name;
use super::lessons::address_findings;
use super::stretches::{seal_stretches, untimed_findings};
use super::walk::{Found, reason, walk};
use crate::failure::Failure;
use crate::findings::Finding;
use crate::text::FileId;

/// The teacher's own words, and palos, at the top of the notes folder.
pub(super) const WORDS: &str = "words.toml";
pub(super) const PALOS: &str = "palos.toml";
/// What the course is called.
const COURSE: &str = "course.toml";
/// What earlier builds have to be remembered by. It is no note, and gets no number among them: that would move the others.
pub const HISTORY: &str = "history.jsonl";

pub(super) fn load_folder(root: &Path) -> Result<Folder, Failure> {
    let mut folder = Folder {
        root: root.to_path_buf(),
        ..Folder::default()
    };
    let mut waiting = Vec::new();
    for found in walk(root)? {
        match found {
            Found::File { path, name, .. } if name == HISTORY => folder.history = history(&path)?,
            Found::File { path, name, bytes } => waiting.extend(folder.sort_out(path, name, bytes)),
            Found::Skipped { name, reason } => folder.skipped.push((name, reason)),
            Found::Trouble { name, rule, why } => waiting.push(Waiting {
                path: PathBuf::new(),
                name,
                bytes: 0,
                role: Role::Trouble(rule, why),
            }),
        }
    }
    let numbered: Vec<(FileId, Waiting)> = (0..).map(FileId).zip(waiting).collect();
    let taken: Vec<Taken> = numbered
        .into_par_iter()
        .map(|(id, waiting)| take(id, waiting))
        .collect();
    for taken in taken {
        folder.receive(taken);
    }
    folder.finish()?;
    Ok(folder)
}

/// A build that goes on without the history it was given would lose addresses: better none.
fn history(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|error| Failure::Unreadable {
        path: path.to_path_buf(),
        reason: reason(&error),
    })
}

impl Folder {
    /// What a file is by its name; None, and a reason, when it is nothing to read.
    fn sort_out(&mut self, path: PathBuf, name: String, bytes: u64) -> Option<Waiting> {
        let role = match (name.as_str(), read_name(&path)) {
            (WORDS, _) => Role::Words,
            (PALOS, _) => Role::Palos,
            (COURSE, _) => Role::Course,
            (_, Ok(says)) => Role::Note(says),
            (_, Err(reason)) => {
                self.skipped.push((name, reason));
                return None;
            }
        };
        Some(Waiting {
            path,
            name,
            bytes,
            role,
        })
    }

    /// Reads one more file.
    pub(super) fn take(&mut self, waiting: Waiting) {
        let id = FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX));
        self.receive(take(id, waiting));
    }

    fn receive(&mut self, taken: Taken) {
        let source = taken.source;
        match taken.role {
            Role::Words if taken.is_read => self.words = Some(source.clone()),
            Role::Palos if taken.is_read => self.palos = Some(source.clone()),
            Role::Course if taken.is_read => {
                let (head, finding) = read_course(&source);
                self.course = head;
                self.findings.extend(finding);
            }
            Role::Note(_) | Role::Words | Role::Palos | Role::Course | Role::Trouble(..) => {}
        }
        self.notes.extend(taken.note);
        self.findings.extend(taken.findings);
        self.files.push(source);
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
