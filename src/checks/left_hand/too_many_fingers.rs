use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::Chord;
use crate::music::lesson::Lesson;
use crate::music::reach::fewest_fingers;

pub(in crate::checks) const CHECK: Check = Check {
    id: "too-many-fingers",
    severity: Severity::Warning,
    family: Family::LeftHand,
    about: About {
        finds: "A chord's shape takes more than four fingers, even where one lies over several strings.",
        matters: "There are four. A fret is wrong, or a string is meant to be left out.",
        trips: "[0:20] A 547655",
        right: "[0:20] A x02220",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.chords.iter().filter_map(in_chord).collect()
}

fn in_chord(chord: &Chord) -> Option<Finding> {
    let shape = chord.shape?;
    let fingers = fewest_fingers(&shape);
    // The thumb over the neck can be a fifth; then it is said.
    let thumb = usize::from(chord.fingers.iter().any(|fingered| fingered.finger == 0));
    if fingers <= 4 + thumb {
        return None;
    }
    let message = format!(
        "{shape}, given for {}, takes {fingers} fingers, and a hand has four",
        chord.name
    );
    let place = chord.shape_place.unwrap_or(chord.place);
    Some(CHECK.found(
        place,
        message,
        "Correct the shape, or leave out a string (x)".to_owned(),
    ))
}
