//! What was understood from which words: the note with its readings marked, and the lesson beside it.
//!
//! Comes in: a lesson and the notes it was read from. Goes out: text for a terminal, a page for a browser.
//! This room never reads anything into the words: it only shows what `reading` wrote down.
//! Start reading at [`understood`].

/// The note cut into sentences, with what was read from each.
mod sentences;

/// The lesson in short: compás, key, patterns stroke by stroke.
mod in_short;

/// For a terminal.
mod text;

/// For a browser.
mod page;

pub use in_short::{InShort, PatternInShort};
pub use page::page;
pub use sentences::{Letter, Mark, NoteShown, Sentence, State};
pub use text::text;

use crate::intake::Folder;
use crate::music::lesson::Lesson;
use crate::text::Place;

/// Everything there is to show of one lesson.
#[derive(Debug, Clone)]
pub struct Understood {
    pub lesson: InShort,
    /// The lesson's notes, the typed one first.
    pub notes: Vec<NoteShown>,
    /// Most important first: what the text leaves open.
    pub questions: Vec<Open>,
    /// Most important first: sentences that plainly carry music, then those that may.
    pub not_understood: Vec<Open>,
    /// Words of the recogniser put right: as heard, as read.
    pub misheard: Vec<(Place, String, String)>,
}

/// Something left open, and where.
#[derive(Debug, Clone)]
pub struct Open {
    pub place: Place,
    pub words: String,
    pub why: String,
    /// It plainly carries music.
    pub musical: bool,
}

/// Gathers what is to be shown.
pub fn understood(lesson: &Lesson, folder: &Folder) -> Understood {
    let notes = sentences::notes(lesson, folder);
    let mut not_understood: Vec<Open> = lesson
        .unread
        .iter()
        .map(|unread| Open {
            place: unread.place,
            words: sentences::words(folder, &unread.place),
            why: unread.reason.clone(),
            musical: unread.musical,
        })
        .collect();
    not_understood.sort_by_key(|open| (!open.musical, open.place));
    let questions = lesson.questions.iter().map(|question| Open {
        place: question.place,
        words: question.value.clone(),
        why: String::new(),
        musical: true,
    });
    let misheard = lesson.misheard.iter();
    Understood {
        lesson: in_short::in_short(lesson),
        notes,
        questions: questions.collect(),
        not_understood,
        misheard: misheard
            .map(|word| (word.place, word.heard.clone(), word.read_as.clone()))
            .collect(),
    }
}
