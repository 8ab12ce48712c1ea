use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::intake::Note;
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "time-past-recording",
    severity: Severity::Error,
    family: Family::Course,
    example: Example {
        trips: "recording: tangos.wav (1:00)\n\n[1:20] 3 i dn",
        right: "recording: tangos.wav (1:00)\n\n[0:20] 3 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let (Some(end), Some(recording)) = (lesson.recording_length, &lesson.recording) else {
        return Vec::new();
    };
    // The typed note names the recording, and captions or a transcript of the same lesson run along it.
    let read = |note: &Note| lesson.readings.iter().any(|reading| reading.place.file == note.file);
    let of_lesson = |note: &&Note| note.file == recording.place.file || read(note);
    let cues = context
        .folder
        .notes
        .iter()
        .filter(of_lesson)
        .flat_map(|note| &note.cues);
    // The first is enough: what stands after it is late for the same reason.
    let late = cues
        .filter_map(|cue| Some((cue, cue.time?)))
        .find(|(_, time)| *time > end);
    let finding = late.map(|(cue, time)| {
        let source = context.folder.files.get(cue.file.0 as usize);
        let place = source.map(|source| source.place(cue.source_span(0, cue.text.trim_end().len()), Some(time)));
        let holes: Holes = &[("time", &time), ("end", &end)];
        let finding = CHECK.says(words_of(lesson), place.unwrap_or_default(), "", holes);
        finding.see_also(recording.place, "", &[])
    });
    finding.into_iter().collect()
}
