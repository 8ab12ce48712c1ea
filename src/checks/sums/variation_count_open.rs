use crate::checks::check::words_of;
use crate::checks::counts::{beats, counts_of, is_told, show_counts};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Pattern, Role};
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "variation-count-open",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[1:18] v1, replaces 7-9:\n[1:23] 7 p s6; 8 m s2",
        right: "[1:18] v1, replaces 7-9:\n[1:23] 7 p s6; 8 m s2; 9 rest",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    // Aloud a count is often left to ring: only where every count is said to be filled.
    let told = lesson
        .patterns
        .iter()
        .filter(|pattern| context.is_typed(&pattern.place) || is_filled(lesson, pattern));
    told.filter_map(|pattern| finding(words, lesson, pattern)).collect()
}

/// A line of the variation names the count: it was not forgotten.
fn is_named(lesson: &Lesson, pattern: &Pattern, count: i64) -> bool {
    let named = |remark: &Remark| matches!(remark, Remark::NamedOnly { pattern: name, count: known } if *name == pattern.name && *known == count);
    lesson.remarks.iter().any(|said| named(&said.value))
}

fn is_filled(lesson: &Lesson, pattern: &Pattern) -> bool {
    let filled = |remark: &Remark| matches!(remark, Remark::Filled { pattern: name } if *name == pattern.name);
    lesson.remarks.iter().any(|said| filled(&said.value))
}

fn finding(words: &Words, lesson: &Lesson, pattern: &Pattern) -> Option<Finding> {
    let span = pattern.span.filter(|_| pattern.role != Role::Core)?;
    let open: Vec<i64> = counts_of(span, beats(lesson))
        .into_iter()
        .filter(|count| !is_told(pattern, *count))
        .collect();
    // One count forgotten among others is a slip; where several are silent, a long note or a rest goes through them.
    let [count] = open.as_slice() else { return None };
    if pattern.strokes.is_empty() || is_named(lesson, pattern, *count) {
        return None;
    }
    let counts = show_counts(words, &open);
    let holes: Holes = &[("span", &span), ("counts", &counts)];
    Some(CHECK.says(words, pattern.place, "", holes))
}
