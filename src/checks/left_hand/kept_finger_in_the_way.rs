use super::told::stories;
use super::words;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::held::{Clash, ClashKind};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "kept-finger-in-the-way",
    severity: Severity::Error,
    family: Family::LeftHand,
    about: About {
        finds: "A finger is said to stay down, and something after it needs that finger elsewhere, or the string open or lower.",
        matters: "As told it cannot sound: somewhere the finger has to be said to leave.",
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
        .map(|clash| finding(&CHECK, clash))
        .collect();
    findings.sort();
    findings.dedup_by(|one, other| one.place == other.place);
    findings
}

/// A clash in words: a finger in two places is an error, a string that sounds wrong a warning.
pub(in crate::checks) fn finding(check: &Check, clash: &Clash) -> Finding {
    let (held, needed) = (words::held(&clash.hold), words::needed(&clash.need));
    let message = format!("{held} is said to stay, but {needed}");
    let help = match clash.kind {
        ClashKind::FingerElsewhere => "Say when the finger lifts, or give one of the two to another finger",
        ClashKind::StringStopped => "Say when the finger lifts",
    };
    let finding = check.found(clash.hold.place, message, help.to_owned());
    let finding = finding.see_also(clash.need.place, "what needs it otherwise");
    match clash.kind {
        ClashKind::FingerElsewhere => finding,
        ClashKind::StringStopped => finding.weighing(Severity::Warning),
    }
}
