use super::finger_on_two_frets::two_places;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::{Chord, ChordShape, Fingered};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "fingers-contradict-shape",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:21] Am x02210: LH 1 on s2 f1, 2 on s4 f3, 3 on s3 f2",
        right: "[0:21] Am x02210: LH 1 on s2 f1, 2 on s4 f2, 3 on s3 f2",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let sure = lesson.chords.iter().filter(|chord| two_places(chord).is_none());
    let found = sure.flat_map(|chord| in_chord(words, chord));
    found.collect()
}

fn in_chord(words: &Words, chord: &Chord) -> Vec<Finding> {
    let Some(shape) = chord.shape else {
        return Vec::new();
    };
    let wrong = chord.fingers.iter().filter(|fingered| contradicts(fingered, shape));
    let finding = |fingered: &Fingered| {
        let Fingered {
            finger, string, fret, ..
        } = fingered;
        let (case, has) = match shape.fret(*string) {
            Some(fret) if fret > 0 => ("", fret),
            _ => ("open", 0),
        };
        let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
        let holes: Holes = &[
            ("finger", finger),
            ("string", string),
            ("fret", fret),
            ("shape", &shape),
            ("has", &has),
            ("chord", &chord.name),
        ];
        CHECK.says(words, place, case, holes)
    };
    wrong.map(finding).collect()
}

/// A barre may lie under other fingers, and a finger may damp a string that is not played.
fn contradicts(fingered: &Fingered, shape: ChordShape) -> bool {
    let lies = fingered.to_string != fingered.string;
    match shape.fret(fingered.string) {
        Some(fret) if lies => fret < fingered.fret,
        Some(fret) => fret != fingered.fret,
        None => false,
    }
}
