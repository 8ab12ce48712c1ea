use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Conflict, Lesson};

pub(in crate::checks) const CHECK: Check = Check {
    id: "said-twice-differently",
    severity: Severity::Error,
    family: Family::Text,
    about: About {
        finds: "One thing is said twice, and not the same: the head against the text, or the typed note against the transcript.",
        matters: "The student follows one of the two, and it may be the wrong one: with the capo a fret off, a week of practice is in another key.",
        trips: "capo: 2\n\n[0:20] capo on the fourth fret",
        right: "capo: 4\n\n[0:20] capo on the fourth fret",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    lesson
        .conflicts
        .iter()
        .map(|conflict| finding(conflict, context))
        .collect()
}

fn finding(conflict: &Conflict, context: &Context) -> Finding {
    let Conflict {
        about,
        first,
        second,
        first_place,
        place,
    } = conflict;
    let message = if first_place.file == place.file {
        format!("{about} is {first} on line {} and {second} here", first_place.line)
    } else {
        format!(
            "{about} is {first} in {} and {second} here",
            context.file_name(first_place)
        )
    };
    let help = "Correct the one that is wrong".to_owned();
    CHECK
        .found(*place, message, help)
        .see_also(*first_place, format!("here it is {first}"))
}
