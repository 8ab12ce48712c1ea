use crate::checks::check::words_of;
use crate::checks::counts::{announced, beats};
use crate::checks::right_hand::words::name;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::hand::Finger;
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "one-finger-twice",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
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
        .flat_map(|pattern| in_pattern(words_of(lesson), pattern, beats))
        .collect()
}

fn in_pattern(words: &Words, pattern: &Pattern, beats: Option<i64>) -> Vec<Finding> {
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
        let Some((first, clash)) = clash.filter(|(first, _)| !claimed_twice(first, second)) else {
            continue;
        };
        let (early, late) = if first.place.span.start <= second.place.span.start {
            (first, second)
        } else {
            (second, first)
        };
        findings.push(finding(words, &clash, early, late));
    }
    findings
}

/// What cannot be.
enum Clash {
    /// A finger plays twice at once.
    Finger(Finger),
    /// The hand goes down and up at once.
    Hand,
}

fn finding(words: &Words, clash: &Clash, early: &Stroke, late: &Stroke) -> Finding {
    let (case, finger) = match clash {
        Clash::Finger(finger) => ("", name(words, *finger)),
        Clash::Hand => ("hand", String::new()),
    };
    let (one, two) = (stroke(words, early), stroke(words, late));
    let holes: Holes = &[("at", &late.at), ("finger", &finger), ("one", &one), ("two", &two)];
    let finding = CHECK.says(words, late.place, case, holes);
    finding.see_also(early.place, "", holes)
}

/// `a stroke down`.
fn stroke(words: &Words, stroke: &Stroke) -> String {
    let key = match stroke.action {
        Action::Down => "stroke_down",
        Action::Up => "stroke_up",
        Action::Pluck => "stroke_pluck",
        Action::Rasgueado => "stroke_rasgueado",
        Action::Roll => "stroke_roll",
        Action::Tremolo => "stroke_tremolo",
        Action::Picado => "stroke_picado",
        Action::Alzapua => "stroke_alzapua",
        Action::Golpe | Action::PullOff | Action::HammerOn | Action::Damp | Action::Rest => "stroke_other",
    };
    words.phrase(key, &[])
}

/// Strokes that the left hand sounds need no finger of the right; a golpe is for another check.
fn clash(first: &Stroke, second: &Stroke) -> Option<Clash> {
    if !plays_strings(first) || !plays_strings(second) {
        return None;
    }
    let mut shared = first
        .fingers
        .iter()
        .copied()
        .filter(|finger| second.fingers.contains(finger));
    if let Some(finger) = shared.find(|finger| !pushes_through(*finger, first, second)) {
        return Some(Clash::Finger(finger));
    }
    let unnamed = first.fingers.is_empty() || second.fingers.is_empty();
    let opposite = matches!(
        (first.action, second.action),
        (Action::Down, Action::Up) | (Action::Up, Action::Down)
    );
    (opposite && unnamed).then_some(Clash::Hand)
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
