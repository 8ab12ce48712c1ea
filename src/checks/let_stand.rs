use std::collections::BTreeSet;

use super::{About, Check, Family, Judged, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, LetStand};

pub(super) const UNUSED: Check = Check {
    id: "unused-let-stand",
    severity: Severity::Warning,
    family: Family::Text,
    about: About {
        finds: "A note asks for findings to be let stand, but there are none of that kind in it, or the check does not exist.",
        matters: "A leftover would hide a real mistake made later, when nobody remembers the reason.",
        trips: "[0:10] tempo 60\n(let stand tempo-implausible: we start slowly)",
        right: "[0:10] tempo 60",
    },
    run: Run::Elsewhere,
};

pub(super) const WITHOUT_REASON: Check = Check {
    id: "let-stand-without-reason",
    severity: Severity::Warning,
    family: Family::Text,
    about: About {
        finds: "A note asks for findings to be let stand and gives no reason; they are shown all the same.",
        matters: "Next year, nobody knows whether the odd place was meant.",
        trips: "[0:10] tientos, tempo 240\n(let stand tempo-implausible)",
        right: "[0:10] tientos, tempo 240\n(let stand tempo-implausible: 240 is the speed of the click, four to a count)",
    },
    run: Run::Elsewhere,
};

/// Takes out the findings that a note lets stand, and adds those about the requests themselves.
///
/// A request holds for its own note and one check. These two checks cannot be let stand themselves.
pub(super) fn settle(findings: Vec<Finding>, lessons: &[Lesson]) -> Judged {
    let requests: Vec<&LetStand> = lessons.iter().flat_map(|lesson| &lesson.let_stand).collect();
    let mut used = BTreeSet::new();
    let mut judged = Judged::default();
    for finding in findings {
        let asked = |request: &&LetStand| request.rule == finding.rule && request.place.file == finding.place.file;
        match requests.iter().position(asked) {
            Some(index) => {
                used.insert(index);
                match requests.get(index).filter(|request| !request.reason.trim().is_empty()) {
                    Some(request) => judged.let_stand.push((finding, request.reason.trim().to_owned())),
                    None => judged.findings.push(finding),
                }
            }
            None => judged.findings.push(finding),
        }
    }
    for (index, request) in requests.iter().enumerate() {
        judged.findings.extend(about_request(request, used.contains(&index)));
    }
    judged.findings.sort();
    judged
}

fn about_request(request: &LetStand, used: bool) -> Option<Finding> {
    let rule = &request.rule;
    if super::find(rule).is_none() {
        let message = format!("there is no check named {rule}, so nothing is let stand");
        return Some(UNUSED.found(request.place, message, super::nearest(rule)));
    }
    if !used {
        let message = format!("nothing in this note trips {rule}, so there is nothing to let stand");
        return Some(UNUSED.found(request.place, message, "Take the line out".to_owned()));
    }
    if request.reason.trim().is_empty() {
        let message = format!("{rule} is to be let stand here, but no reason is given");
        let help = format!("Write why: `(let stand {rule}: …)`");
        return Some(WITHOUT_REASON.found(request.place, message, help));
    }
    None
}
