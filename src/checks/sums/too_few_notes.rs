use super::told::{Told, given, told};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::wording::number;
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-few-notes",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
        trips: "[0:44] 5-8 run, two notes a beat: s4 f3, s4 f2, s4 f0, s5 f3, s5 f1, s5 f3, s5 f0",
        right: "[0:44] 5-8 run, two notes a beat: s4 f3, s4 f2, s4 f0, s5 f3, s5 f1, s5 f3, s5 f1, s5 f0",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let few = |told: &Told| !told.triplet && told.given < told.wanted;
    let words = words_of(lesson);
    let finding = |told: Told| {
        let missing = told.wanted - told.given;
        let given = given(words, told.given);
        let holes: Holes = &[("about", &told.about), ("given", &given), ("missing", &missing)];
        let finding = CHECK.says(words, told.place, number(missing), holes);
        // Speech often names the first notes of a run and plays the rest.
        if context.is_typed(&told.place) {
            finding
        } else {
            finding.weighing(Severity::Note)
        }
    };
    told(lesson).into_iter().filter(few).map(finding).collect()
}
