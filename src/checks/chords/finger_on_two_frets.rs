use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::{Chord, Fingered};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-on-two-frets",
    severity: Severity::Error,
    family: Family::Chords,
    about: About {
        finds: "One finger of the left hand is put on two frets of the same chord.",
        matters: "A finger is in one place. The student loses minutes looking for a grip that does not exist.",
        trips: "[0:32] Dm xx0231: LH 1 on s1 f1, 2 on s3 f2, 2 on s2 f3",
        right: "[0:32] Dm xx0231: LH 1 on s1 f1, 2 on s3 f2, 3 on s2 f3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.chords.iter().filter_map(in_chord).collect()
}

fn in_chord(chord: &Chord) -> Option<Finding> {
    let clash = |(index, second): (usize, &Fingered)| {
        let earlier = chord.fingers.iter().take(index);
        let mut earlier = earlier.filter(|first| first.finger == second.finger && first.fret != second.fret);
        earlier.next().map(|first| (*first, *second))
    };
    let (first, second) = chord.fingers.iter().enumerate().find_map(clash)?;
    let message = format!(
        "finger {} is put on string {} fret {} and on string {} fret {} of the same {}",
        second.finger, first.string, first.fret, second.string, second.fret, chord.name
    );
    let taken = |finger: &u8| chord.fingers.iter().any(|fingered| fingered.finger == *finger);
    let free: Vec<u8> = (1..=4).filter(|finger| !taken(finger)).collect();
    let help = match free.as_slice() {
        [] => "Give one of the two to another finger".to_owned(),
        free => format!(
            "Give one of the two to another finger: {} is free",
            crate::checks::counts::show_list(free)
        ),
    };
    let place = chord.fingers_place.or(chord.shape_place).unwrap_or(chord.place);
    Some(CHECK.found(place, message, help))
}
