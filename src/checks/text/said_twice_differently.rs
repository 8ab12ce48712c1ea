use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Conflict, Lesson};

pub(in crate::checks) const CHECK: Check = Check {
    id: "said-twice-differently",
    severity: Severity::Error,
    family: Family::Text,
    example: Example {
        trips: "capo: 2\n\n[0:20] capo on the fourth fret",
        right: "capo: 4\n\n[0:20] capo on the fourth fret",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    lesson
        .conflicts
        .iter()
        .map(|conflict| finding(lesson, conflict, context))
        .collect()
}

fn finding(lesson: &Lesson, conflict: &Conflict, context: &Context) -> Finding {
    let Conflict {
        about,
        first,
        second,
        first_place,
        place,
    } = conflict;
    let words = words_of(lesson);
    // What is compared is told by a key; some of it stands as it was written.
    let key = about.trim_start_matches("the ");
    let about = words.known(&format!("about_{key}")).unwrap_or(about);
    let case = if first_place.file == place.file { "" } else { "file" };
    let holes: Holes = &[
        ("about", &about),
        ("first", first),
        ("second", second),
        ("line", &first_place.line),
        ("file", &context.file_name(first_place)),
    ];
    let finding = CHECK.says(words, *place, case, holes);
    finding.see_also(*first_place, "", holes)
}
