use super::told::{Told, told};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "notes-in-triplet",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
        trips: "[0:42] 3 triplet on s5: p f0, hammer f1, hammer f3, pull f1, pull f0",
        right: "[0:42] 3 triplet on s5: p f0, hammer f1, pull f0",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let uneven = |told: &Told| told.triplet && told.given != told.wanted;
    let words = words_of(lesson);
    let finding = |told: Told| {
        let count = told.given;
        let finding = CHECK.says(words, told.place, &count.to_string(), &[("n", &count)]);
        if context.is_typed(&told.place) || count > 3 {
            finding
        } else {
            finding.weighing(Severity::Note)
        }
    };
    told(lesson).into_iter().filter(uneven).map(finding).collect()
}
