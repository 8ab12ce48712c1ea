use super::told::stories;
use super::words;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::held::{By, Clash, chord_named, is_ligado};
use crate::music::lesson::Lesson;
use crate::music::reach::fewest_fingers;
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "open-string-under-barre",
    severity: Severity::Note,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:20] Bb x13331\n[0:24] 1 p dn (Bb)\n[0:28] 2 p s5 f0 (A)",
        right: "[0:20] Bb x13331\n[0:24] 1 p dn (Bb)\n[0:28] 2 lift, p s5 f0 (A)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let stories = stories(lesson, context.palos);
    let clashes = stories.iter().flat_map(|told| &told.clashes);
    let under = clashes.filter(|clash| !clash.hold.kept && in_one_pattern(lesson, clash) && lies_across(lesson, clash));
    let mut findings: Vec<Finding> = under.map(|clash| finding(words_of(lesson), clash)).collect();
    findings.sort();
    findings.dedup_by(|one, other| one.place == other.place);
    findings
}

/// Chord and note stand in the same pattern. A variation of single notes leaves the core's chord without saying so.
fn in_one_pattern(lesson: &Lesson, clash: &Clash) -> bool {
    lesson.patterns.iter().any(|pattern| {
        let changes = pattern.changes.iter().any(|change| change.place == clash.hold.place);
        // A pull-off to the open string takes its finger away by itself.
        let plucked = |stroke: &Stroke| stroke.place == clash.need.place && !is_ligado(stroke);
        changes && pattern.strokes.iter().any(plucked)
    })
}

/// The chord is held by a finger lying over several strings, and that finger is in the way.
fn lies_across(lesson: &Lesson, clash: &Clash) -> bool {
    if clash.hold.to_string > clash.hold.string {
        return true;
    }
    let By::Chord(name) = &clash.hold.by else {
        return false;
    };
    let Some(shape) = chord_named(lesson, name).and_then(|chord| chord.shape) else {
        return false;
    };
    let stopped = shape.frets.iter().flatten().filter(|fret| **fret > 0);
    let lowest = stopped.clone().min();
    let at_lowest = stopped.clone().filter(|fret| Some(*fret) == lowest).count();
    let open = shape.frets.contains(&Some(0));
    !open && at_lowest > 1 && fewest_fingers(&shape) < stopped.count() && lowest == Some(&clash.hold.fret)
}

fn finding(words: &Words, clash: &Clash) -> Finding {
    let string = words::place(words, clash.need.string, 0);
    let chord = match &clash.hold.by {
        By::Chord(name) => words.phrase("the_chord", &[("chord", name)]),
        By::Put | By::Note => words.phrase("this_chord", &[]),
    };
    let holes: Holes = &[("string", &string), ("chord", &chord), ("fret", &clash.hold.fret)];
    let finding = CHECK.says(words, clash.need.place, "", holes);
    finding.see_also(clash.hold.place, "", &[])
}
