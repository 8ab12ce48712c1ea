use super::lexicon::Language;
use crate::intake::Note;

/// The language a note says that it is in, or the one most of its small words are of.
pub fn language_of(note: &Note) -> Language {
    match note.language.as_deref() {
        Some(said) => Language::of(said),
        None => Language::of_words(note.cues.iter().map(|cue| cue.text.as_str())),
    }
}
