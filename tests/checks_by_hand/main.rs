//! Each check on lessons made by hand: what trips it, and its near misses.

#[path = "../support/mod.rs"]
mod support;

/// Spans and numbers.
mod sums;

/// Compás, tempo, chords, notes.
mod music;

/// Left hand and joins.
mod hands;

/// Right hand.
mod right_hand;

/// Laws for any lesson at all.
mod any_lesson;

/// Words, times, the course, and findings that are let stand.
mod course;

use support::lesson::{Told, findings_of, table, told};

#[track_caller]
fn check(told: Told, expected: &[&str]) {
    let findings = told.findings();
    assert_eq!(table(&findings), expected, "{findings:#?}");
}

#[track_caller]
fn check_all(lessons: &[Told], expected: &[&str]) {
    let findings = findings_of(lessons);
    assert_eq!(table(&findings), expected, "{findings:#?}");
}

fn in_twelve(id: &str) -> Told {
    told(id).line("[0:00] count 12").beats(12).core(1, 12)
}
