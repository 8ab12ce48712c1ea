use std::collections::BTreeSet;

use super::{Check, Context, Example, Family, Judged, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::LetStand;

pub(super) const UNUSED: Check = Check {
    id: "unused-let-stand",
    severity: Severity::Warning,
    family: Family::Text,
    example: Example {
        trips: "[0:10] tempo 60\n(let stand tempo-implausible: we start slowly)",
        right: "[0:10] tempo 60",
    },
    run: Run::Elsewhere,
};

pub(super) const WITHOUT_REASON: Check = Check {
    id: "let-stand-without-reason",
    severity: Severity::Warning,
    family: Family::Text,
    example: Example {
        trips: "[0:10] tientos, tempo 240\n(let stand tempo-implausible)",
        right: "[0:10] tientos, tempo 240\n(let stand tempo-implausible: 240 is the speed of the click, four to a count)",
    },
    run: Run::Elsewhere,
};

/// Takes out the findings that a note lets stand, and adds those about the requests themselves.
///
/// A request holds for its own note and one check. These two checks cannot be let stand themselves.
pub(super) fn settle(findings: Vec<Finding>, context: &Context) -> Judged {
    let lessons = context.lessons.iter();
    let requests: Vec<&LetStand> = lessons.flat_map(|lesson| &lesson.let_stand).collect();
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
        judged
            .findings
            .extend(about_request(request, used.contains(&index), context));
    }
    judged.findings.sort();
    judged
}

fn about_request(request: &LetStand, used: bool, context: &Context) -> Option<Finding> {
    let (rule, words) = (&request.rule, context.words_at(&request.place));
    if super::find(rule).is_none() {
        let finding = UNUSED.tells(words, request.place, ("unknown", ""), &[("rule", rule)]);
        return Some(Finding {
            help: super::suggestion(rule, words),
            ..finding
        });
    }
    if !used {
        return Some(UNUSED.says(words, request.place, "", &[("rule", rule)]));
    }
    if request.reason.trim().is_empty() {
        return Some(WITHOUT_REASON.says(words, request.place, "", &[("rule", rule)]));
    }
    None
}
