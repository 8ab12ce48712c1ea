use super::pace::{top, with_passages};
use super::words::name;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::right_hand::repeats;
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-repeats",
    severity: Severity::Note,
    family: Family::RightHand,
    about: About {
        finds: "In a quick line of index and middle finger in turn, one of them plays twice running.",
        matters: "The hand stumbles there at speed. It may be meant, where the line changes strings: hence only a note.",
        trips: "[0:20] 5 picado: i s1 f3, m s1 f1, m s1 f0, i s2 f3",
        right: "[0:20] 5 picado: i s1 f3, m s1 f1, i s1 f0, m s2 f3",
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
        findings.extend(pairs.into_iter().filter_map(|(first, second)| finding(first, second)));
    }
    findings
}

fn finding(first: &Stroke, second: &Stroke) -> Option<Finding> {
    let finger = name(*second.fingers.first()?);
    let message = format!(
        "{finger} plays twice running, at {} and at {}, in a line that alternates",
        first.at, second.at
    );
    let help = "Alternate, or begin the line with the other finger".to_owned();
    Some(
        CHECK
            .found(second.place, message, help)
            .see_also(first.place, "the stroke before it"),
    )
}
