use super::told::{Told, told};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "notes-in-triplet",
    severity: Severity::Error,
    family: Family::Sums,
    about: About {
        finds: "A triplet is said, and the notes named for it are not three.",
        matters: "Three even notes and five even notes are different music; the student has to know which.",
        trips: "[0:42] 3 triplet on s5: p f0, hammer f1, hammer f3, pull f1, pull f0",
        right: "[0:42] 3 triplet on s5: p f0, hammer f1, pull f0",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let uneven = |told: &Told| told.triplet && told.given != told.wanted;
    let finding = |told: Told| {
        let (count, notes) = (told.given, if told.given == 1 { "note" } else { "notes" });
        let message = format!("a triplet is three notes, but {count} {notes} {} given", verb(count));
        let help = match count {
            2 => "Name the third note, or say that they are two halves".to_owned(),
            4 => "Name three, or call it four semiquavers".to_owned(),
            5 => "Name three, or call it a group of five".to_owned(),
            6 => "Name three, or say that there are two triplets".to_owned(),
            _ => "Name three, or say how the count is divided".to_owned(),
        };
        let finding = CHECK.found(told.place, message, help);
        if context.is_typed(&told.place) || count > 3 {
            finding
        } else {
            finding.weighing(Severity::Note)
        }
    };
    told(lesson).into_iter().filter(uneven).map(finding).collect()
}

fn verb(count: usize) -> &'static str {
    if count == 1 { "is" } else { "are" }
}
