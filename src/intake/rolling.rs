use super::Cue;
use super::kinds::Form;
use super::lines::Line;
use super::markup::caption_cues;
use crate::text::{ClockTime, FileId};

/// A caption as it stands in its file: its times, and the lines below them.
#[derive(Debug, Clone)]
pub(super) struct Caption<'a> {
    pub(super) start: ClockTime,
    pub(super) end: ClockTime,
    pub(super) lines: Vec<Line<'a>>,
}

/// A caption begins right after the one before it, if not by more than this.
const GAP: u64 = 100;
/// Fewer repeated lines than this are a teacher repeating herself.
const FEWEST: usize = 3;

/// The cues of a file's captions.
///
/// Captions made while somebody speaks roll: each shows the line before once more, above its own. Where at least half of a file's
/// captions do so, the repeated lines are left out; what a teacher says twice stays.
pub(super) fn cues_of(file: FileId, form: Form, text: &str, captions: Vec<Caption<'_>>) -> Vec<Cue> {
    let words: Vec<Vec<String>> = captions.iter().map(|caption| words(form, caption)).collect();
    let mut repeated = vec![0];
    repeated.extend(captions.windows(2).zip(words.windows(2)).map(|pair| match pair {
        ([before, after], [said, says]) if follows(before, after) => repeated_lines(said, says),
        _ => 0,
    }));
    let repeats = repeated.iter().filter(|lines| **lines > 0).count();
    let rolls = repeats >= FEWEST && repeats * 2 >= captions.len();
    let shown = captions.into_iter().zip(repeated).flat_map(|(caption, repeated)| {
        let skip = if rolls { repeated } else { 0 };
        cues(file, form, text, &caption, skip)
    });
    shown.collect()
}

fn cues(file: FileId, form: Form, text: &str, caption: &Caption<'_>, skip: usize) -> Vec<Cue> {
    let mut lines = caption.lines.iter().filter(|line| !line.is_blank()).skip(skip);
    let Some(first) = lines.next() else { return Vec::new() };
    let last = lines.last().unwrap_or(first);
    let payload = text.get(first.start..last.end()).unwrap_or("");
    let cues = caption_cues(file, form, payload, first.start).into_iter();
    let timed = cues.map(|cue| Cue {
        time: Some(caption.start),
        until: Some(caption.end),
        ..cue
    });
    timed.collect()
}

fn follows(before: &Caption<'_>, after: &Caption<'_>) -> bool {
    before.start <= after.start && after.start.milliseconds <= before.end.milliseconds + GAP
}

/// The words of each line that has any, without tags.
fn words(form: Form, caption: &Caption<'_>) -> Vec<String> {
    let lines = caption.lines.iter().filter(|line| !line.is_blank());
    let words = lines.map(|line| {
        let cues = caption_cues(FileId::default(), form, line.text, 0);
        cues.into_iter().map(|cue| cue.text).collect::<Vec<_>>().join(" ")
    });
    words.collect()
}

/// How many of the first lines are the last ones of the caption before, once more.
fn repeated_lines(said: &[String], says: &[String]) -> usize {
    let most = said.len().min(says.len());
    let repeats = |lines: &usize| said.get(said.len() - lines..) == says.get(..*lines);
    (1..=most).rev().find(repeats).unwrap_or(0)
}
