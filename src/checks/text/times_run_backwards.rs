use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::intake::{Cue, Note};
use crate::music::lesson::Lesson;
use crate::text::{ClockTime, Place};

pub(in crate::checks) const CHECK: Check = Check {
    id: "times-run-backwards",
    severity: Severity::Error,
    family: Family::Text,
    about: About {
        finds: "A time in a note is earlier than the one before it.",
        matters: "Every link from the page into the recording opens at that time: the student lands somewhere else.",
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
            findings.push(finding(place(cue, *time, context), *time, before, next));
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

fn finding(place: Place, time: ClockTime, before: ClockTime, next: Option<ClockTime>) -> Finding {
    let message = format!("the time {time} comes after {before}");
    let help = match next.filter(|next| *next > before) {
        Some(next) => format!("Write a time between {before} and {next}, or move the line to where {time} belongs"),
        None => format!("Write a time after {before}, or move the line to where {time} belongs"),
    };
    CHECK.found(place, message, help)
}
