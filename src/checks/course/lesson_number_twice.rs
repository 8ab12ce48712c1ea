use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "lesson-number-twice",
    severity: Severity::Warning,
    family: Family::Course,
    about: About {
        finds: "Two lessons have the same place in the course (`order:`).",
        matters: "The order of the two is left to chance, and \"the third lesson\" is two lessons.",
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
        let message = format!("two lessons are number {}: {} and {}", order.value, first.id, second.id);
        let free = lessons
            .iter()
            .filter_map(|lesson| Some(lesson.order.as_ref()?.value))
            .max()
            .unwrap_or(0)
            + 1;
        let help = format!("Give one of them another number; {free} is free");
        let finding = CHECK.found(order.place, message, help);
        findings.push(finding.see_also(place, format!("in {}", context.file_name(&place))));
    }
    findings
}
