//! 4. Does the lesson hold together?
//!
//! Comes in: lessons, and the folder they were read from. Goes out: findings, each with its place.
//! This room never looks at the words of a note and never changes a lesson.
//! Start reading at [`CHECKS`]: it is the table of contents. To add a check: one file with a `CHECK`, one row here,
//! its words in `src/data/findings.*.toml`, one fixture `tests/checks/ID.txt`.

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

/// What the left hand holds, puts, lifts and sounds.
mod left_hand;

/// What the right hand plays at the lesson's tempo.
mod right_hand;

/// One version after another.
mod joins;

/// What was written or heard: times, misheard words, sentences not understood.
mod text;

/// What lessons say together: links, numbers, the order of the course.
mod course;

/// The teacher's own palos.
mod palos_file_wrong;

/// The teacher's own words.
mod words_file_wrong;

use rayon::prelude::*;

pub use check::{Check, Context, Example, Family, Run};
pub(crate) use palos_file_wrong::{CHECK as PALOS_FILE_WRONG, fault as palo_fault};
pub(crate) use words_file_wrong::CHECK as WORDS_FILE_WRONG;

use crate::findings::{Finding, Severity, Words};
use crate::intake;
use crate::music::lesson::Lesson;
use crate::text::Language;

/// Every check, by family, in the order in which a teacher would go through a lesson.
pub const CHECKS: &[&Check] = &[
    // sums
    &sums::overlapping_spans::CHECK,
    &sums::gap_between_spans::CHECK,
    &sums::count_left_out::CHECK,
    &sums::too_few_notes::CHECK,
    &sums::too_many_notes::CHECK,
    &sums::notes_in_triplet::CHECK,
    &sums::stroke_outside_its_line::CHECK,
    &sums::stroke_outside_span::CHECK,
    &sums::variation_past_its_span::CHECK,
    &sums::variation_without_strokes::CHECK,
    &sums::variation_count_open::CHECK,
    &sums::one_finger_twice::CHECK,
    &sums::recited_row_differs::CHECK,
    // compás
    &compas::counts_not_of_palo::CHECK,
    &compas::groups_miscounted::CHECK,
    &compas::accent_past_compas::CHECK,
    &compas::accents_not_of_palo::CHECK,
    &compas::span_past_compas::CHECK,
    &compas::tempo_implausible::CHECK,
    // chords and the places of fingers
    &chords::chords_miscounted::CHECK,
    &chords::shape_contradicts_name::CHECK,
    &chords::shape_adds_notes::CHECK,
    &chords::fingers_contradict_shape::CHECK,
    &chords::finger_on_two_frets::CHECK,
    &chords::string_without_finger::CHECK,
    &chords::note_contradicts_fret::CHECK,
    &chords::open_and_fretted::CHECK,
    &chords::sounding_key_differs::CHECK,
    // left hand
    &left_hand::stretch_too_wide::CHECK,
    &left_hand::fingers_crossed::CHECK,
    &left_hand::too_many_fingers::CHECK,
    &left_hand::kept_finger_in_the_way::CHECK,
    &left_hand::open_string_under_barre::CHECK,
    &left_hand::ligado_impossible::CHECK,
    &left_hand::change_too_quick::CHECK,
    // right hand
    &right_hand::finger_too_fast::CHECK,
    &right_hand::line_too_fast::CHECK,
    &right_hand::finger_repeats::CHECK,
    &right_hand::right_fingers_crossed::CHECK,
    &right_hand::golpe_with_busy_finger::CHECK,
    &right_hand::rasgueado_does_not_fill::CHECK,
    &right_hand::stroke_misexplained::CHECK,
    // joins
    &joins::held_into_next::CHECK,
    &joins::count_taken_twice::CHECK,
    &joins::variations_meet::CHECK,
    &joins::variation_not_told::CHECK,
    &joins::join_without_caution::CHECK,
    // text
    &text::said_twice_differently::CHECK,
    &text::list_miscounted::CHECK,
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
    &course::chord_before_taught::CHECK,
    &course::term_before_taught::CHECK,
    // files: those that intake finds explain themselves, in `intake::RULES`
    &palos_file_wrong::CHECK,
    &words_file_wrong::CHECK,
    // requests to let a finding stand
    &let_stand::UNUSED,
    &let_stand::WITHOUT_REASON,
];

/// A rule by which something may be found, explained.
#[derive(Debug, Clone, Copy)]
pub struct Rule {
    pub id: &'static str,
    pub severity: Severity,
    pub family: Family,
    pub example: Example,
}

impl Rule {
    /// What it finds, in one or two sentences.
    pub fn finds(&self, language: Language) -> &'static str {
        Words::of(language).told(self.id, "finds")
    }

    /// Why it matters to a player.
    pub fn matters(&self, language: Language) -> &'static str {
        Words::of(language).told(self.id, "matters")
    }
}

/// Every rule that a finding may name: the checks, then what intake says about files.
pub fn rules() -> impl Iterator<Item = Rule> {
    let of_check = |check: &&Check| Rule {
        id: check.id,
        severity: check.severity,
        family: check.family,
        example: check.example,
    };
    let of_intake = |rule: &intake::Rule| Rule {
        id: rule.id,
        severity: rule.severity,
        family: Family::Files,
        example: Example {
            trips: rule.trips,
            right: rule.right,
        },
    };
    CHECKS.iter().map(of_check).chain(intake::RULES.iter().map(of_intake))
}

/// The rule with this id.
pub fn find(id: &str) -> Option<Rule> {
    rules().find(|rule| rule.id == id)
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
    let alone = |lesson: &Lesson| judge_alone(lesson, context);
    judge_together(context, context.lessons.par_iter().flat_map_iter(alone).collect())
}

/// What the checks of single lessons say of one. It depends on nothing but its own notes and the palos.
pub fn judge_alone(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let run = |check: &&Check| match check.run {
        Run::Lesson(look) => look(lesson, context),
        Run::Remark(finding) => lesson.remarks.iter().filter_map(|said| finding(lesson, said)).collect(),
        Run::Course(_) | Run::Elsewhere => Vec::new(),
    };
    CHECKS.iter().flat_map(run).collect()
}

/// Adds to what was said of single lessons what the checks of the whole course say, and lets stand what the notes ask for.
pub fn judge_together(context: &Context, mut findings: Vec<Finding>) -> Judged {
    let lessons = context.lessons;
    for check in CHECKS {
        if let Run::Course(look) = check.run {
            findings.extend(look(lessons, context));
        }
    }
    findings.sort();
    findings.dedup();
    let_stand::settle(findings, context)
}

/// The id that a mistyped one may have been meant to be.
fn nearest(id: &str) -> Option<&'static str> {
    let distance = |rule: &Rule| strsim::damerau_levenshtein(id, rule.id);
    let nearest = rules().min_by_key(distance);
    nearest
        .filter(|rule| distance(rule) <= id.chars().count() / 3)
        .map(|rule| rule.id)
}

/// A suggestion for a mistyped id, or the way to the list.
pub fn suggestion(id: &str, words: &Words) -> String {
    let near = nearest(id);
    let case = if near.is_some() { "near" } else { "list" };
    words.say(let_stand::UNUSED.id, "help", case, &[("near", &near.unwrap_or(""))])
}
