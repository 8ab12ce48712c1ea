use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::{Chord, ChordShape};
use crate::music::hand::{Fret, GuitarString};
use crate::music::lesson::Lesson;
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "string-without-finger",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:20] Bb x13331: LH 1 on s5 f1, 2 on s4 f3, 3 on s3 f3, 4 on s2 f3. No bar.",
        right: "[0:20] Bb x13331: LH 1 on s5 f1, 2 on s4 f3, 3 on s3 f3, 4 on s2 f3.",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let no_barre = |chord: &Chord| {
        let denied = |remark: &Remark| matches!(remark, Remark::NoBarre { chord: denied } if *denied == chord.name);
        lesson.remarks.iter().any(|said| denied(&said.value))
    };
    let found = lesson
        .chords
        .iter()
        .filter_map(|chord| in_chord(words, chord, no_barre(chord)));
    found.collect()
}

fn in_chord(words: &Words, chord: &Chord, no_barre: bool) -> Option<Finding> {
    let shape = chord.shape.filter(|_| !chord.fingers.is_empty())?;
    let bare: Vec<(GuitarString, Fret)> = stopped(shape)
        .filter(|place| !is_covered(chord, *place, no_barre))
        .collect();
    let free = (1..=4).filter(|finger| chord.fingers.iter().all(|fingered| fingered.finger != *finger));
    let (string, fret) = *bare.get(free.count())?;
    let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
    let case = if no_barre { "denied" } else { "" };
    let holes: Holes = &[
        ("chord", &chord.name),
        ("shape", &shape),
        ("string", &string),
        ("fret", &fret),
    ];
    Some(CHECK.says(words, place, case, holes))
}

fn stopped(shape: ChordShape) -> impl Iterator<Item = (GuitarString, Fret)> {
    let place = move |string| shape.fret(string).filter(|fret| *fret > 0).map(|fret| (string, fret));
    (1..=6).filter_map(place)
}

/// A finger stands there or lies over it; where no barre is denied, one at the same fret may lie down unsaid.
fn is_covered(chord: &Chord, (string, fret): (GuitarString, Fret), no_barre: bool) -> bool {
    chord.fingers.iter().any(|fingered| {
        let (low, high) = (
            fingered.string.min(fingered.to_string),
            fingered.string.max(fingered.to_string),
        );
        fingered.fret == fret && (!no_barre || (low..=high).contains(&string))
    })
}
