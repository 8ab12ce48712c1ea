use crate::checks::check::words_of;
use crate::checks::{Check, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::pattern::Role;
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "variation-not-told",
    severity: Severity::Warning,
    family: Family::Joins,
    example: Example {
        trips: "[0:40] V1 (3-4): 3 p dn, 4 p dn\n[0:50] V2 (1-2): 1 p dn, 2 p dn\n[1:00] to close, the 3-4 of v3 as written above",
        right: "[0:40] V1 (3-4): 3 p dn, 4 p dn\n[0:50] V2 (1-2): 1 p dn, 2 p dn\n[1:00] to close, the 1-2 of v2 as written above",
    },
    run: Run::Remark(finding),
};

fn finding(lesson: &Lesson, told: &Said<Remark>) -> Option<Finding> {
    let Remark::NotTold { variation } = &told.value else {
        return None;
    };
    let others = lesson.patterns.iter().filter(|pattern| pattern.role != Role::Core);
    let holes: Holes = &[("variation", variation), ("many", &others.count())];
    Some(CHECK.says(words_of(lesson), told.place, "", holes))
}
