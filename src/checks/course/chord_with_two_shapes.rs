use std::collections::BTreeMap;

use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::{Chord, ChordName, ChordShape};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "chord-with-two-shapes",
    severity: Severity::Note,
    family: Family::Course,
    example: Example {
        trips: "[0:12] Bb x13331\n\n(and in another note: Bb x1333x)",
        right: "[0:12] Bb x13331\n\n(and in the other note the same)",
    },
    run: Run::Course(look),
};

/// Told once for each further shape of a name, where it first stands.
fn look(lessons: &[Lesson], _context: &Context) -> Vec<Finding> {
    let mut first: BTreeMap<&ChordName, (&Chord, ChordShape, &Lesson)> = BTreeMap::new();
    let mut told: Vec<(&ChordName, ChordShape)> = Vec::new();
    let mut findings = Vec::new();
    for lesson in lessons {
        for chord in &lesson.chords {
            let Some(shape) = chord.shape else { continue };
            let (before, other, home) = *first.entry(&chord.name).or_insert((chord, shape, lesson));
            if other == shape || told.contains(&(&chord.name, shape)) {
                continue;
            }
            told.push((&chord.name, shape));
            let place = chord.shape_place.unwrap_or(chord.place);
            let case = if home.id == lesson.id { "here" } else { "" };
            let holes: Holes = &[
                ("chord", &chord.name),
                ("shape", &shape),
                ("other", &other),
                ("lesson", &home.id),
            ];
            let finding = CHECK.says(words_of(lesson), place, case, holes);
            let home = before.shape_place.unwrap_or(before.place);
            findings.push(finding.see_also(home, "", holes));
        }
    }
    findings
}
