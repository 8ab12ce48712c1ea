use num_rational::Ratio;

use super::pace::{top, with_passages};
use super::words::{name, tenths};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::right_hand::{LINE_FAST, Rate, TAPPING_EASY, TAPPING_LIMIT, TAPPING_RECORD, finger_rates, line_rate};

pub(in crate::checks) const CHECK: Check = Check {
    id: "finger-too-fast",
    severity: Severity::Error,
    family: Family::RightHand,
    about: About {
        finds: "At the top of the lesson's tempo one finger of the right hand has to move oftener than fingers do. Most people tap 5 to 7 times a second; the record is 10. A stroke down and the stroke up after it are one movement. Above 5 a note, above 7 a warning (a note for fewer than six strokes), above 10 an error.",
        matters: "No amount of practice gets there, and trying hurts. Usually a second finger is meant to alternate, or the tempo counts something else.",
        trips: "[0:13] tempo 220\n[0:51] 7-9 run on s1, four to the beat, every note with i alone",
        right: "[0:13] tempo 220\n[0:51] 7-9 run on s1, two to the beat, i m alternating",
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
        let pattern = with_passages(pattern, &round);
        let line = line_rate(&pattern, &round, top);
        let rates = finger_rates(&pattern, &round, top);
        let alone = rates
            .iter()
            .filter(|rate| !line.as_ref().is_some_and(|line| is_of_line(rate, line)));
        findings.extend(alone.filter_map(finding));
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

fn finding(rate: &Rate) -> Option<Finding> {
    let over = |limit: i64| rate.per_second > Ratio::from_integer(limit);
    let long = rate.strokes.len() >= LONG_RUN;
    let (severity, against) = if over(TAPPING_RECORD) && rate.strokes.len() >= BURST {
        (Severity::Error, "the record is 10")
    } else if over(TAPPING_LIMIT) && long {
        (Severity::Warning, "most fingers end at 5 to 7")
    } else if over(TAPPING_LIMIT) || (over(TAPPING_EASY) && long) {
        (Severity::Note, "most fingers end at 5 to 7")
    } else {
        return None;
    };
    let (first, last) = (rate.strokes.first()?, rate.strokes.last()?);
    let message = format!(
        "from {} to {}, {} has to move {} times a second at the top of the tempo: {against}",
        first.at,
        last.at,
        name(rate.finger?),
        tenths(rate.per_second)
    );
    let help = "Let two fingers alternate, or take the tempo down".to_owned();
    Some(CHECK.found(first.place, message, help).weighing(severity))
}
