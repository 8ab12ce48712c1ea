use crate::checks::check::words_of;
use crate::checks::{Check, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "groups-miscounted",
    severity: Severity::Warning,
    family: Family::Compas,
    example: Example {
        trips: "[0:06] 12 counts, built as 3 and 3 and 2 and 2 and 3",
        right: "[0:06] 12 counts, built as 3 and 3 and 2 and 2 and 2",
    },
    run: Run::Remark(finding),
};

fn finding(lesson: &Lesson, said: &Said<Remark>) -> Option<Finding> {
    let Remark::Groups { parts, total } = &said.value else {
        return None;
    };
    let sum: i64 = parts.iter().sum();
    let beats = lesson.meter.beats.as_ref().map(|beats| beats.value);
    let (case, counts) = match total {
        Some(total) if *total != sum => ("total", *total),
        Some(_) => return None,
        None => ("", beats.filter(|beats| !fits(parts, sum, *beats))?),
    };
    let shown: Vec<String> = parts.iter().map(i64::to_string).collect();
    let holes: Holes = &[("groups", &shown.join("+")), ("sum", &sum), ("counts", &counts)];
    let finding = CHECK.says(words_of(lesson), said.place, case, holes);
    Some(match &lesson.meter.beats {
        Some(beats) if case.is_empty() => finding.see_also(beats.place, "", holes),
        _ => finding,
    })
}

/// The groups are of counts, of halves of counts (3+3+2 in four), or of the pulses of uneven counts (2+2+3+3+2 in five).
fn fits(parts: &[i64], sum: i64, beats: i64) -> bool {
    let uneven = i64::try_from(parts.len()) == Ok(beats);
    beats <= 0 || uneven || sum % beats == 0 || beats % sum == 0
}
