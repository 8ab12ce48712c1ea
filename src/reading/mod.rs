//! 2. Cues become sentences, tokens, statements, and a lesson.
//!
//! Comes in: the notes of one lesson. Goes out: a [`Lesson`](crate::music::lesson::Lesson).
//! Reading cannot fail: what is not understood is listed. It never invents: what is not said stays open.

use crate::intake::{Folder, Note};
use crate::music::lesson::Lesson;

/// Reads the notes of one lesson (a typed note, a transcript, corrections) into one lesson.
pub fn read_lesson(_folder: &Folder, _notes: &[&Note]) -> Lesson {
    Lesson::default()
}
