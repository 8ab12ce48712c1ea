use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::lesson::{Lesson, Misheard};

pub(in crate::checks) const CHECK: Check = Check {
    id: "word-misheard",
    severity: Severity::Note,
    family: Family::Text,
    example: Example {
        trips: "[0:12] and here comes the ras gay ado",
        right: "[0:12] and here comes the rasgueado",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    lesson
        .misheard
        .iter()
        .map(|misheard| finding(words, misheard))
        .collect()
}

fn finding(words: &Words, misheard: &Misheard) -> Finding {
    let Misheard { heard, read_as, place } = misheard;
    CHECK.says(words, *place, "", &[("heard", heard), ("read", read_as)])
}
