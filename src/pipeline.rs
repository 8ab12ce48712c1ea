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
use crate::text::{Place, SourceText, Span};

/// A notes folder, or one note, read and judged.
#[derive(Debug)]
pub struct Review {
    pub folder: Folder,
    /// Ours, with the teacher's own over them.
    pub palos: PaloTable,
    /// In the order of the folder's names. One, when a single note was asked for.
    /// With what stands in private cues: for the teacher's eyes.
    pub lessons: Vec<Lesson>,
    /// The same lessons without anything from private cues: for pages and files.
    pub published: Vec<Lesson>,
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
    let (lessons, published) = read_lessons(&folder, progress).into_iter().unzip();
    let lessons: Vec<Lesson> = lessons;
    let judged = checks::judge(&Context::new(&folder, &lessons, &palos));
    let mut review = Review {
        findings: folder.findings.clone(),
        let_stand: judged.let_stand,
        folder,
        palos,
        lessons,
        published,
    };
    review.findings.extend(palos_finding);
    review.findings.extend(words_finding(&review.folder));
    review.findings.extend(judged.findings);
    if let Some(asked) = review.folder.asked {
        review.findings.retain(|finding| finding.place.file == asked);
        review.let_stand.retain(|(finding, _)| finding.place.file == asked);
    }
    review.findings.sort();
    review.findings.dedup();
    Ok(review)
}

/// Every lesson of a folder, read: for the teacher's eyes, and as it may be published.
pub fn read_lessons(folder: &Folder, progress: Progress) -> Vec<(Lesson, Lesson)> {
    let groups = intake::lessons(folder);
    let done = AtomicUsize::new(0);
    let read = |group: &intake::LessonNotes| {
        let notes: Vec<&Note> = group
            .notes
            .iter()
            .filter_map(|index| folder.notes.get(*index))
            .collect();
        let mut published = reading::read_lesson(folder, &notes);
        published.id.clone_from(&group.id);
        let private = notes.iter().any(|note| note.cues.iter().any(|cue| cue.private));
        let mut lesson = published.clone();
        if private {
            lesson = reading::read_lesson_for_teacher(folder, &notes);
            lesson.id.clone_from(&group.id);
        }
        progress(done.fetch_add(1, Ordering::Relaxed) + 1, groups.len());
        (lesson, published)
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
            let message = format!("none of this file's palos is used: {}", error.fault);
            let help = "Correct this line; the other palos of the file may be right".to_owned();
            let finding = checks::PALOS_FILE_WRONG.found(whole_line(own, error.line), message, help);
            (ours, Some(finding))
        }
    }
}

/// What is wrong with the teacher's own words. Reading leaves out a file of words with a fault.
fn words_finding(folder: &Folder) -> Option<Finding> {
    let own = folder.words.as_ref()?;
    let error = reading::OwnWords::read(&own.text).err()?;
    let message = format!("none of this file's words is used: {}", error.fault);
    let help = "Correct this line; the other words of the file may be right".to_owned();
    Some(checks::WORDS_FILE_WRONG.found(whole_line(own, error.line), message, help))
}

fn whole_line(source: &SourceText, line: u32) -> Place {
    let lines = source.text.split_inclusive('\n').take(line.saturating_sub(1) as usize);
    let start: usize = lines.map(str::len).sum();
    source.place(Span::new(start, start + source.line(line).len()), None)
}
