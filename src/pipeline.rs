//! The whole journey on one screen: notes folder, lessons, findings.
//!
//! The only user of rayon. Lessons are read side by side and stay in the order of the folder.

use std::path::Path;

use rayon::prelude::*;

use crate::checks::{self, Judged};
use crate::failure::Failure;
use crate::findings::Finding;
use crate::intake::{self, Folder, Note};
use crate::music::lesson::Lesson;
use crate::reading;
use crate::text::FileId;

/// A notes folder, read and judged.
#[derive(Debug, Default)]
pub struct Review {
    pub folder: Folder,
    /// In the order of the folder's names.
    pub lessons: Vec<Lesson>,
    /// Sorted by file and place.
    pub findings: Vec<Finding>,
    /// Findings that a note asks to let stand, with its reason.
    pub let_stand: Vec<(Finding, String)>,
}

/// Told each time a lesson is done: how many are, and of how many.
pub type Progress<'a> = &'a (dyn Fn(usize, usize) + Sync);

/// Reads and judges a folder of notes, or one note beside the others in its folder.
pub fn review(path: &Path) -> Result<Review, Failure> {
    review_telling(path, &|_, _| {})
}

pub fn review_telling(path: &Path, progress: Progress) -> Result<Review, Failure> {
    if path.is_dir() {
        let folder = intake::load(path)?;
        let lessons = read_lessons(&folder, progress);
        let judged = checks::judge(&folder, &lessons);
        Ok(reviewed(folder, lessons, judged))
    } else {
        let (folder, file) = load_beside(path)?;
        let lessons = read_lessons(&folder, progress);
        let judged = checks::judge(&folder, &lessons);
        let mut review = reviewed(folder, lessons, judged);
        review.findings.retain(|finding| finding.place.file == file);
        review.let_stand.retain(|(finding, _)| finding.place.file == file);
        Ok(review)
    }
}

/// The lesson that a note belongs to, read with the other notes of that lesson.
pub fn read_note(path: &Path) -> Result<(Folder, Lesson), Failure> {
    let (folder, file) = load_beside(path)?;
    let lesson = lesson_notes(&folder)
        .into_iter()
        .find(|(_, notes)| notes.iter().any(|note| note.file == file))
        .map(|(id, notes)| read_lesson(&folder, &id, &notes))
        .unwrap_or_default();
    Ok((folder, lesson))
}

fn reviewed(folder: Folder, lessons: Vec<Lesson>, judged: Judged) -> Review {
    let mut findings = folder.findings.clone();
    findings.extend(judged.findings);
    findings.sort();
    findings.dedup();
    Review {
        folder,
        lessons,
        findings,
        let_stand: judged.let_stand,
    }
}

fn read_lessons(folder: &Folder, progress: Progress) -> Vec<Lesson> {
    let groups = lesson_notes(folder);
    let done = std::sync::atomic::AtomicUsize::new(0);
    let read = |(id, notes): &(String, Vec<&Note>)| {
        let lesson = read_lesson(folder, id, notes);
        progress(
            done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1,
            groups.len(),
        );
        lesson
    };
    groups.par_iter().map(read).collect()
}

/// The notes of each lesson, under the lesson's address.
fn lesson_notes(folder: &Folder) -> Vec<(String, Vec<&Note>)> {
    let notes = |indices: Vec<usize>| {
        indices
            .into_iter()
            .filter_map(|index| folder.notes.get(index))
            .collect()
    };
    let lessons = intake::lessons(folder).into_iter();
    lessons.map(|lesson| (lesson.id, notes(lesson.notes))).collect()
}

/// The address is the folder's to give: two lessons of one name have two.
fn read_lesson(folder: &Folder, id: &str, notes: &[&Note]) -> Lesson {
    Lesson {
        id: id.to_owned(),
        ..reading::read_lesson(folder, notes)
    }
}

/// The folder that a note stands in, with the note's file: shown under the name that was typed.
fn load_beside(note: &Path) -> Result<(Folder, FileId), Failure> {
    let unusable = |reason: &str| Failure::Unreadable {
        path: note.to_owned(),
        reason: reason.to_owned(),
    };
    if !note.exists() {
        return Err(unusable("there is no such file"));
    }
    let name = note.file_name().and_then(|name| name.to_str());
    let name = name.ok_or_else(|| unusable("the file's name is not text"))?;
    let beside = note.parent().filter(|parent| !parent.as_os_str().is_empty());
    let mut folder = intake::load(beside.unwrap_or(Path::new(".")))?;
    if let Some((_, reason)) = folder.skipped.iter().find(|(skipped, _)| skipped == name) {
        return Err(unusable(reason));
    }
    let source = folder.files.iter_mut().find(|source| source.name == name);
    let source = source.ok_or_else(|| unusable("it is not a note"))?;
    source.name = note.display().to_string();
    let file = source.id;
    Ok((folder, file))
}
