use super::pace::{top, with_passages};
use super::words::name;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::right_hand::repeats;
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-repeats",
    severity: Severity::Note,
    family: Family::RightHand,
    example: Example {
        trips: "[0:00] farruca, tempo 120\n[1:00] 3 four semiquavers, picado: i s1 f3, m s1 f1, m s1 f0, i s2 f3",
        right: "[0:00] farruca, tempo 120\n[1:00] 3 four semiquavers, picado: i s1 f3, m s1 f1, i s1 f0, m s2 f3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let Some((round, top)) = top(lesson, context) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for pattern in &lesson.patterns {
        let pattern = with_passages(pattern, &round);
        let pairs = repeats(&pattern, &round, top);
        findings.extend(
            pairs
                .into_iter()
                .filter_map(|(first, second)| finding(words_of(lesson), first, second)),
        );
    }
    findings
}

fn finding(words: &Words, first: &Stroke, second: &Stroke) -> Option<Finding> {
    let finger = name(words, *second.fingers.first()?);
    let holes: Holes = &[("finger", &finger), ("first", &first.at), ("second", &second.at)];
    Some(
        CHECK
            .says(words, second.place, "", holes)
            .see_also(first.place, "", &[]),
    )
}
