use super::gap_between_spans;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "count-left-out",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[0:00] tangos, count 4\n[0:10] 1 p dn\n[0:14] 2 i dn\n[0:18] 4 i dn",
        right: "[0:00] tangos, count 4\n[0:10] 1 p dn\n[0:14] 2 i dn\n[0:16] 3 rest\n[0:18] 4 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    // Where lines announce groups of counts, the gap between two of them is the finding.
    if !gap_between_spans::look(lesson, context).is_empty() {
        return Vec::new();
    }
    lesson.remarks.iter().filter_map(|said| finding(lesson, said)).collect()
}

fn finding(lesson: &Lesson, said: &Said<Remark>) -> Option<Finding> {
    let Remark::LeftOut { count } = &said.value else {
        return None;
    };
    let holes: Holes = &[("count", count), ("before", &(count - 1)), ("after", &(count + 1))];
    Some(CHECK.says(words_of(lesson), said.place, "", holes))
}
