use super::words::name;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::hand::Finger;
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "golpe-with-busy-finger",
    severity: Severity::Warning,
    family: Family::RightHand,
    about: About {
        finds: "A golpe is to be knocked with a finger that plays the strings at the same moment.",
        matters: "The finger is on the strings or on the plate, not on both. Usually the stroke is another finger's.",
        trips: "[0:20] 3 a dn + golpe (a)",
        right: "[0:20] 3 i dn + golpe (a)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

fn in_pattern(pattern: &Pattern) -> Vec<Finding> {
    let golpes = pattern.strokes.iter().filter(|stroke| stroke.action == Action::Golpe);
    let clash = |golpe: &Stroke| {
        let meets = pattern.strokes.iter().filter(|stroke| stroke.at == golpe.at);
        let busy = |stroke: &&Stroke| golpe.fingers.iter().copied().find(|finger| is_busy(stroke, *finger));
        let (stroke, finger) = meets.filter_map(|stroke| Some((stroke, busy(&stroke)?))).next()?;
        Some(finding(golpe, stroke, finger))
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

fn finding(golpe: &Stroke, stroke: &Stroke, finger: Finger) -> Finding {
    let message = format!(
        "at {}, {} is to play the strings and to knock the golpe",
        golpe.at,
        name(finger)
    );
    let help = "Give the stroke to another finger, or put the golpe on another moment".to_owned();
    CHECK
        .found(golpe.place, message, help)
        .see_also(stroke.place, "the stroke that the finger plays")
}
