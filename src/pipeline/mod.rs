//! The whole journey on one screen: notes folder, lessons, findings.
//!
//! The only user of rayon beside the checks. Lessons are read side by side and stay in the order of the folder.

/// Lessons read before.
mod memory;

use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use crate::checks::{self, Context};
use crate::failure::Failure;
use crate::findings::{Finding, Words};
use crate::intake::{self, Folder, Note};
use crate::mark::Mark;
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::reading::{self, WordsFault};
use crate::text::{Language, Place, SourceText, Span};

pub use memory::Memory;
use memory::Read;

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
    /// Of each lesson: the mark of all that it was read from.
    pub marks: Vec<Mark>,
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
    review_remembering(path, &mut Memory::default(), progress)
}

/// The same, reading only lessons that are not remembered as they are.
pub fn review_remembering(path: &Path, memory: &mut Memory, progress: Progress) -> Result<Review, Failure> {
    Ok(judged(intake::load(path)?, memory, progress))
}

/// The same for a single note that is to be judged: the lessons beside it are its context, and only it is told of.
pub fn review_in_its_folder(path: &Path, progress: Progress) -> Result<Review, Failure> {
    let folder = intake::load_in_its_folder(path)?;
    let mut review = judged(folder, &mut Memory::default(), progress);
    if let Some(asked) = review.folder.asked {
        let notes = &review.folder.notes;
        let of_note = |notes_of: &intake::LessonNotes| {
            let mut own = notes_of.notes.iter().filter_map(|index| notes.get(*index));
            own.any(|note| note.file == asked)
        };
        let own: Option<String> = intake::lessons(&review.folder)
            .into_iter()
            .find(of_note)
            .map(|own| own.id);
        review.lessons.retain(|lesson| Some(&lesson.id) == own.as_ref());
        review.published.retain(|lesson| Some(&lesson.id) == own.as_ref());
    }
    Ok(review)
}

fn judged(folder: Folder, memory: &mut Memory, progress: Progress) -> Review {
    let (palos, palos_finding) = palos_in_force(&folder);
    let mut read = read_or_recall(&folder, memory, progress);
    let lessons: Vec<Lesson> = read.iter().map(|read| read.for_teacher().clone()).collect();
    let context = Context::new(&folder, &lessons, &palos);
    read.par_iter_mut()
        .filter(|read| read.findings.is_none())
        .for_each(|read| {
            read.findings = Some(checks::judge_alone(read.for_teacher(), &context));
        });
    memory.settle(&read);
    let alone = read
        .iter_mut()
        .flat_map(|read| read.findings.take().unwrap_or_default());
    let judged = checks::judge_together(&context, alone.collect());
    let (marks, published) = read.into_iter().map(|read| (read.mark, read.published)).unzip();
    let mut review = Review {
        findings: folder.findings.clone(),
        let_stand: judged.let_stand,
        folder,
        palos,
        lessons,
        published,
        marks,
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
    review
}

/// Every lesson of a folder, read: for the teacher's eyes, and as it may be published.
pub fn read_lessons(folder: &Folder, progress: Progress) -> Vec<(Lesson, Lesson)> {
    let read = read_or_recall(folder, &Memory::default(), progress);
    let both = |read: Read| (read.for_teacher().clone(), read.published);
    read.into_iter().map(both).collect()
}

fn read_or_recall(folder: &Folder, memory: &Memory, progress: Progress) -> Vec<Read> {
    let groups = intake::lessons(folder);
    let done = AtomicUsize::new(0);
    let read = |group: &intake::LessonNotes| {
        let read = read_group(folder, group, memory);
        progress(done.fetch_add(1, Ordering::Relaxed) + 1, groups.len());
        read
    };
    groups.par_iter().map(read).collect()
}

fn read_group(folder: &Folder, group: &intake::LessonNotes, memory: &Memory) -> Read {
    let notes: Vec<&Note> = group
        .notes
        .iter()
        .filter_map(|index| folder.notes.get(*index))
        .collect();
    let mark = mark(folder, &group.id, &notes, memory);
    if let Some(read) = memory.recall(mark) {
        return read;
    }
    let named = |lesson: Lesson| Lesson {
        id: group.id.clone(),
        ..lesson
    };
    let published = named(reading::read_lesson(folder, &notes));
    let private = notes.iter().any(|note| note.cues.iter().any(|cue| cue.private));
    let for_teacher = private.then(|| named(reading::read_lesson_for_teacher(folder, &notes)));
    Read::new(mark, published, for_teacher)
}

/// The mark of all that a lesson is read from: its notes with the places of their files, and what the teacher added to our words and palos.
///
/// A stretch that a head calls private holds for the notes of its own lesson only, so it is in here too.
fn mark(folder: &Folder, id: &str, notes: &[&Note], memory: &Memory) -> Mark {
    let own = |source: &Option<SourceText>| source.as_ref().map_or(String::new(), |source| source.text.clone());
    let (words, palos) = (own(&folder.words), own(&folder.palos));
    let places: Vec<[u8; 4]> = notes.iter().map(|note| note.file.0.to_le_bytes()).collect();
    let mut parts: Vec<&[u8]> = vec![id.as_bytes(), words.as_bytes(), palos.as_bytes()];
    for (note, place) in notes.iter().zip(&places) {
        if let Some(source) = folder.files.get(note.file.0 as usize) {
            parts.extend([place.as_slice(), source.name.as_bytes(), source.text.as_bytes()]);
        }
    }
    memory.mark(&parts)
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
            let (words, place) = (of_course(folder), whole_line(own, error.line));
            let fault = checks::palo_fault(words, &error.fault);
            let finding = checks::PALOS_FILE_WRONG.says(words, place, "", &[("fault", &fault)]);
            (ours, Some(finding))
        }
    }
}

/// What is wrong with the teacher's own words. Reading leaves out a file of words with a fault.
fn words_finding(folder: &Folder) -> Option<Finding> {
    let own = folder.words.as_ref()?;
    let error = reading::OwnWords::read(&own.text).err()?;
    let (words, place) = (of_course(folder), whole_line(own, error.line));
    let check = &checks::WORDS_FILE_WRONG;
    let fault = match &error.fault {
        WordsFault::Shape(told) => words.say(check.id, "fault", "shape", &[("words", told)]),
        WordsFault::Concept(name) => words.say(check.id, "fault", "concept", &[("name", name)]),
        WordsFault::Empty(name) => words.say(check.id, "fault", "empty", &[("name", name)]),
    };
    Some(check.says(words, place, "", &[("fault", &fault)]))
}

/// The words for findings about the course as a whole.
fn of_course(folder: &Folder) -> &'static Words {
    Words::of(Language::of(&folder.course.language))
}

fn whole_line(source: &SourceText, line: u32) -> Place {
    let lines = source.text.split_inclusive('\n').take(line.saturating_sub(1) as usize);
    let start: usize = lines.map(str::len).sum();
    source.place(Span::new(start, start + source.line(line).len()), None)
}
