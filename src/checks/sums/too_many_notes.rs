use super::told::{Told, given, told};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::wording::number;
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-many-notes",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
        trips: "[1:15] 11 four semiquavers: s4 f2, s4 f4, s3 f1, s3 f2, s2 f0",
        right: "[1:15] 11 four semiquavers: s4 f2, s4 f4, s3 f1, s3 f2",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let many = |told: &Told| !told.triplet && told.given > told.wanted;
    let words = words_of(lesson);
    let finding = |told: Told| {
        let extra = told.given - told.wanted;
        let given = given(words, told.given);
        let holes: Holes = &[("about", &told.about), ("given", &given), ("extra", &extra)];
        let finding = CHECK.says(words, told.place, number(extra), holes);
        if context.is_typed(&told.place) {
            finding
        } else {
            finding.weighing(Severity::Warning)
        }
    };
    told(lesson).into_iter().filter(many).map(finding).collect()
}
