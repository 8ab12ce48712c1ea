//! 2. Cues become sentences, tokens, statements, and a lesson.
//!
//! Comes in: the notes of one lesson. Goes out: a [`Lesson`](crate::music::lesson::Lesson).
//! Reading cannot fail: what is not understood is listed. It never invents: what is not said stays open.
//!
//! **One lesson of several notes.** Heads are heard before the prose and hold against it (`head`). Corrections,
//! `heard -> meant`, put the transcripts right before they are read (`corrections`). The typed note decides; a transcript
//! fills its gaps and gives it times (`merge`); where the two contradict each other, both are kept as a conflict.
//! `words.toml` and `palos.toml` of the folder add the teacher's own words and palos (`own_words`, `own_palos`). Private cues are read for the teacher only:
//! [`read_lesson`] is what may be published, [`read_lesson_for_teacher`] is all of it.
//!
//! Start reading at [`read_lesson`]; then `sentences`, `tokens`, `forms`, `clauses`, `discourse`.

/// Cues to sentences.
mod sentences;

/// Where a thought goes on in a transcript that has no marks.
mod going_on;

/// Where thoughts begin without marks.
mod turns;

/// Words and what they may stand for.
mod lexicon;

/// What one word may stand for.
mod meanings;

/// A word of the lexicon and its phrases.
mod known;

/// What a sentence says taken together.
mod says;

/// Numbers said as words.
mod numbers;

/// Sentences to words, numbers and marks.
mod pieces;

/// Sentences to tokens.
mod tokens;

/// Counts and parts of counts.
mod moments;

/// The half of a count.
mod halves;

/// Counts in a row.
mod spans;

/// A finger of the left hand that stays.
mod stays;

/// Fingers of the left hand with their places.
mod placed;

/// A finger of the right hand that plays a whole passage.
mod one_finger;

/// Pitches and chords.
mod pitch_words;

/// Pitches by their Spanish names.
mod solfa;

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

/// A chord's shape as one word.
mod shape_word;

/// Chords told string by string.
mod shapes_told;

/// Count lines of a typed note that open otherwise than with a colon.
mod count_lines;

/// Rows that say over what has been told.
mod said_over;

/// Counts said 1 to 10, 1, 2.
mod old_count;

/// Who of several voices is the teacher.
mod voices;

/// A note from cue to lesson.
mod listen;

/// Sentences in which nothing is played.
mod hands_at_rest;

/// The moment of strokes in front of which none was told.
mod first_moment;

/// The short thoughts that one sentence may hold.
mod thoughts;

/// A sentence's statements take effect.
mod listener;

/// Numbers said beside what they count.
mod said_beside;

/// Words of sound that a note explains.
mod own_sounds;

/// A word for several strokes at once.
mod gestures;

/// The teacher's own words.
mod own_words;

/// The teacher's own palos.
mod own_palos;

/// Words of the trade by their sound.
mod sounds;

/// How words sound.
mod sounding;

/// Words looked for in one place only.
mod sayings;

/// Lines that part their counts.
mod slots;

/// Lists that stand under one another.
mod rows;

/// Signs that a note defines for itself.
mod legend;

/// Marks that let a finding stand.
mod marks;

/// Corrections of a transcript.
mod corrections;

/// What must not be read for publishing.
mod private;

/// A title where none is given.
mod title;

/// Several notes of a lesson made one.
mod merge;

/// What is said of the whole lesson.
mod remarks;

/// Words put right, techniques named.
mod noticed;

/// Rows of strokes said aloud.
mod recital;

/// Rows of the names of notes said over.
mod names_again;

/// Sentences from which nothing was read.
mod unread;

/// Whether a text is a lesson.
mod trade;

/// Tables of names and of trades.
mod listed;

pub use own_words::{OwnWords, WordsError, WordsFault};

use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::Lesson;
use crate::text::slug;

/// Reads the notes of one lesson (a typed note, a transcript, corrections) into one lesson that may be published:
/// nothing that stands in a private cue is in it, neither a word nor what follows from one.
pub fn read_lesson(folder: &Folder, notes: &[&Note]) -> Lesson {
    let mut public: Vec<Note> = notes.iter().map(|note| (*note).clone()).collect();
    public.iter_mut().for_each(private::empty_private);
    assemble(folder, public)
}

/// The same with what stands in private cues: for the teacher's own eyes, never for a page or an export.
pub fn read_lesson_for_teacher(folder: &Folder, notes: &[&Note]) -> Lesson {
    assemble(folder, notes.iter().map(|note| (*note).clone()).collect())
}

/// The typed note decides, then the transcripts in their order, put right by the corrections.
fn assemble(folder: &Folder, mut notes: Vec<Note>) -> Lesson {
    notes.sort_by_key(|note| note.kind);
    let mut corrections = Vec::new();
    let mut before = Lesson::default();
    for note in &mut notes {
        before.let_stand.extend(marks::take_out(folder, note));
        if note.kind == NoteKind::Corrections {
            let (read, questions) = corrections::read(folder, note);
            corrections.extend(read);
            before.questions.extend(questions);
        }
    }
    let own_palos = own_palos::OwnPalos::of(folder);
    let mut whole: Option<Lesson> = None;
    for note in notes.iter_mut().filter(|note| note.kind != NoteKind::Corrections) {
        if note.kind == NoteKind::Spoken {
            before.misheard.extend(corrections::apply(folder, note, &corrections));
        }
        let mut lesson = listen::read_note(folder, &own_palos, note);
        let title = lesson.title.take();
        lesson.title = title.or_else(|| title::title(folder, &own_palos, note, &lesson));
        match &mut whole {
            None => whole = Some(lesson),
            Some(whole) => merge::fill(whole, lesson),
        }
    }
    let mut lesson = whole.unwrap_or_default();
    lesson.id = notes.first().map_or_else(String::new, address);
    lesson.let_stand.extend(before.let_stand);
    lesson.questions.extend(before.questions);
    let open = crate::written::open_questions(&lesson);
    lesson.questions.extend(open);
    lesson.misheard.extend(before.misheard);
    unread::by_importance(&mut lesson);
    lesson
}

fn address(note: &Note) -> String {
    slug(note.head_value("lesson").unwrap_or(&note.stem))
}

#[cfg(test)]
mod tests;
