use crate::checks::counts::last_count;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "accent-past-compas",
    severity: Severity::Error,
    family: Family::Compas,
    about: About {
        finds: "An accent stands on a count that the compás does not have.",
        matters: "The accents are what a student claps first; one that never comes makes the whole row doubtful.",
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
        let message = format!(
            "an accent is on {}, but the compás has {} counts",
            accent.value, beats.value
        );
        let help = format!("Put it on one of 1 to {last}, or correct the number of counts");
        let finding = CHECK.found(accent.place, message, help);
        finding.see_also(beats.place, format!("{} counts are said here", beats.value))
    };
    accents.map(finding).collect()
}
