use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::intake::{Cue, Note};
use crate::music::lesson::Lesson;
use crate::text::{ClockTime, Place};

pub(in crate::checks) const CHECK: Check = Check {
    id: "times-run-backwards",
    severity: Severity::Error,
    family: Family::Text,
    example: Example {
        trips: "[0:43] 5 i dn, & i up\n[0:37] 6 rasg x a m i\n[0:53] 7 i dn",
        right: "[0:43] 5 i dn, & i up\n[0:47] 6 rasg x a m i\n[0:53] 7 i dn",
    },
    run: Run::Course(look),
};

fn look(_lessons: &[Lesson], context: &Context) -> Vec<Finding> {
    context
        .folder
        .notes
        .iter()
        .flat_map(|note| in_note(note, context))
        .collect()
}

fn in_note(note: &Note, context: &Context) -> Vec<Finding> {
    let timed: Vec<(&Cue, ClockTime)> = note.cues.iter().filter_map(|cue| Some((cue, cue.time?))).collect();
    let mut findings = Vec::new();
    let mut latest: Option<ClockTime> = None;
    for (index, (cue, time)) in timed.iter().enumerate() {
        let before = latest.filter(|latest| latest > time);
        // One slip upwards is the odd one out, not everything after it.
        let next = timed.get(index + 1).map(|(_, next)| *next);
        if let Some(before) = before {
            let place = place(cue, *time, context);
            findings.push(finding(context.words_at(&place), place, *time, before, next));
            let slipped_up = next.is_some_and(|next| next < before);
            latest = if slipped_up { Some(*time) } else { latest };
        } else {
            latest = Some(*time);
        }
    }
    findings
}

fn place(cue: &Cue, time: ClockTime, context: &Context) -> Place {
    let Some(source) = context.folder.files.get(cue.file.0 as usize) else {
        return Place {
            file: cue.file,
            time: Some(time),
            ..Place::default()
        };
    };
    source.place(cue.source_span(0, cue.text.trim_end().len()), Some(time))
}

fn finding(words: &Words, place: Place, time: ClockTime, before: ClockTime, next: Option<ClockTime>) -> Finding {
    let next = next.filter(|next| *next > before);
    let case = if next.is_some() { "between" } else { "" };
    let next = next.unwrap_or(before);
    CHECK.says(
        words,
        place,
        case,
        &[("time", &time), ("before", &before), ("next", &next)],
    )
}
