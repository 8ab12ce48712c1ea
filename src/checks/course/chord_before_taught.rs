use super::before::earlier;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::{Chord, ChordName};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "chord-before-taught",
    severity: Severity::Note,
    family: Family::Course,
    example: Example {
        trips: "order: 1\n\n[0:30] 1-2 Bb\n\n(and in the note with order 2)\n\n[0:20] Bb x13331",
        right: "order: 1\n\n[0:20] Bb x13331\n[0:30] 1-2 Bb",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
    let in_lesson = |lesson: &Lesson| {
        let Some(before) = earlier(lessons, lesson) else {
            return Vec::new();
        };
        let untold = lesson.chords.iter().filter(|chord| !is_told(chord));
        let unknown = untold.filter(|chord| !before.iter().any(|earlier| told(earlier, &chord.name).is_some()));
        let found = unknown.filter_map(|chord| {
            let others = lessons.iter().filter(|other| other.id != lesson.id);
            let (later, shape) = others
                .filter_map(|other| Some((other, told(other, &chord.name)?)))
                .next()?;
            Some(finding(lesson, chord, later, shape))
        });
        found.collect()
    };
    lessons.iter().flat_map(in_lesson).collect()
}

/// How it is played is said: its shape, or its fingers.
fn is_told(chord: &Chord) -> bool {
    chord.shape.is_some() || !chord.fingers.is_empty()
}

fn told<'a>(lesson: &'a Lesson, name: &ChordName) -> Option<&'a Chord> {
    lesson.chords.iter().find(|chord| chord.name == *name && is_told(chord))
}

fn finding(lesson: &Lesson, chord: &Chord, later: &Lesson, shape: &Chord) -> Finding {
    let holes: Holes = &[("chord", &chord.name), ("lesson", &later.id)];
    let finding = CHECK.says(words_of(lesson), chord.place, "", holes);
    finding.see_also(shape.shape_place.unwrap_or(shape.place), "", &[])
}
