use super::told::{Told, given, told};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-many-notes",
    severity: Severity::Error,
    family: Family::Sums,
    about: About {
        finds: "The text says how many notes or strokes there are, and names more.",
        matters: "They do not fit: the student either rushes or arrives late on the next count.",
        trips: "[1:15] 11 four semiquavers: s4 f2, s4 f4, s3 f1, s3 f2, s2 f0",
        right: "[1:15] 11 four semiquavers: s4 f2, s4 f4, s3 f1, s3 f2",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let many = |told: &Told| !told.triplet && told.given > told.wanted;
    let finding = |told: Told| {
        let message = format!("{}, but {}", told.about, given(told.given));
        let help = match told.given - told.wanted {
            1 => "Take one out, or correct the number".to_owned(),
            extra => format!("Take {extra} out, or correct the number"),
        };
        let finding = CHECK.found(told.place, message, help);
        if context.is_typed(&told.place) {
            finding
        } else {
            finding.weighing(Severity::Warning)
        }
    };
    told(lesson).into_iter().filter(many).map(finding).collect()
}
