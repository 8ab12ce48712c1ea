use super::told::stories;
use super::words;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::held::{Clash, ClashKind};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "kept-finger-in-the-way",
    severity: Severity::Error,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:20] 1 p s5 f3 (C), keep LH3 s5 f3\n[0:24] 2 p s5 f1",
        right: "[0:20] 1 p s5 f3 (C), keep LH3 s5 f3\n[0:24] 2 lift LH3, p s5 f1",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let stories = stories(lesson, context.palos);
    let clashes = stories.iter().flat_map(|told| &told.clashes);
    let mut findings: Vec<Finding> = clashes
        .filter(|clash| clash.hold.kept)
        .map(|clash| finding(words_of(lesson), &CHECK, clash, 0))
        .collect();
    findings.sort();
    findings.dedup_by(|one, other| one.place == other.place);
    findings
}

/// A clash in words: a finger in two places is an error, a string that sounds wrong a warning. `count` is where a round
/// goes on, for the check that asks for it.
pub(in crate::checks) fn finding(words: &Words, check: &Check, clash: &Clash, count: i64) -> Finding {
    let (held, needed) = (words::held(words, &clash.hold), words::needed(words, &clash.need));
    let case = match clash.kind {
        ClashKind::FingerElsewhere => "elsewhere",
        ClashKind::StringStopped => "stopped",
    };
    let holes: Holes = &[("held", &held), ("needed", &needed), ("count", &count)];
    let finding = check.says(words, clash.hold.place, case, holes);
    let finding = finding.see_also(clash.need.place, "", &[]);
    match clash.kind {
        ClashKind::FingerElsewhere => finding,
        ClashKind::StringStopped => finding.weighing(Severity::Warning),
    }
}
