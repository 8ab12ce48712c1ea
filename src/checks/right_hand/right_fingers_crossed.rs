use super::words::name;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::hand::{Finger, GuitarString};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "right-fingers-crossed",
    severity: Severity::Warning,
    family: Family::RightHand,
    about: About {
        finds: "Two fingers of the right hand pluck at the same moment, and the one nearer the thumb plays the higher string.",
        matters: "The fingers would have to cross. Most often two strings or two fingers have been exchanged.",
        trips: "[0:20] 2: i s1 + m s3",
        right: "[0:20] 2: i s3 + m s1",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

fn in_pattern(pattern: &Pattern) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, second) in pattern.strokes.iter().enumerate() {
        let Some(own) = plucked(second) else { continue };
        let earlier = pattern.strokes.iter().take(index).filter(|first| first.at == second.at);
        let crossed = earlier.filter_map(|first| Some((first, plucked(first)?)));
        let crossed = crossed.filter(|(_, other)| is_crossed(*other, own));
        findings.extend(crossed.map(|(first, other)| finding(first, other, second, own)).next());
    }
    findings
}

/// Finger and string of a single plucked note.
fn plucked(stroke: &Stroke) -> Option<(Finger, GuitarString)> {
    match (stroke.action, stroke.fingers.as_slice(), stroke.strings.as_slice()) {
        (Action::Pluck | Action::Picado, [finger], [string]) => Some((*finger, *string)),
        _ => None,
    }
}

/// From the thumb to the little finger the strings go up: their numbers go down.
fn is_crossed(one: (Finger, GuitarString), other: (Finger, GuitarString)) -> bool {
    (one.0 < other.0 && one.1 < other.1) || (one.0 > other.0 && one.1 > other.1)
}

fn finding(first: &Stroke, one: (Finger, GuitarString), second: &Stroke, other: (Finger, GuitarString)) -> Finding {
    let message = format!(
        "at {}, {} plucks string {} and {} string {}: the fingers cross",
        second.at,
        name(one.0),
        one.1,
        name(other.0),
        other.1
    );
    let help = "Exchange the two fingers or the two strings".to_owned();
    CHECK
        .found(second.place, message, help)
        .see_also(first.place, "the other note of the moment")
}
