use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::{Chord, ChordShape, Fingered};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "fingers-contradict-shape",
    severity: Severity::Error,
    family: Family::Chords,
    about: About {
        finds: "A finger of the left hand is put on another fret than the chord's shape has on that string.",
        matters: "The student follows either the shape or the fingers; one of the two is wrong.",
        trips: "[0:21] Am x02210: LH 1 on s2 f1, 2 on s4 f3, 3 on s3 f2",
        right: "[0:21] Am x02210: LH 1 on s2 f1, 2 on s4 f2, 3 on s3 f2",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.chords.iter().flat_map(in_chord).collect()
}

fn in_chord(chord: &Chord) -> Vec<Finding> {
    let Some(shape) = chord.shape else {
        return Vec::new();
    };
    let wrong = chord.fingers.iter().filter(|fingered| contradicts(fingered, shape));
    let finding = |fingered: &Fingered| {
        let Fingered {
            finger, string, fret, ..
        } = fingered;
        let has = match shape.fret(*string) {
            Some(0) => "has that string open".to_owned(),
            Some(fret) => format!("has fret {fret} there"),
            None => "does not play that string".to_owned(),
        };
        let message = format!("finger {finger} is put on string {string} fret {fret}, but {shape} {has}");
        let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
        CHECK.found(
            place,
            message,
            format!("Correct the finger's place or the shape of {}", chord.name),
        )
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
