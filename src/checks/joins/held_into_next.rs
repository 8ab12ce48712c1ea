use crate::checks::check::words_of;
use crate::checks::left_hand::kept_finger_in_the_way::finding;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::joins::{Join, JoinKind, Obstacle, joins};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "held-into-next",
    severity: Severity::Error,
    family: Family::Joins,
    example: Example {
        trips: "[0:14] A x02220: LH 2 on s4 f2, 3 on s3 f2, 4 on s2 f2\n[0:24] 1 p dn (A)\n[0:37] 4 p s5 f3 (C), keep LH3 s5 f3",
        right: "[0:14] A x02220: LH 2 on s4 f2, 3 on s3 f2, 4 on s2 f2\n[0:24] 1 p dn (A)\n[0:37] 4 p s5 f3 (C), keep LH3 s5 f3\n[0:41] 4+3/4 lift LH3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let all = joins(lesson, context.palos);
    let seams = all.iter().filter(|join| join.kind == JoinKind::Vueltas);
    let mut findings: Vec<Finding> = seams.flat_map(|join| held(words_of(lesson), join)).collect();
    findings.sort();
    // The core and each variation may begin with the same need: one finger kept is one finding.
    findings.dedup_by(|one, other| one.place == other.place);
    findings
}

fn held<'a>(words: &'a Words, join: &'a Join) -> impl Iterator<Item = Finding> + 'a {
    join.obstacles.iter().filter_map(|obstacle| match obstacle {
        Obstacle::Held(clash) => Some(finding(words, &CHECK, clash, join.count)),
        Obstacle::CountsTakenTwice { .. } => None,
    })
}
