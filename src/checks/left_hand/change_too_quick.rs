use num_rational::Ratio;

use crate::checks::check::words_of;
use crate::checks::compas::tempo_implausible::is_absurd;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::held::Hold;
use crate::music::joins::{HUMANLY_POSSIBLE_MS, HandChange, LeftWork, changes};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "change-too-quick",
    severity: Severity::Warning,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:00] rumba, tempo 160\n[0:12] Am x02210, G 320003\n[0:20] 1: i dn (Am), 2: i dn, 3: i dn\n[0:28] 4: p dn, & p up\n[0:32] 4+3/4: G, i dn",
        right: "[0:00] rumba, tempo 110\n[0:12] Am x02210, G 320003\n[0:20] 1: i dn (Am), 2: i dn, 3: i dn\n[0:28] 4: p dn, & p up\n[0:32] 4+3/4: G, i dn",
    },
    run: Run::Lesson(look),
};

/// Half of the quickest cycle ever measured, and a little: no movement at all is done in that.
const NO_HAND_MS: i64 = 60;

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    // The palo's tempo is ours, not the teacher's: nothing is held against it.
    if lesson.tempo.is_none() || is_absurd(lesson, context) {
        return Vec::new();
    }
    let changes = changes(lesson, context.palos);
    let found = changes.iter().filter_map(|change| finding(words_of(lesson), change));
    found.collect()
}

fn finding(words: &Words, change: &HandChange) -> Option<Finding> {
    let millis = change.left.millis?;
    let quick = millis < Ratio::from_integer(HUMANLY_POSSIBLE_MS) && millis > Ratio::from_integer(0);
    if !quick || fingers_to_place(&change.left) < 2 {
        return None;
    }
    let time = millis.round().to_integer();
    let holes: Holes = &[("chord", &change.chord), ("at", &change.at), ("ms", &time)];
    let finding = CHECK.says(words, change.place, "", holes);
    let no_hand = millis < Ratio::from_integer(NO_HAND_MS);
    Some(if no_hand {
        finding
    } else {
        finding.weighing(Severity::Note)
    })
}

/// Fingers that have to find a place of their own. A grip that slides along its strings moves as one, and a barre
/// that is laid behind it is one finger more.
fn fingers_to_place(left: &LeftWork) -> usize {
    let step = |press: &&Hold| {
        let from = left.lifts.iter().find(|lift| lift.string == press.string)?;
        Some(i16::from(press.fret) - i16::from(from.fret))
    };
    let steps: Vec<i16> = left.presses.iter().filter_map(|press| step(&press)).collect();
    let slides = |press: &&Hold| step(press).is_some_and(|own| steps.iter().filter(|other| **other == own).count() > 1);
    let mut frets: Vec<(Option<u8>, u8)> = left
        .presses
        .iter()
        .filter(|press| !slides(press))
        .map(own_finger)
        .collect();
    frets.sort_unstable();
    frets.dedup();
    frets.len()
}

/// One entry for each finger: by its number where said, else by the fret that one finger may lie across.
fn own_finger(press: &Hold) -> (Option<u8>, u8) {
    match press.finger {
        Some(finger) => (Some(finger), 0),
        None => (None, press.fret),
    }
}
