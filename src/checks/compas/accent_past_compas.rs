use crate::checks::check::words_of;
use crate::checks::counts::last_count;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "accent-past-compas",
    severity: Severity::Error,
    family: Family::Compas,
    example: Example {
        trips: "[0:08] count 12. acc 3 6 8 10 13",
        right: "[0:08] count 12. acc 3 6 8 10 12",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let (Some(beats), Some(last)) = (&lesson.meter.beats, last_count(lesson)) else {
        return Vec::new();
    };
    let past = |count: i64| count < 1 || count > last;
    let accents = lesson.meter.accents.iter().filter(|accent| past(accent.value.whole()));
    let finding = |accent: &crate::music::lesson::Said<crate::music::position::Position>| {
        let holes: Holes = &[("accent", &accent.value), ("beats", &beats.value), ("last", &last)];
        let finding = CHECK.says(words_of(lesson), accent.place, "", holes);
        finding.see_also(beats.place, "", holes)
    };
    accents.map(finding).collect()
}
