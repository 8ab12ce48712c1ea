use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use serde::{Deserialize, Serialize};

use super::folded;

/// A language that notes are written in and people are spoken to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    #[default]
    English,
    Spanish,
}

const ENGLISH: [&str; 16] = [
    "the", "and", "on", "is", "with", "of", "it", "you", "then", "count", "beat", "finger", "string", "down", "up",
    "to",
];
const SPANISH: [&str; 18] = [
    "el", "la", "los", "las", "que", "con", "de", "del", "es", "en", "y", "un", "una", "cuerda", "dedo", "tiempo",
    "arriba", "abajo",
];

/// A word as one number, letter by letter in lower case: the last eight of them.
#[derive(Clone, Copy, Default)]
struct Packed {
    number: u64,
    length: usize,
    /// All its letters laid over each other: beyond the plain ones where one of them has to be folded first.
    letters: u8,
}

/// What is asked for every word of a note.
struct Small {
    /// Each letter and figure in lower case, what is not plain as it stands; nothing for what parts words.
    letters: [u8; 256],
    /// Small words as numbers, each of one language only.
    words: FxHashMap<u64, Language>,
}

/// Letters of the longest small word; eight are the most that a number holds.
const LONGEST: usize = 6;

impl Small {
    fn new() -> Self {
        let byte = |at: usize| u8::try_from(at).unwrap_or(0);
        let parts = |byte: u8| byte.is_ascii() && !byte.is_ascii_alphanumeric();
        let letter = |byte: u8| if parts(byte) { 0 } else { byte.to_ascii_lowercase() };
        let mut small = Self {
            letters: std::array::from_fn(|at| letter(byte(at))),
            words: FxHashMap::default(),
        };
        let english = ENGLISH.iter().map(|word| (*word, Language::English));
        for (word, language) in english.chain(SPANISH.iter().map(|word| (*word, Language::Spanish))) {
            small.words.insert(small.word_at(word.as_bytes()).number, language);
        }
        small
    }

    /// The word at the front of some bytes.
    fn word_at(&self, bytes: &[u8]) -> Packed {
        let mut word = Packed::default();
        for byte in bytes {
            let letter = self.letters.get(usize::from(*byte)).copied().unwrap_or(0);
            if letter == 0 {
                break;
            }
            word.number = word.number << 8 | u64::from(letter);
            word.letters |= letter;
            word.length += 1;
        }
        word
    }

    /// The language that it is a small word of.
    fn language(&self, word: Packed) -> Option<Language> {
        let short = (1..=LONGEST).contains(&word.length);
        short.then(|| self.words.get(&word.number).copied())?
    }
}

static SMALL: LazyLock<Small> = LazyLock::new(Small::new);

impl Language {
    /// Spanish for `es`; English for any other.
    pub fn of(code: &str) -> Self {
        if code == "es" {
            Language::Spanish
        } else {
            Language::English
        }
    }

    pub fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
        }
    }

    /// The language that most of the small words are of.
    pub fn of_words<'a>(texts: impl IntoIterator<Item = &'a str>) -> Self {
        let (mut english, mut spanish) = (0, 0);
        let small = &*SMALL;
        let mut count = |word: Packed| match small.language(word) {
            Some(Language::English) => english += 1,
            Some(Language::Spanish) => spanish += 1,
            None => {}
        };
        for text in texts {
            // What stands between plain marks is a word.
            let mut rest = text.as_bytes();
            while !rest.is_empty() {
                let word = small.word_at(rest);
                if word.letters.is_ascii() {
                    count(word);
                } else {
                    let letters = rest.get(..word.length).unwrap_or_default();
                    let folded = folded(std::str::from_utf8(letters).unwrap_or_default());
                    let words = folded.split(|letter: char| !letter.is_alphanumeric());
                    words.map(|word| small.word_at(word.as_bytes())).for_each(&mut count);
                }
                rest = rest.get(word.length + 1..).unwrap_or_default();
            }
        }
        if spanish > english {
            Language::Spanish
        } else {
            Language::English
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Language;

    #[test]
    fn small_words_tell_the_language() {
        for (text, language) in [
            ("1 i dn, then the thumb on 2", Language::English),
            ("1: el pulgar baja, y en el 2 el índice", Language::Spanish),
            ("x02220", Language::English),
        ] {
            assert_eq!(Language::of_words([text]), language, "{text}");
        }
    }
}
