use super::before::earlier;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Technique};

pub(in crate::checks) const CHECK: Check = Check {
    id: "term-before-taught",
    severity: Severity::Note,
    family: Family::Course,
    example: Example {
        trips: "order: 1\n\n[0:30] then the remate\n\n(and in the note with order 2)\n\n[0:20] a remate is when you close a line",
        right: "order: 1\n\n[0:20] a remate is when you close a line\n[0:30] then the remate",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
    let in_lesson = |lesson: &Lesson| {
        let Some(before) = earlier(lessons, lesson) else {
            return Vec::new();
        };
        let used = lesson.terms.iter().filter(|term| !term.explained);
        let unknown = used.filter(|term| !before.iter().any(|earlier| explained(earlier, &term.id).is_some()));
        let found = unknown.filter_map(|term| {
            let others = lessons.iter().filter(|other| other.id != lesson.id);
            let (later, told) = others
                .filter_map(|other| Some((other, explained(other, &term.id)?)))
                .next()?;
            Some(finding(lesson, term, later, told))
        });
        found.collect()
    };
    lessons.iter().flat_map(in_lesson).collect()
}

fn explained<'a>(lesson: &'a Lesson, term: &str) -> Option<&'a Technique> {
    lesson.terms.iter().find(|known| known.id == term && known.explained)
}

fn finding(lesson: &Lesson, term: &Technique, later: &Lesson, told: &Technique) -> Finding {
    let holes: Holes = &[("term", &term.id), ("lesson", &later.id)];
    let finding = CHECK.says(words_of(lesson), term.place, "", holes);
    finding.see_also(told.place, "", &[])
}
