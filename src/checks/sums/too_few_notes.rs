use super::told::{Told, given, told};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-few-notes",
    severity: Severity::Error,
    family: Family::Sums,
    about: About {
        finds: "The text says how many notes or strokes there are, and names fewer.",
        matters: "The run ends early: what comes after it lands on the wrong count, or a hole opens where there is none.",
        trips: "[0:44] 5-8 run, two notes a beat: s4 f3, s4 f2, s4 f0, s5 f3, s5 f1, s5 f3, s5 f0",
        right: "[0:44] 5-8 run, two notes a beat: s4 f3, s4 f2, s4 f0, s5 f3, s5 f1, s5 f3, s5 f1, s5 f0",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let few = |told: &Told| !told.triplet && told.given < told.wanted;
    let finding = |told: Told| {
        let message = format!("{}, but only {}", told.about, given(told.given));
        let missing = told.wanted - told.given;
        let help = match missing {
            1 => "Name the note that is missing, or correct the number".to_owned(),
            _ => format!("Name the {missing} that are missing, or correct the number"),
        };
        let finding = CHECK.found(told.place, message, help);
        // Speech often names the first notes of a run and plays the rest.
        if context.is_typed(&told.place) {
            finding
        } else {
            finding.weighing(Severity::Note)
        }
    };
    told(lesson).into_iter().filter(few).map(finding).collect()
}
