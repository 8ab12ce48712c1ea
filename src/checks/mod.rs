//! 4. Does the lesson hold together?
//!
//! Comes in: lessons, and the folder they were read from. Goes out: findings, each with its place.
//! This room never looks at the words of a note and never changes a lesson.
//! Start reading at [`CHECKS`]: it is the table of contents. To add a check: one file with a `CHECK`, one row here,
//! one fixture `tests/checks/ID.txt`.

/// What a check is, and what it may look at.
mod check;

/// Findings that a note asks to let stand.
mod let_stand;

/// Counts in the order of the round, and what an announcement covers.
mod counts;

/// Spans filled, divided and not overlapped; strokes match counts.
mod sums;

/// Accents, counts and tempo possible for the palo.
mod compas;

/// A shape sounds its name, a note its fret; a finger is in one place.
mod chords;

/// What was written or heard: times, misheard words, sentences not understood.
mod text;

/// What lessons say together: links, numbers, the order of the course.
mod course;

/// What intake finds before a lesson is there.
mod files;

use rayon::prelude::*;

pub use check::{About, Check, Context, Family, Run};
pub(crate) use files::PALOS_FILE_WRONG;

use crate::findings::Finding;
use crate::music::lesson::Lesson;

/// Every check, by family, in the order in which a teacher would go through a lesson.
pub const CHECKS: &[&Check] = &[
    // sums
    &sums::overlapping_spans::CHECK,
    &sums::gap_between_spans::CHECK,
    &sums::too_few_notes::CHECK,
    &sums::too_many_notes::CHECK,
    &sums::notes_in_triplet::CHECK,
    &sums::stroke_outside_span::CHECK,
    &sums::variation_past_its_span::CHECK,
    &sums::one_finger_twice::CHECK,
    &sums::recited_row_differs::CHECK,
    // compás
    &compas::accent_past_compas::CHECK,
    &compas::accents_not_of_palo::CHECK,
    &compas::span_past_compas::CHECK,
    &compas::tempo_implausible::CHECK,
    // chords and the places of fingers
    &chords::shape_contradicts_name::CHECK,
    &chords::shape_adds_notes::CHECK,
    &chords::fingers_contradict_shape::CHECK,
    &chords::finger_on_two_frets::CHECK,
    &chords::note_contradicts_fret::CHECK,
    &chords::open_and_fretted::CHECK,
    // text
    &text::said_twice_differently::CHECK,
    &text::times_run_backwards::CHECK,
    &text::sentence_not_understood::CHECK,
    &text::word_misheard::CHECK,
    // course
    &course::link_to_nowhere::CHECK,
    &course::needs_ring::CHECK,
    &course::lesson_number_twice::CHECK,
    &course::time_past_recording::CHECK,
    &course::chord_with_two_shapes::CHECK,
    &course::palo_with_two_accent_sets::CHECK,
    &course::technique_before_taught::CHECK,
    // files, heads, marks: found by intake
    &files::FILE_NOT_READABLE,
    &files::FILE_TOO_LARGE,
    &files::FILE_NOT_TEXT,
    &files::FILE_IN_UTF_16,
    &files::FILE_NOT_UTF_8,
    &files::FOLDER_LEADS_BACK,
    &files::PALOS_FILE_WRONG,
    &files::NOTE_EMPTY,
    &files::NOTE_WITHOUT_TEXT,
    &files::LANGUAGE_UNKNOWN,
    &files::HEAD_LINE_EMPTY,
    &files::HEAD_LINE_TWICE,
    &files::HEAD_NAME_UNKNOWN,
    &files::TIME_NOT_READ,
    &files::CAPTIONS_WITHOUT_WEBVTT,
    &files::CAPTION_TIME_NOT_READ,
    &files::CAPTION_WITHOUT_TIME,
    &files::PRIVATE_NEVER_ENDS,
    &files::PRIVATE_NEVER_BEGINS,
    &files::PRIVATE_STRETCH_NOT_READ,
    &files::PRIVATE_STRETCH_WITHOUT_TIMES,
    &files::ADDRESS_TAKEN,
    // requests to let a finding stand
    &let_stand::UNUSED,
    &let_stand::WITHOUT_REASON,
];

/// The check with this id.
pub fn find(id: &str) -> Option<&'static Check> {
    CHECKS.iter().copied().find(|check| check.id == id)
}

/// What came out of looking at a folder's lessons.
#[derive(Debug, Default)]
pub struct Judged {
    /// Sorted by file and place.
    pub findings: Vec<Finding>,
    /// Findings that a note asks to let stand, with its reason; sorted by file and place.
    pub let_stand: Vec<(Finding, String)>,
}

/// Runs every check over every lesson.
pub fn judge(context: &Context) -> Judged {
    let lessons = context.lessons;
    let of_lesson = |lesson: &Lesson| -> Vec<Finding> {
        let run = |check: &&Check| match check.run {
            Run::Lesson(look) => look(lesson, context),
            Run::Course(_) | Run::Elsewhere => Vec::new(),
        };
        CHECKS.iter().flat_map(run).collect()
    };
    let mut findings: Vec<Finding> = lessons.par_iter().flat_map_iter(of_lesson).collect();
    for check in CHECKS {
        if let Run::Course(look) = check.run {
            findings.extend(look(lessons, context));
        }
    }
    findings.sort();
    findings.dedup();
    let_stand::settle(findings, lessons)
}

/// A suggestion for a mistyped id, or the way to the list.
pub fn nearest(id: &str) -> String {
    let distance = |check: &&Check| strsim::damerau_levenshtein(id, check.id);
    let nearest = CHECKS.iter().copied().min_by_key(distance);
    match nearest.filter(|check| distance(check) <= id.chars().count() / 3) {
        Some(check) => format!("Did you mean {}?", check.id),
        None => "`compasario check --help` lists them all".to_owned(),
    }
}
