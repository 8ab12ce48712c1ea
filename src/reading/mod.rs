//! 2. Cues become sentences, tokens, statements, and a lesson.
//!
//! Comes in: the notes of one lesson. Goes out: a [`Lesson`](crate::music::lesson::Lesson).
//! Reading cannot fail: what is not understood is listed. It never invents: what is not said stays open.
//! Start reading at [`read_lesson`]; then `sentences`, `tokens`, `forms`, `clauses`, `discourse`.

/// Cues to sentences.
mod sentences;

/// Words and what they may stand for.
mod lexicon;

/// Numbers said as words.
mod numbers;

/// Sentences to tokens.
mod tokens;

/// Counts and parts of counts.
mod moments;

/// Counts in a row.
mod spans;

/// Pitches and chords.
mod pitch_words;

/// What a sentence is read with.
mod context;

/// One thing said.
mod statement;

/// Ways of saying something about the lesson.
mod forms;

/// Clauses about strokes.
mod clauses;

/// What statements mean together.
mod discourse;

/// What a note's head says.
mod head;

/// Which language a note is in.
mod language;

/// Typed lines in the written form.
mod typed;

/// Counts said 1 to 10, 1, 2.
mod old_count;

/// A sentence's statements take effect.
mod listen;

use crate::intake::{Folder, Note};
use crate::music::lesson::Lesson;

/// Reads the notes of one lesson (a typed note, a transcript, corrections) into one lesson.
pub fn read_lesson(folder: &Folder, notes: &[&Note]) -> Lesson {
    let mut lessons = notes.iter().map(|note| listen::read_note(folder, note));
    lessons.next().unwrap_or_default()
}
