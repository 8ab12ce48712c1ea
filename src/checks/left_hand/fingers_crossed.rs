use super::words;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::Chord;
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;
use crate::music::reach::{StrainKind, fingertips, strains};

pub(in crate::checks) const CHECK: Check = Check {
    id: "fingers-crossed",
    severity: Severity::Warning,
    family: Family::LeftHand,
    about: About {
        finds: "In a chord, a finger nearer the index lies on a higher fret than one further from it.",
        matters: "The fingers would have to cross. Most often two finger numbers have been exchanged.",
        trips: "[0:20] G7 320001: LH 1 on s6 f3, 2 on s5 f2, 3 on s1 f1",
        right: "[0:20] G7 320001: LH 3 on s6 f3, 2 on s5 f2, 1 on s1 f1",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let guitar = Guitar::of(lesson);
    let found = lesson.chords.iter().filter_map(|chord| in_chord(chord, &guitar));
    found.collect()
}

fn in_chord(chord: &Chord, guitar: &Guitar) -> Option<Finding> {
    let strains = strains(&fingertips(chord), guitar);
    let crossed = strains.iter().find(|strain| strain.what == StrainKind::Crossed)?;
    // What is out of reach is told by another check.
    if strains.len() > 1 && strains.iter().any(|strain| strain.what != StrainKind::Crossed) {
        return None;
    }
    let (one, other) = (words::tip(&crossed.one), words::tip(&crossed.other));
    let message = format!("in the {} the fingers cross: {one}, {other}", chord.name);
    let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
    let help = "Exchange the two fingers, or correct the fret".to_owned();
    Some(CHECK.found(place, message, help))
}
