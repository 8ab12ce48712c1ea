use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "variation-without-strokes",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[1:18] v1, replaces 7-8:\n[1:23] I flick here, the way you like it best",
        right: "[1:18] v1, replaces 7-8:\n[1:23] 7 i dn, & i up; 8 golpe (a)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let untold = lesson.untold.iter();
    untold
        .map(|untold| CHECK.says(words, untold.place, "", &[("span", &untold.span)]))
        .collect()
}
