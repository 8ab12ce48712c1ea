use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::Chord;
use crate::music::lesson::Lesson;
use crate::music::reach::fewest_fingers;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-many-fingers",
    severity: Severity::Warning,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:20] A 547655",
        right: "[0:20] A x02220",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let found = lesson.chords.iter().filter_map(|chord| in_chord(words, chord));
    found.collect()
}

fn in_chord(words: &Words, chord: &Chord) -> Option<Finding> {
    let shape = chord.shape?;
    let fingers = fewest_fingers(&shape);
    // The thumb over the neck can be a fifth; then it is said.
    let thumb = usize::from(chord.fingers.iter().any(|fingered| fingered.finger == 0));
    if fingers <= 4 + thumb {
        return None;
    }
    let place = chord.shape_place.unwrap_or(chord.place);
    let holes: Holes = &[("shape", &shape), ("chord", &chord.name), ("fingers", &fingers)];
    Some(CHECK.says(words, place, "", holes))
}
