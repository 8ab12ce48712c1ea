use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::lesson::{Lesson, Unread};

pub(in crate::checks) const CHECK: Check = Check {
    id: "sentence-not-understood",
    severity: Severity::Note,
    family: Family::Text,
    example: Example {
        trips: "[0:00] sevillanas, count 6\n[0:43] 1 p dn (Am)\n[0:50] on 2 the flourish goes over the strings with golpe somehow twice",
        right: "[0:00] sevillanas, count 6\n[0:43] 1 p dn (Am)\n[0:50] 2 golpe (a), & golpe (a)",
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
