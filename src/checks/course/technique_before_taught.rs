use super::before::earlier;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, Technique};

pub(in crate::checks) const CHECK: Check = Check {
    id: "technique-before-taught",
    severity: Severity::Note,
    family: Family::Course,
    about: About {
        finds: "A lesson uses a technique that a later lesson explains and no earlier one does. Only where the course has an order.",
        matters: "The student meets a movement that nobody has shown yet, and learns it wrong.",
        trips: "order: 2\n\n[0:40] 4 rasgueado x a m i\n\n(and the rasgueado is explained in the note with order: 5)",
        right: "order: 2\n\n[0:40] 4 rasgueado x a m i\n\n(and the rasgueado is explained in the note with order: 1)",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
    let in_lesson = |lesson: &Lesson| {
        let mut findings: Vec<Finding> = Vec::new();
        let mut told: Vec<&str> = Vec::new();
        let Some(before) = earlier(lessons, lesson) else {
            return findings;
        };
        for technique in &lesson.techniques {
            if told.contains(&technique.id.as_str()) || explains(lesson, &technique.id) {
                continue;
            }
            told.push(&technique.id);
            let known = before.iter().any(|earlier| explains(earlier, &technique.id));
            let later = lessons
                .iter()
                .find(|other| other.id != lesson.id && explains(other, &technique.id));
            findings.extend(later.filter(|_| !known).map(|later| finding(technique, later)));
        }
        findings
    };
    lessons.iter().flat_map(in_lesson).collect()
}

fn explains(lesson: &Lesson, technique: &str) -> bool {
    lesson
        .techniques
        .iter()
        .any(|known| known.id == technique && known.explained)
}

fn finding(technique: &Technique, later: &Lesson) -> Finding {
    let message = format!("{} is used here, but explained only in {}", technique.id, later.id);
    let help = format!("Put {} before this lesson, or explain it here", later.id);
    CHECK.found(technique.place, message, help)
}
