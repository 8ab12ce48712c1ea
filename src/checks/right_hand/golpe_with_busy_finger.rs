use super::words::name;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::hand::Finger;
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "golpe-with-busy-finger",
    severity: Severity::Warning,
    family: Family::RightHand,
    example: Example {
        trips: "[0:20] 3 a dn + golpe (a)",
        right: "[0:20] 3 i dn + golpe (a)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let found = lesson.patterns.iter().flat_map(|pattern| in_pattern(words, pattern));
    found.collect()
}

fn in_pattern(words: &Words, pattern: &Pattern) -> Vec<Finding> {
    let golpes = pattern.strokes.iter().filter(|stroke| stroke.action == Action::Golpe);
    let clash = |golpe: &Stroke| {
        let meets = pattern.strokes.iter().filter(|stroke| stroke.at == golpe.at);
        let busy = |stroke: &&Stroke| golpe.fingers.iter().copied().find(|finger| is_busy(stroke, *finger));
        let (stroke, finger) = meets.filter_map(|stroke| Some((stroke, busy(&stroke)?))).next()?;
        Some(finding(words, golpe, stroke, finger))
    };
    golpes.filter_map(clash).collect()
}

/// True when the finger plays the strings at the very moment of the stroke. In a rasgueado only the first one does.
fn is_busy(stroke: &Stroke, finger: Finger) -> bool {
    match stroke.action {
        Action::Down | Action::Up | Action::Pluck | Action::Picado => stroke.fingers.contains(&finger),
        Action::Rasgueado | Action::Roll | Action::Tremolo | Action::Alzapua => stroke.fingers.first() == Some(&finger),
        Action::Golpe | Action::PullOff | Action::HammerOn | Action::Damp | Action::Rest => false,
    }
}

fn finding(words: &Words, golpe: &Stroke, stroke: &Stroke, finger: Finger) -> Finding {
    let holes: Holes = &[("at", &golpe.at), ("finger", &name(words, finger))];
    CHECK
        .says(words, golpe.place, "", holes)
        .see_also(stroke.place, "", &[])
}
