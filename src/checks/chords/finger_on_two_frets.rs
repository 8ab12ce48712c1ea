use crate::checks::check::words_of;
use crate::checks::left_hand;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::{Chord, Fingered};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-on-two-frets",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:32] Dm xx0231: LH 1 on s1 f1, 2 on s3 f2, 2 on s2 f3",
        right: "[0:32] Dm xx0231: LH 1 on s1 f1, 2 on s3 f2, 3 on s2 f3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let found = lesson.chords.iter().filter_map(|chord| in_chord(words, chord));
    found.collect()
}

/// One finger in two places: what else is wrong with the fingers then follows from it.
pub(in crate::checks) fn two_places(chord: &Chord) -> Option<(Fingered, Fingered)> {
    let clash = |(index, second): (usize, &Fingered)| {
        let earlier = chord.fingers.iter().take(index);
        let mut earlier = earlier.filter(|first| first.finger == second.finger && first.fret != second.fret);
        earlier.next().map(|first| (*first, *second))
    };
    chord.fingers.iter().enumerate().find_map(clash)
}

fn in_chord(words: &Words, chord: &Chord) -> Option<Finding> {
    let (first, second) = two_places(chord)?;
    let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
    let (one, two) = (
        left_hand::words::place(words, first.string, first.fret),
        left_hand::words::place(words, second.string, second.fret),
    );
    let taken = |finger: &u8| chord.fingers.iter().any(|fingered| fingered.finger == *finger);
    let free: Vec<u8> = (1..=4).filter(|finger| !taken(finger)).collect();
    let case = match free.as_slice() {
        [] => "",
        [_] => "free",
        _ => "some_free",
    };
    let free = words.list(&free);
    let holes: Holes = &[
        ("finger", &second.finger),
        ("one", &one),
        ("two", &two),
        ("chord", &chord.name),
        ("free", &free),
    ];
    Some(CHECK.says(words, place, case, holes))
}
