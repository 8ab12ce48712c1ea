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

/// Each letter and figure in lower case, what is not plain as it stands; nothing for what parts words.
const LETTERS: [u8; 256] = {
    let mut letters = [0; 256];
    let mut byte: u8 = 0;
    loop {
        if byte.is_ascii_alphanumeric() || !byte.is_ascii() {
            letters[byte as usize] = byte.to_ascii_lowercase();
        }
        if byte == u8::MAX {
            break letters;
        }
        byte += 1;
    }
};

/// A word as one number, letter by letter in lower case: the last eight of them.
#[derive(Clone, Copy, Default)]
struct Packed {
    number: u64,
    length: usize,
    /// All its letters laid over each other: beyond the plain ones where one of them has to be folded first.
    letters: u8,
}

impl Packed {
    /// The word at the front of some bytes.
    fn at_front(bytes: &[u8]) -> Self {
        let mut packed = Self::default();
        for byte in bytes {
            let letter = LETTERS.get(usize::from(*byte)).copied().unwrap_or(0);
            if letter == 0 {
                break;
            }
            packed.number = packed.number << 8 | u64::from(letter);
            packed.letters |= letter;
            packed.length += 1;
        }
        packed
    }

    /// The language that it is a small word of.
    fn language(self, small: &Small) -> Option<Language> {
        let short = (1..=LONGEST_SMALL).contains(&self.length);
        short.then(|| small.get(&self.number).copied())?
    }
}

/// Small words as numbers, each of one language only. They are asked for every word of a note.
type Small = FxHashMap<u64, Language>;

/// Letters of the longest small word; eight are the most that a number holds.
const LONGEST_SMALL: usize = 6;

static SMALL: LazyLock<Small> = LazyLock::new(|| {
    let of = |language| move |word: &&str| (Packed::at_front(word.as_bytes()).number, language);
    let english = ENGLISH.iter().map(of(Language::English));
    english.chain(SPANISH.iter().map(of(Language::Spanish))).collect()
});

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
        let mut count = |word: Packed| match word.language(small) {
            Some(Language::English) => english += 1,
            Some(Language::Spanish) => spanish += 1,
            None => {}
        };
        for text in texts {
            // What stands between plain marks is a word.
            let mut rest = text.as_bytes();
            while !rest.is_empty() {
                let word = Packed::at_front(rest);
                if word.letters.is_ascii() {
                    count(word);
                } else {
                    let letters = rest.get(..word.length).unwrap_or_default();
                    let folded = folded(std::str::from_utf8(letters).unwrap_or_default());
                    let words = folded.split(|letter: char| !letter.is_alphanumeric());
                    words.map(|word| Packed::at_front(word.as_bytes())).for_each(&mut count);
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
