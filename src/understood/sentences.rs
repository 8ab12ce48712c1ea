use crate::intake::{Cue, Folder, Note};
use crate::music::lesson::Lesson;
use crate::text::{ClockTime, Place, Span};

/// One note, sentence by sentence.
#[derive(Debug, Clone)]
pub struct NoteShown {
    pub name: String,
    pub sentences: Vec<Sentence>,
}

/// A sentence, or a stretch of words from which nothing was read.
#[derive(Debug, Clone)]
pub struct Sentence {
    pub line: u32,
    pub time: Option<ClockTime>,
    pub letters: Vec<Letter>,
    pub marks: Vec<Mark>,
    pub state: State,
    pub private: bool,
}

/// A letter, and the mark it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Letter {
    pub letter: char,
    /// Index in the sentence's marks.
    pub mark: Option<usize>,
}

/// Some words of a sentence, and all that was read from them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// From 1, through the note.
    pub number: usize,
    /// In a musician's words, each with the rule by which it was implied, if it was not said outright.
    pub read: Vec<(String, Option<String>)>,
}

/// What became of a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum State {
    /// Something was read from it.
    Read,
    /// Nothing was read, and nothing is missed.
    Aside,
    /// Not understood, and why; plainly music, or perhaps.
    NotUnderstood { why: String, musical: bool },
}

/// The notes of a lesson, the one with most readings told first by the order they stand in.
pub(super) fn notes(lesson: &Lesson, folder: &Folder) -> Vec<NoteShown> {
    let shown = folder.notes.iter().map(|note| NoteShown {
        name: folder
            .files
            .get(note.file.0 as usize)
            .map_or(String::new(), |source| source.name.clone()),
        sentences: note_sentences(lesson, note, folder),
    });
    shown.collect()
}

/// Words of a place, without what stands between captions.
pub(super) fn words(folder: &Folder, place: &Place) -> String {
    let cues = folder
        .notes
        .iter()
        .filter(|note| note.file == place.file)
        .flat_map(|note| &note.cues);
    let parts = cues.map(|cue| {
        letters_in(cue, place.span)
            .iter()
            .map(|(letter, _)| *letter)
            .collect::<String>()
    });
    let parts: Vec<String> = parts
        .map(|part| part.trim().to_owned())
        .filter(|part| !part.is_empty())
        .collect();
    parts.join(" ")
}

/// The letters of a cue whose bytes in the file lie in a span, each with its byte in the file.
fn letters_in(cue: &Cue, span: Span) -> Vec<(char, usize)> {
    let letters = cue
        .text
        .char_indices()
        .map(|(offset, letter)| (letter, cue.source_offset(offset)));
    letters.filter(|(_, at)| span.start <= *at && *at < span.end).collect()
}

fn note_sentences(lesson: &Lesson, note: &Note, folder: &Folder) -> Vec<Sentence> {
    let mut spans: Vec<Span> = lesson
        .readings
        .iter()
        .filter(|reading| reading.sentence.file == note.file)
        .map(|reading| reading.sentence.span)
        .collect();
    spans.extend(
        lesson
            .unread
            .iter()
            .filter(|unread| unread.place.file == note.file)
            .map(|unread| unread.place.span),
    );
    spans.sort();
    let borders = merged(&spans);
    let mut sentences = Vec::new();
    let mut number = 0;
    for (span, cues) in stretches(note, &borders) {
        if let Some(sentence) = sentence(lesson, note, folder, span, &cues, &mut number) {
            sentences.push(sentence);
        }
    }
    sentences
}

/// Spans that overlap become one, so that every word is shown once.
fn merged(spans: &[Span]) -> Vec<Span> {
    let mut merged: Vec<Span> = Vec::new();
    for span in spans {
        match merged.last_mut().filter(|last| span.start < last.end) {
            Some(last) => last.end = last.end.max(span.end),
            None => merged.push(*span),
        }
    }
    merged
}

/// The note cut at the borders of its sentences: each stretch with the cues it lies in. What lies between two
/// sentences ends where its cue ends.
fn stretches<'a>(note: &'a Note, borders: &[Span]) -> Vec<(Span, Vec<&'a Cue>)> {
    let mut stretches: Vec<(Span, Vec<&Cue>)> = Vec::new();
    for cue in &note.cues {
        let whole = cue.source_span(0, cue.text.len());
        let mut at = whole.start;
        for border in borders
            .iter()
            .filter(|border| border.start < whole.end && whole.start < border.end)
        {
            if at < border.start {
                stretches.push((Span::new(at, border.start), vec![cue]));
            }
            match stretches.last_mut().filter(|(span, _)| span == border) {
                Some((_, cues)) => cues.push(cue),
                None => stretches.push((*border, vec![cue])),
            }
            at = at.max(border.end);
        }
        if at < whole.end {
            stretches.push((Span::new(at, whole.end), vec![cue]));
        }
    }
    stretches
}

fn sentence(
    lesson: &Lesson,
    note: &Note,
    folder: &Folder,
    span: Span,
    cues: &[&Cue],
    number: &mut usize,
) -> Option<Sentence> {
    let letters = letters(cues, span);
    let first = letters.first()?.1;
    let (marked, marks) = marks(lesson, note, span, number);
    let source = folder.files.get(note.file.0 as usize)?;
    let mark_of = |at: usize| marked.iter().position(|marked| marked.start <= at && at < marked.end);
    let lettered = letters.iter().map(|(letter, at)| Letter {
        letter: *letter,
        mark: mark_of(*at),
    });
    Some(Sentence {
        line: source.line_and_column(first).0,
        time: cues.first().and_then(|cue| cue.time),
        letters: lettered.collect(),
        state: state(lesson, note, span, !marks.is_empty()),
        marks,
        private: cues.iter().all(|cue| cue.private),
    })
}

/// The letters of a stretch on one line, captions joined by a space; none when there are no words in it.
fn letters(cues: &[&Cue], span: Span) -> Vec<(char, usize)> {
    let mut letters: Vec<(char, usize)> = Vec::new();
    for cue in cues {
        let last = letters.last().map(|(_, at)| *at);
        if let Some(at) = last.filter(|_| letters.last().is_some_and(|(letter, _)| !letter.is_whitespace())) {
            letters.push((' ', at));
        }
        for (letter, at) in letters_in(cue, span) {
            let letter = if letter.is_whitespace() { ' ' } else { letter };
            if letter != ' ' || letters.last().is_some_and(|(last, _)| *last != ' ') {
                letters.push((letter, at));
            }
        }
    }
    while letters.last().is_some_and(|(letter, _)| *letter == ' ') {
        letters.pop();
    }
    let any_word = letters.iter().any(|(letter, _)| letter.is_alphanumeric());
    if any_word { letters } else { Vec::new() }
}

/// The words of a stretch from which something was read; readings of the same or overlapping words stand together.
fn marks(lesson: &Lesson, note: &Note, stretch: Span, number: &mut usize) -> (Vec<Span>, Vec<Mark>) {
    let inside = |span: Span| stretch.start <= span.start && span.start < stretch.end;
    let mut readings: Vec<_> = lesson
        .readings
        .iter()
        .filter(|reading| reading.place.file == note.file && inside(reading.place.span))
        .collect();
    readings.sort_by_key(|reading| reading.place.span);
    let spans = merged(&readings.iter().map(|reading| reading.place.span).collect::<Vec<_>>());
    let mut marks = Vec::new();
    for span in &spans {
        *number += 1;
        let here = readings
            .iter()
            .filter(|reading| span.start <= reading.place.span.start && reading.place.span.start < span.end);
        let mut read: Vec<(String, Option<String>)> = Vec::new();
        for reading in here {
            let this = (reading.what.clone(), reading.implied.clone());
            if !read.contains(&this) {
                read.push(this);
            }
        }
        marks.push(Mark { number: *number, read });
    }
    (spans, marks)
}

fn state(lesson: &Lesson, note: &Note, span: Span, read: bool) -> State {
    let here = |place: &Place| place.file == note.file && span.start <= place.span.start && place.span.start < span.end;
    let unread = lesson.unread.iter().find(|unread| here(&unread.place));
    match unread {
        Some(unread) if !read => State::NotUnderstood {
            why: unread.reason.clone(),
            musical: unread.musical,
        },
        _ if read => State::Read,
        _ => State::Aside,
    }
}
