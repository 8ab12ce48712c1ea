use num_rational::Ratio;

use super::pace::{top, with_passages};
use super::words::tenths;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::right_hand::{LINE_FAST, LINE_LIMIT, LINE_SLIP, Rate, line_rate};

pub(in crate::checks) const CHECK: Check = Check {
    id: "line-too-fast",
    severity: Severity::Warning,
    family: Family::RightHand,
    about: About {
        finds: "A line of single notes goes faster than two fingers alternate, at the top of the lesson's tempo: above 10 notes a second a note, above 12 a warning, above 20 an error.",
        matters: "Two fingers alternating tap 7.5 to 10.5 times a second; good players report picado of 9 to 11 notes. Beyond 20 a figure is wrong.",
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
        let pattern = with_passages(pattern, &round);
        findings.extend(line_rate(&pattern, &round, top).as_ref().and_then(finding));
    }
    findings
}

fn finding(rate: &Rate) -> Option<Finding> {
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
    let message = format!(
        "from {} to {} the line has {} notes a second at the top of the tempo: two fingers alternate 7 to 11 times",
        first.at,
        last.at,
        tenths(rate.per_second)
    );
    let help = "Take the tempo down, use fewer notes, or let ligados carry some of them".to_owned();
    Some(CHECK.found(first.place, message, help).weighing(severity))
}
