use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, Misheard};

pub(in crate::checks) const CHECK: Check = Check {
    id: "word-misheard",
    severity: Severity::Note,
    family: Family::Text,
    about: About {
        finds: "The recogniser misheard a word of the trade, and it was read as what was meant.",
        matters: "Nothing is put right silently: if the reading is wrong, this is where it went wrong.",
        trips: "[0:12] and here comes the ras gay ado",
        right: "[0:12] and here comes the rasgueado",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.misheard.iter().map(finding).collect()
}

fn finding(misheard: &Misheard) -> Finding {
    let Misheard { heard, read_as, place } = misheard;
    let message = format!("\"{heard}\" was read as \"{read_as}\"");
    let help = "If something else was meant, correct it in the note or in its corrections".to_owned();
    CHECK.found(*place, message, help)
}
