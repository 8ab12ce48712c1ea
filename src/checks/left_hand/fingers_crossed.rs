use super::words;
use crate::checks::check::words_of;
use crate::checks::chords::finger_on_two_frets::two_places;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::Chord;
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;
use crate::music::reach::{StrainKind, fingertips, strains};

pub(in crate::checks) const CHECK: Check = Check {
    id: "fingers-crossed",
    severity: Severity::Warning,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:20] G7 320001: LH 1 on s6 f3, 2 on s5 f2, 3 on s1 f1",
        right: "[0:20] G7 320001: LH 3 on s6 f3, 2 on s5 f2, 1 on s1 f1",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let (guitar, words) = (Guitar::of(lesson), words_of(lesson));
    let sure = lesson.chords.iter().filter(|chord| two_places(chord).is_none());
    let found = sure.filter_map(|chord| in_chord(words, chord, &guitar));
    found.collect()
}

fn in_chord(words: &Words, chord: &Chord, guitar: &Guitar) -> Option<Finding> {
    let strains = strains(&fingertips(chord), guitar);
    let crossed = strains.iter().find(|strain| strain.what == StrainKind::Crossed)?;
    // What is out of reach is told by another check.
    if strains.len() > 1 && strains.iter().any(|strain| strain.what != StrainKind::Crossed) {
        return None;
    }
    let (one, other) = (words::tip(words, &crossed.one), words::tip(words, &crossed.other));
    let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
    let holes: Holes = &[("chord", &chord.name), ("one", &one), ("other", &other)];
    Some(CHECK.says(words, place, "", holes))
}
