use crate::checks::check::words_of;
use crate::checks::left_hand;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::chord::{Chord, Fingered};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

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
    let chords = lesson.chords.iter().filter_map(|chord| in_chord(words, chord));
    let at_once = lesson.patterns.iter().flat_map(|pattern| at_one_moment(words, pattern));
    chords.chain(at_once).collect()
}

/// Two notes that sound together, told with one and the same finger on different frets.
fn at_one_moment(words: &Words, pattern: &Pattern) -> Vec<Finding> {
    let stopped = |stroke: &Stroke| {
        let told = stroke.implied.is_none() && stroke.action == Action::Pluck;
        let (string, fret) = (*stroke.strings.first()?, stroke.fret?);
        let finger = stroke.left.filter(|finger| *finger > 0)?;
        (told && fret > 0 && stroke.strings.len() == 1).then_some((finger, string, fret))
    };
    let clash = |(index, second): (usize, &Stroke)| {
        let (finger, string, fret) = stopped(second)?;
        let earlier = pattern.strokes.iter().take(index).filter(|first| first.at == second.at);
        let (_, other, at) = earlier
            .filter_map(stopped)
            .find(|first| first.0 == finger && first.2 != fret)?;
        let (one, two) = (
            left_hand::words::place(words, other, at),
            left_hand::words::place(words, string, fret),
        );
        let holes: Holes = &[("finger", &finger), ("one", &one), ("two", &two), ("at", &second.at)];
        Some(CHECK.tells(words, second.place, ("moment", ""), holes))
    };
    pattern.strokes.iter().enumerate().filter_map(clash).collect()
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
