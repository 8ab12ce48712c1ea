use crate::checks::check::words_of;
use crate::checks::{Check, Example, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::Remark;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stroke-misexplained",
    severity: Severity::Warning,
    family: Family::RightHand,
    example: Example {
        trips: "[0:00] tangos\n[0:20] Rest stroke, that is, the finger never touches the next string",
        right: "[0:00] tangos\n[0:20] Rest stroke, that is, the finger lands on the next string",
    },
    run: Run::Remark(finding),
};

/// A rest stroke lands on the string next to it, a free stroke does not; a strum down goes from the sixth string to the
/// first, towards the floor (common practice, no source).
fn finding(lesson: &Lesson, told: &Said<Remark>) -> Option<Finding> {
    match told.value {
        Remark::StrokeExplained { rest_stroke, lands } if rest_stroke != lands => {
            let case = if rest_stroke { "rest" } else { "free" };
            Some(CHECK.says(words_of(lesson), told.place, case, &[]))
        }
        Remark::StrumExplained { down, to_the_floor } if down != to_the_floor => {
            let case = if down { "down" } else { "up" };
            Some(CHECK.tells(words_of(lesson), told.place, (case, ""), &[]))
        }
        _ => None,
    }
}
