use super::before::by_id;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, Said};

pub(in crate::checks) const CHECK: Check = Check {
    id: "needs-ring",
    severity: Severity::Error,
    family: Family::Course,
    example: Example {
        trips: "lesson: tangos-two\nneeds: tangos-three\n\n(and in the note of tangos-three: needs: tangos-two)",
        right: "lesson: tangos-two\nneeds: tangos-one\n\n(and in the note of tangos-three: needs: tangos-two)",
    },
    run: Run::Course(look),
};

/// One finding a ring, at the lesson of the ring that comes first in the folder.
fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut told: Vec<&str> = Vec::new();
    for lesson in lessons {
        let Some((ring, needs)) = ring(lesson, lessons).filter(|_| !told.contains(&lesson.id.as_str())) else {
            continue;
        };
        told.extend(ring.iter().copied());
        let mut way = ring.clone();
        way.push(&lesson.id);
        let words = words_of(lesson);
        let ring = way.join(&words.say(CHECK.id, "needs", "", &[]));
        findings.push(CHECK.says(words, needs.place, "", &[("ring", &ring)]));
    }
    findings
}

/// The shortest ring through a lesson, beginning with it, and the `needs:` of its first step.
fn ring<'a>(start: &'a Lesson, lessons: &'a [Lesson]) -> Option<(Vec<&'a str>, &'a Said<String>)> {
    let mut ways: Vec<(Vec<&str>, &Said<String>, &Lesson)> = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for needs in &start.needs {
        if needs.value == start.id {
            return Some((vec![start.id.as_str()], needs));
        }
        if let Some(lesson) = by_id(lessons, &needs.value).filter(|lesson| !seen.contains(&lesson.id.as_str())) {
            seen.push(&lesson.id);
            ways.push((vec![start.id.as_str(), lesson.id.as_str()], needs, lesson));
        }
    }
    let mut next = 0;
    while let Some((way, first, lesson)) = ways.get(next).cloned() {
        next += 1;
        for needs in &lesson.needs {
            if needs.value == start.id {
                return Some((way, first));
            }
            if let Some(lesson) = by_id(lessons, &needs.value).filter(|lesson| !seen.contains(&lesson.id.as_str())) {
                seen.push(&lesson.id);
                let mut longer = way.clone();
                longer.push(&lesson.id);
                ways.push((longer, first, lesson));
            }
        }
    }
    None
}
