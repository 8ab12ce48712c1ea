use crate::checks::counts::{announced, beats};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::hand::Finger;
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "one-finger-twice",
    severity: Severity::Error,
    family: Family::Sums,
    about: About {
        finds: "Two strokes of the same moment need the same finger of the right hand, or the hand would have to go down and up at once.",
        matters: "No hand can do it: one of the two is on another moment, or with another finger.",
        trips: "[0:30] 4 p s5 f0 + p s3 f2",
        right: "[0:30] 4 p s5 f0 + i s3 f2",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let beats = beats(lesson);
    lesson
        .patterns
        .iter()
        .flat_map(|pattern| in_pattern(pattern, beats))
        .collect()
}

fn in_pattern(pattern: &Pattern, beats: Option<i64>) -> Vec<Finding> {
    let all = announced(pattern, beats);
    // Where two lines claim a count, that is the mistake, and what stands there twice follows from it.
    let claimed_twice = |first: &Stroke, second: &Stroke| {
        let count = first.at.whole();
        let holders = all
            .iter()
            .filter(|announced| announced.holds(count) && announced.counts.len() > 1);
        first.place.line != second.place.line && holders.count() > 1
    };
    let mut findings = Vec::new();
    for (index, second) in pattern.strokes.iter().enumerate() {
        let same_time = |first: &&Stroke| first.at == second.at;
        let earlier = pattern.strokes.iter().take(index).rev().take_while(same_time);
        let clash = earlier.filter_map(|first| Some((first, clash(first, second)?))).next();
        let Some((first, what)) = clash.filter(|(first, _)| !claimed_twice(first, second)) else {
            continue;
        };
        let (early, late) = if first.place.span.start <= second.place.span.start {
            (first, second)
        } else {
            (second, first)
        };
        let message = format!("at {}, {what}", second.at);
        let help = "Put one of them on the half (&), or give it another finger".to_owned();
        let finding = CHECK.found(late.place, message, help);
        findings.push(finding.see_also(early.place, format!("the other stroke at {}", second.at)));
    }
    findings
}

/// What cannot be, in words. Strokes that the left hand sounds need no finger of the right; a golpe is for another check.
fn clash(first: &Stroke, second: &Stroke) -> Option<String> {
    if !plays_strings(first) || !plays_strings(second) {
        return None;
    }
    let finger = first
        .fingers
        .iter()
        .copied()
        .find(|finger| second.fingers.contains(finger));
    if let Some(finger) = finger.filter(|finger| !pushes_through(*finger, first, second)) {
        return Some(format!(
            "{} plays twice: {} and {}",
            name(finger),
            verb(first),
            verb(second)
        ));
    }
    let unnamed = first.fingers.is_empty() || second.fingers.is_empty();
    let opposite = matches!(
        (first.action, second.action),
        (Action::Down, Action::Up) | (Action::Up, Action::Down)
    );
    (opposite && unnamed).then(|| "the hand goes down and up at once".to_owned())
}

/// The thumb can push through two neighbouring strings in one movement.
fn pushes_through(finger: Finger, first: &Stroke, second: &Stroke) -> bool {
    let plucked = |stroke: &Stroke| stroke.action == Action::Pluck;
    match (first.strings.as_slice(), second.strings.as_slice()) {
        ([one], [other]) => finger == Finger::P && plucked(first) && plucked(second) && one.abs_diff(*other) == 1,
        _ => false,
    }
}

fn plays_strings(stroke: &Stroke) -> bool {
    match stroke.action {
        Action::Down
        | Action::Up
        | Action::Pluck
        | Action::Rasgueado
        | Action::Roll
        | Action::Tremolo
        | Action::Picado
        | Action::Alzapua => true,
        Action::Golpe | Action::PullOff | Action::HammerOn | Action::Damp | Action::Rest => false,
    }
}

fn name(finger: Finger) -> &'static str {
    match finger {
        Finger::P => "the thumb",
        Finger::I => "the index",
        Finger::M => "the middle finger",
        Finger::A => "the ring finger",
        Finger::X => "the little finger",
    }
}

fn verb(stroke: &Stroke) -> &'static str {
    match stroke.action {
        Action::Down => "a stroke down",
        Action::Up => "a stroke up",
        Action::Pluck => "a plucked note",
        Action::Rasgueado => "a rasgueado",
        Action::Roll => "an arpeggio",
        Action::Tremolo => "a tremolo",
        Action::Picado => "a picado note",
        Action::Alzapua => "an alzapúa",
        Action::Golpe => "a golpe",
        Action::PullOff => "a pull-off",
        Action::HammerOn => "a hammer-on",
        Action::Damp => "damping",
        Action::Rest => "a rest",
    }
}
