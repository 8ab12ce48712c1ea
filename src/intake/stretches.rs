use super::head::value;
use super::lessons::lessons;
use super::{Cue, Folder, HeadLine, Note, NoteKind};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::text::ClockTime;

/// A stretch of the recording, from a moment to before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stretch {
    from: ClockTime,
    to: ClockTime,
}

/// Everything: `private: all`.
const ALL: &[&str] = &["all", "yes", "todo", "toda", "si", "sí"];

/// Marks what the heads call private: `private: 12:40-13:05, 20:10-20:15`, in every note of the lesson, or `private: all` in that note.
///
/// Speech is private when any of it falls into the stretch: a paragraph that begins before it and reaches into it is private whole.
/// A typed line is private when its own time is in the stretch.
pub(super) fn seal_stretches(folder: &mut Folder) {
    for lesson in lessons(folder) {
        let mut stretches = Vec::new();
        for index in &lesson.notes {
            let Some(note) = folder.notes.get_mut(*index) else {
                continue;
            };
            let words = note.words();
            for line in note.head.iter().filter(|line| line.name == "private") {
                if ALL.contains(&line.value.to_lowercase().as_str()) {
                    note.cues.iter_mut().for_each(|cue| cue.private = true);
                    continue;
                }
                match read_stretches(&line.value) {
                    Some(read) => stretches.extend(read),
                    None => folder.findings.push(not_read(words, line)),
                }
            }
        }
        if stretches.is_empty() {
            continue;
        }
        for index in &lesson.notes {
            if let Some(note) = folder.notes.get_mut(*index) {
                seal_note(note, &stretches);
            }
        }
    }
}

fn read_stretches(text: &str) -> Option<Vec<Stretch>> {
    let parts = text.split([',', ';']).map(str::trim).filter(|part| !part.is_empty());
    parts
        .map(|part| {
            let (from, to) = part.split_once(['-', '–', '—'])?;
            let (from, to) = (ClockTime::parse(from.trim())?, ClockTime::parse(to.trim())?);
            (from < to).then_some(Stretch { from, to })
        })
        .collect()
}

fn not_read(words: &Words, line: &HeadLine) -> Finding {
    let (rule, holes): (_, Holes) = ("private-stretch-not-read", &[("stretch", &line.value)]);
    Finding::worded(words, rule, Severity::Error, line.place, ("", ""), holes)
}

fn seal_note(note: &mut Note, stretches: &[Stretch]) {
    let starts: Vec<Option<ClockTime>> = note.cues.iter().map(|cue| cue.time).collect();
    let kind = note.kind;
    let cues = std::mem::take(&mut note.cues);
    let sealed = cues.into_iter().enumerate().flat_map(|(index, cue)| {
        let later = starts.get(index + 1..).unwrap_or(&[]);
        let next = later.iter().flatten().find(|start| Some(**start) > cue.time).copied();
        match kind {
            NoteKind::Spoken => seal_speech(cue, next, stretches),
            NoteKind::Typed | NoteKind::Corrections => vec![seal_line(cue, stretches)],
        }
    });
    note.cues = sealed.collect();
}

fn seal_line(mut cue: Cue, stretches: &[Stretch]) -> Cue {
    let within = |time: ClockTime| {
        stretches
            .iter()
            .any(|stretch| stretch.from <= time && time < stretch.to)
    };
    cue.private |= cue.time.is_some_and(within);
    cue
}

/// Speech with timed words is parted at them; other speech is private whole.
fn seal_speech(cue: Cue, next: Option<ClockTime>, stretches: &[Stretch]) -> Vec<Cue> {
    let Some(time) = cue.time else { return vec![cue] };
    let end = cue.until.or(next);
    let touches = |from: ClockTime, to: Option<ClockTime>| {
        let overlaps =
            |stretch: &Stretch| from < stretch.to && to.is_none_or(|to| to > stretch.from || from == stretch.from);
        stretches.iter().any(overlaps)
    };
    if !touches(time, end) {
        return vec![cue];
    }
    let mut bounds: Vec<(usize, ClockTime)> = vec![(0, time)];
    bounds.extend(cue.word_times.iter().filter(|(at, _)| *at > 0));
    let mut parts: Vec<(usize, bool)> = Vec::new();
    for (index, (at, from)) in bounds.iter().enumerate() {
        let to = bounds.get(index + 1).map(|(_, to)| *to).or(end);
        let private = touches(*from, to);
        if parts.last().is_none_or(|(_, last)| *last != private) {
            parts.push((*at, private));
        }
    }
    let ends = parts.iter().skip(1).map(|(at, _)| *at).chain([cue.text.len()]);
    let pieces = parts.iter().zip(ends).filter_map(|((at, private), end)| {
        let piece = cue.text.get(*at..end)?;
        let begin = at + piece.len() - piece.trim_start().len();
        let finish = at + piece.trim_end().len();
        (begin < finish).then(|| Cue {
            private: cue.private || *private,
            ..cue.part(begin, finish)
        })
    });
    pieces.collect()
}

/// A `private:` line of a lesson whose notes have no times cannot be kept.
pub(super) fn untimed_findings(folder: &Folder) -> Vec<Finding> {
    let untimed = |note: &&Note| {
        let stretch = value(&note.head, "private").is_some_and(|value| read_stretches(value).is_some());
        stretch && !note.cues.is_empty()
    };
    let mut findings = Vec::new();
    for note in folder
        .notes
        .iter()
        .filter(untimed)
        .filter(|note| note.cues.iter().all(|cue| cue.time.is_none()))
    {
        let line = note.head.iter().find(|line| line.name == "private");
        let rule = "private-stretch-without-times";
        let told = |line: &HeadLine| Finding::worded(note.words(), rule, Severity::Error, line.place, ("", ""), &[]);
        findings.extend(line.map(told));
    }
    findings
}
