use super::lexicon::Language;
use crate::intake::Note;
use crate::text::fold;

const ENGLISH: [&str; 16] = [
    "the", "and", "on", "is", "with", "of", "it", "you", "then", "count", "beat", "finger", "string", "down", "up",
    "to",
];
const SPANISH: [&str; 18] = [
    "el", "la", "los", "las", "que", "con", "de", "del", "es", "en", "y", "un", "una", "cuerda", "dedo", "tiempo",
    "arriba", "abajo",
];

/// The language a note says that it is in, or the one most of its small words are of.
pub fn language_of(note: &Note) -> Language {
    match note.language.as_deref() {
        Some("es") => return Language::Spanish,
        Some("en") => return Language::English,
        _ => {}
    }
    let (mut english, mut spanish) = (0, 0);
    for cue in &note.cues {
        for word in fold(&cue.text).text.split(|c: char| !c.is_alphanumeric()) {
            english += usize::from(ENGLISH.contains(&word));
            spanish += usize::from(SPANISH.contains(&word));
        }
    }
    if spanish > english {
        Language::Spanish
    } else {
        Language::English
    }
}
