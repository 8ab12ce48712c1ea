use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, Unread};

pub(in crate::checks) const CHECK: Check = Check {
    id: "sentence-not-understood",
    severity: Severity::Note,
    family: Family::Text,
    about: About {
        finds: "A sentence was not understood: a warning where it plainly carries music, a note where it only may.",
        matters: "What was not understood is missing from the pages, from the sound and from every other check.",
        trips: "[0:40] 7 the usual flourish, you know the one, two strings and back",
        right: "[0:40] 7 p s5 f0, & i s3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.unread.iter().map(finding).collect()
}

fn finding(unread: &Unread) -> Finding {
    let message = match unread.reason.trim().trim_end_matches('.') {
        "" => "this was not understood".to_owned(),
        reason => format!("this was not understood: {reason}"),
    };
    let help = "Say it another way, or leave it if it carries no music".to_owned();
    let severity = if unread.musical {
        Severity::Warning
    } else {
        Severity::Note
    };
    CHECK.found(unread.place, message, help).weighing(severity)
}
