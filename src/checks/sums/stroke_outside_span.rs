use crate::checks::check::words_of;
use crate::checks::counts::{beats, counts_of, last_count};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Pattern, Role};
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stroke-outside-span",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[0:05] count 12\n[0:40] 10 i dn, 11 i dn, 14 i dn",
        right: "[0:05] count 12\n[0:40] 10 i dn, 11 i dn, 12 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let Some(last) = last_count(lesson) else {
        return Vec::new();
    };
    let cores = lesson.patterns.iter().filter(|pattern| pattern.role == Role::Core);
    let in_core = |pattern: &Pattern| {
        let outside = pattern
            .strokes
            .iter()
            .filter(|stroke| is_outside(stroke, pattern, lesson, last));
        outside
            .map(|stroke| finding(words_of(lesson), stroke, pattern, last))
            .collect::<Vec<_>>()
    };
    let mut findings: Vec<Finding> = cores.flat_map(in_core).collect();
    findings.dedup_by_key(|finding| finding.place.line);
    findings
}

fn is_outside(stroke: &Stroke, pattern: &Pattern, lesson: &Lesson, last: i64) -> bool {
    let count = stroke.at.whole();
    if stroke.implied.is_some() || pattern.runs_on.is_some_and(|end| stroke.at <= end) {
        return false;
    }
    match pattern.span {
        Some(span) => !counts_of(span, beats(lesson)).contains(&count) && !(1..=last).contains(&count),
        None => !(1..=last).contains(&count),
    }
}

fn finding(words: &Words, stroke: &Stroke, pattern: &Pattern, last: i64) -> Finding {
    let span = pattern.span.map_or(format!("1-{last}"), |span| span.to_string());
    let count = stroke.at.whole();
    let case = if count == last + 1 { "next" } else { "" };
    let holes: Holes = &[("at", &stroke.at), ("span", &span), ("count", &count)];
    CHECK.says(words, stroke.place, case, holes)
}
