use crate::checks::check::words_of;
use crate::checks::{Check, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::{Remark, Things};

pub(in crate::checks) const CHECK: Check = Check {
    id: "list-miscounted",
    severity: Severity::Warning,
    family: Family::Text,
    example: Example {
        trips: "[0:00] soleá, 12 counts.\n[0:06] There are five accents: 3, 6, 8 and 10.",
        right: "[0:00] soleá, 12 counts.\n[0:06] There are four accents: 3, 6, 8 and 10.",
    },
    run: Run::Remark(finding),
};

fn finding(lesson: &Lesson, told: &Said<Remark>) -> Option<Finding> {
    let Remark::Listed { what, said, given } = &told.value else {
        return None;
    };
    if said == given {
        return None;
    }
    let case = match what {
        Things::Accents => "accents",
        Things::Chords => "chords",
        Things::Notes => "notes",
        Things::Points => "points",
    };
    let holes: Holes = &[("said", said), ("given", given)];
    Some(CHECK.tells(words_of(lesson), told.place, (case, ""), holes))
}
