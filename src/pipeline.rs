//! The whole journey on one screen: notes folder, lessons, findings.
//!
//! The only user of rayon beside the checks. Lessons are read side by side and stay in the order of the folder.

use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use crate::checks::{self, Context};
use crate::failure::Failure;
use crate::findings::Finding;
use crate::intake::{self, Folder, Note};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::reading;
use crate::text::Span;

/// A notes folder, or one note, read and judged.
#[derive(Debug)]
pub struct Review {
    pub folder: Folder,
    /// Ours, with the teacher's own over them.
    pub palos: PaloTable,
    /// In the order of the folder's names. One, when a single note was asked for.
    pub lessons: Vec<Lesson>,
    /// Sorted by file and place.
    pub findings: Vec<Finding>,
    /// Findings that a note asks to let stand, with its reason.
    pub let_stand: Vec<(Finding, String)>,
}

/// Told each time a lesson is read: how many are, and of how many.
pub type Progress<'a> = &'a (dyn Fn(usize, usize) + Sync);

/// Reads and judges a folder of notes, or one note with its folder as context.
pub fn review(path: &Path) -> Result<Review, Failure> {
    review_telling(path, &|_, _| {})
}

/// The same, telling how far it is.
pub fn review_telling(path: &Path, progress: Progress) -> Result<Review, Failure> {
    let folder = intake::load(path)?;
    let (palos, palos_finding) = palos_in_force(&folder);
    let lessons = read_lessons(&folder, progress);
    let judged = checks::judge(&Context::new(&folder, &lessons, &palos));
    let mut review = Review {
        findings: folder.findings.clone(),
        let_stand: judged.let_stand,
        folder,
        palos,
        lessons,
    };
    review.findings.extend(palos_finding);
    review.findings.extend(judged.findings);
    if let Some(asked) = review.folder.asked {
        review.findings.retain(|finding| finding.place.file == asked);
        review.let_stand.retain(|(finding, _)| finding.place.file == asked);
    }
    review.findings.sort();
    review.findings.dedup();
    Ok(review)
}

/// Every lesson of a folder, read.
pub fn read_lessons(folder: &Folder, progress: Progress) -> Vec<Lesson> {
    let groups = intake::lessons(folder);
    let done = AtomicUsize::new(0);
    let read = |group: &intake::LessonNotes| {
        let notes: Vec<&Note> = group
            .notes
            .iter()
            .filter_map(|index| folder.notes.get(*index))
            .collect();
        let mut lesson = reading::read_lesson(folder, &notes);
        lesson.id.clone_from(&group.id);
        progress(done.fetch_add(1, Ordering::Relaxed) + 1, groups.len());
        lesson
    };
    groups.par_iter().map(read).collect()
}

/// Our palos with the folder's own over them. A file of palos with a fault is left out whole, and said.
fn palos_in_force(folder: &Folder) -> (PaloTable, Option<Finding>) {
    let ours = PaloTable::ours().clone();
    let Some(own) = &folder.palos else {
        return (ours, None);
    };
    match ours.with(&own.text) {
        Ok(palos) => (palos, None),
        Err(error) => {
            let start: usize = own
                .text
                .split_inclusive('\n')
                .take(error.line.saturating_sub(1) as usize)
                .map(str::len)
                .sum();
            let end = start + own.line(error.line).len();
            let message = format!("none of this file's palos is used: {}", error.fault);
            let help = "Correct this line; the other palos of the file may be right".to_owned();
            let place = own.place(Span::new(start, end), None);
            let finding = checks::PALOS_FILE_WRONG.found(place, message, help);
            (ours, Some(finding))
        }
    }
}
