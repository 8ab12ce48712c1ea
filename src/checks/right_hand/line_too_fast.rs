use num_rational::Ratio;

use super::pace::{top, with_passages};
use super::words::tenths;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::{Lesson, Said};
use crate::music::remark::Remark;
use crate::music::right_hand::{LINE_FAST, LINE_LIMIT, LINE_SLIP, Rate, line_rate};
use crate::music::rolled_out::rolled_out;
use crate::music::round::{Pulses, Round};

pub(in crate::checks) const CHECK: Check = Check {
    id: "line-too-fast",
    severity: Severity::Warning,
    family: Family::RightHand,
    example: Example {
        trips: "[0:10] tempo 240\n[0:20] 5 four semiquavers, picado i m i m: s1 f3, s1 f1, s1 f0, s2 f3",
        right: "[0:10] tempo 150\n[0:20] 5 four semiquavers, picado i m i m: s1 f3, s1 f1, s1 f0, s2 f3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let Some((round, top)) = top(lesson, context) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for pattern in &lesson.patterns {
        let pattern = rolled_out(&with_passages(pattern, &round));
        findings.extend(
            line_rate(&pattern, &round, top)
                .as_ref()
                .and_then(|rate| finding(words_of(lesson), rate)),
        );
    }
    findings.extend(
        lesson
            .remarks
            .iter()
            .filter_map(|said| rate_said(lesson, &round, top, said)),
    );
    findings
}

/// More than a rasgueado of five fingers at the quickest tapping ever measured: no hand plays so many in a second, with
/// whatever strokes.
const NO_HAND: i64 = 30;

/// So many strokes said of each count.
fn rate_said(lesson: &Lesson, round: &Round, top: Pulses, said: &Said<Remark>) -> Option<Finding> {
    let Remark::EachCount { pattern, per_count } = &said.value else {
        return None;
    };
    let span = lesson.patterns.iter().find(|known| known.name == *pattern)?.span?;
    let pulses = round.length_of(span.first).max(1);
    let rate = top * Ratio::new(*per_count, 60 * pulses);
    let shown = tenths(rate);
    let holes: Holes = &[("n", per_count), ("rate", &shown)];
    let finding = CHECK.says(words_of(lesson), said.place, "said", holes);
    (rate > Ratio::from_integer(NO_HAND)).then(|| finding.weighing(Severity::Error))
}

fn finding(words: &Words, rate: &Rate) -> Option<Finding> {
    // One finger alone has a check of its own.
    let (first, last) = (rate.strokes.first()?, rate.strokes.last()?);
    let alternates = rate.strokes.iter().any(|stroke| stroke.fingers != first.fingers);
    if !alternates && !first.fingers.is_empty() {
        return None;
    }
    let over = |limit: i64| rate.per_second > Ratio::from_integer(limit);
    let severity = if over(LINE_SLIP) {
        Severity::Error
    } else if over(LINE_LIMIT) {
        Severity::Warning
    } else if over(LINE_FAST) {
        Severity::Note
    } else {
        return None;
    };
    let rate = tenths(rate.per_second);
    let holes: Holes = &[("first", &first.at), ("last", &last.at), ("rate", &rate)];
    Some(CHECK.says(words, first.place, "", holes).weighing(severity))
}
