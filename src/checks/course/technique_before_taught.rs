use super::before::earlier;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::{Lesson, Technique};

pub(in crate::checks) const CHECK: Check = Check {
    id: "technique-before-taught",
    severity: Severity::Note,
    family: Family::Course,
    example: Example {
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
            findings.extend(
                later
                    .filter(|_| !known)
                    .map(|later| finding(words_of(lesson), technique, later)),
            );
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

fn finding(words: &Words, technique: &Technique, later: &Lesson) -> Finding {
    let holes: Holes = &[("technique", &technique.id), ("lesson", &later.id)];
    CHECK.says(words, technique.place, "", holes)
}
