use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "lesson-number-twice",
    severity: Severity::Warning,
    family: Family::Course,
    example: Example {
        trips: "order: 3\n\n(and in another note: order: 3)",
        right: "order: 3\n\n(and in the other note: order: 4)",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], context: &Context) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, second) in lessons.iter().enumerate() {
        let Some(order) = &second.order else { continue };
        let same = |first: &&Lesson| first.order.as_ref().is_some_and(|first| first.value == order.value);
        let Some((first, place)) = lessons
            .iter()
            .take(index)
            .find(same)
            .and_then(|first| Some((first, first.order.as_ref()?.place)))
        else {
            continue;
        };
        let free = lessons
            .iter()
            .filter_map(|lesson| Some(lesson.order.as_ref()?.value))
            .max()
            .unwrap_or(0)
            + 1;
        let holes: Holes = &[
            ("number", &order.value),
            ("one", &first.id),
            ("two", &second.id),
            ("free", &free),
        ];
        let finding = CHECK.says(words_of(second), order.place, "", holes);
        findings.push(finding.see_also(place, "", &[("file", &context.file_name(&place))]));
    }
    findings
}
