use num_rational::Ratio;

use super::pace::{top, with_passages};
use super::words::{name, tenths};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::right_hand::{LINE_FAST, Rate, TAPPING_EASY, TAPPING_LIMIT, TAPPING_RECORD, finger_rates, line_rate};
use crate::music::rolled_out::rolled_out;

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-too-fast",
    severity: Severity::Error,
    family: Family::RightHand,
    example: Example {
        trips: "[0:00] bulería, tempo 220\n[1:00] 7 four semiquavers: i s1 f7, i s1 f5, i s1 f3, i s1 f5",
        right: "[0:00] bulería, tempo 110\n[1:00] 7 four semiquavers: i s1 f7, m s1 f5, i s1 f3, m s1 f5",
    },
    run: Run::Lesson(look),
};

/// The limits are of tapping on and on: a run of fewer strokes than this is over before they count.
const LONG_RUN: usize = 6;

/// Fewer strokes than this are a burst: nobody has measured those.
const BURST: usize = 4;

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let Some((round, top)) = top(lesson, context) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for pattern in &lesson.patterns {
        let pattern = rolled_out(&with_passages(pattern, &round));
        let line = line_rate(&pattern, &round, top);
        let rates = finger_rates(&pattern, &round, top);
        let alone = rates
            .iter()
            .filter(|rate| !line.as_ref().is_some_and(|line| is_of_line(rate, line)));
        findings.extend(alone.filter_map(|rate| finding(words_of(lesson), rate)));
    }
    findings
}

/// The finger is one of two that alternate in a line too fast for both: the line has a check of its own.
fn is_of_line(rate: &Rate, line: &Rate) -> bool {
    let fast = line.per_second > Ratio::from_integer(LINE_FAST);
    let alternates = line.strokes.windows(2).any(|pair| match pair {
        [one, other] => one.fingers != other.fingers,
        _ => false,
    });
    let shares = rate
        .strokes
        .iter()
        .filter(|stroke| line.strokes.contains(stroke))
        .count();
    fast && alternates && shares * 2 > rate.strokes.len()
}

fn finding(words: &Words, rate: &Rate) -> Option<Finding> {
    let over = |limit: i64| rate.per_second > Ratio::from_integer(limit);
    let long = rate.strokes.len() >= LONG_RUN;
    let (severity, case) = if over(TAPPING_RECORD) && rate.strokes.len() >= BURST {
        (Severity::Error, "record")
    } else if over(TAPPING_LIMIT) && long {
        (Severity::Warning, "limit")
    } else if over(TAPPING_LIMIT) || (over(TAPPING_EASY) && long) {
        (Severity::Note, "limit")
    } else {
        return None;
    };
    let (first, last) = (rate.strokes.first()?, rate.strokes.last()?);
    let (finger, rate) = (name(words, rate.finger?), tenths(rate.per_second));
    let holes: Holes = &[
        ("first", &first.at),
        ("last", &last.at),
        ("finger", &finger),
        ("rate", &rate),
    ];
    Some(CHECK.says(words, first.place, case, holes).weighing(severity))
}
