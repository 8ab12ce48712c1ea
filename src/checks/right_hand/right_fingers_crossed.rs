use super::pace::{top, with_passages};
use super::words::name;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::crossing::{Crossing, crossings, is_crossed, plucked};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "right-fingers-crossed",
    severity: Severity::Warning,
    family: Family::RightHand,
    example: Example {
        trips: "[0:20] 2: i s1 + m s3",
        right: "[0:20] 2: i s3 + m s1",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let at_once = lesson.patterns.iter().flat_map(|pattern| in_pattern(words, pattern));
    let mut findings: Vec<Finding> = at_once.collect();
    if let Some((round, top)) = top(lesson, context) {
        for pattern in &lesson.patterns {
            let pattern = with_passages(pattern, &round);
            let runs = crossings(&pattern, &round, top);
            findings.extend(runs.iter().filter_map(|crossing| in_run(words, crossing)));
        }
    }
    findings
}

fn in_pattern(words: &Words, pattern: &Pattern) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, second) in pattern.strokes.iter().enumerate() {
        let Some(own) = plucked(second) else { continue };
        let earlier = pattern.strokes.iter().take(index).filter(|first| first.at == second.at);
        let crossed = earlier.filter_map(|first| Some((first, plucked(first)?)));
        let mut crossed = crossed.filter(|(_, other)| is_crossed(*other, own));
        let told = crossed
            .next()
            .map(|(first, _)| (first, told(words, first, second, "", (0, 0))));
        findings.extend(told.and_then(|(first, finding)| Some(finding?.see_also(first.place, "", &[]))));
    }
    findings
}

fn in_run(words: &Words, crossing: &Crossing) -> Option<Finding> {
    let case = if crossing.far { "far" } else { "again" };
    let counted = (crossing.crossed, crossing.changes);
    let finding = told(words, crossing.first, crossing.second, case, counted)?;
    Some(
        finding
            .see_also(crossing.first.place, "run", &[])
            .weighing(Severity::Note),
    )
}

fn told(
    words: &Words,
    first: &Stroke,
    second: &Stroke,
    case: &str,
    (crossed, changes): (usize, usize),
) -> Option<Finding> {
    let (one, other) = (plucked(first)?, plucked(second)?);
    let holes: Holes = &[
        ("at", if case == "again" { &first.at } else { &second.at }),
        ("one", &name(words, one.0)),
        ("string", &one.1),
        ("other", &name(words, other.0)),
        ("other_string", &other.1),
        ("crossed", &crossed),
        ("changes", &changes),
    ];
    Some(CHECK.says(words, second.place, case, holes))
}
