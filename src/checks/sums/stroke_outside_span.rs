use crate::checks::counts::{beats, counts_of, last_count, show_span};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Pattern, Role};
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stroke-outside-span",
    severity: Severity::Warning,
    family: Family::Sums,
    about: About {
        finds: "A stroke of the core stands on a count that the core does not have.",
        matters: "Nobody counts a 14 in a round of twelve: the student cannot find the place.",
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
        outside.map(|stroke| finding(stroke, pattern, last)).collect::<Vec<_>>()
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

fn finding(stroke: &Stroke, pattern: &Pattern, last: i64) -> Finding {
    let covered = pattern.span.map_or(format!("1-{last}"), show_span);
    let message = format!("a stroke stands on {}, but the core goes over {covered}", stroke.at);
    let help = match stroke.at.whole() {
        count if count == last + 1 => {
            format!("If it is a pickup into the next round, say that it runs on into the 1; if not, correct {count}")
        }
        _ => "Correct the count, or say over which counts the core goes".to_owned(),
    };
    CHECK.found(stroke.place, message, help)
}
