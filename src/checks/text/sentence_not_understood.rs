use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::lesson::{Lesson, Unread};

pub(in crate::checks) const CHECK: Check = Check {
    id: "sentence-not-understood",
    severity: Severity::Note,
    family: Family::Text,
    example: Example {
        trips: "[0:40] 7 the usual flourish, you know the one, two strings and back",
        right: "[0:40] 7 p s5 f0, & i s3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    lesson.unread.iter().map(|unread| finding(words, unread)).collect()
}

fn finding(words: &Words, unread: &Unread) -> Finding {
    let reason = unread.reason.trim().trim_end_matches('.');
    let case = if reason.is_empty() { "" } else { "reason" };
    let severity = if unread.musical {
        Severity::Warning
    } else {
        Severity::Note
    };
    CHECK
        .says(words, unread.place, case, &[("reason", &reason)])
        .weighing(severity)
}
