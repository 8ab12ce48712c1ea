use std::sync::LazyLock;

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

/// A word in lower case as one number; None where it is longer than any small word.
fn packed(word: &[u8]) -> Option<u64> {
    let short = (1..=6).contains(&word.len());
    let push = |number, letter: &u8| number << 8 | u64::from(letter.to_ascii_lowercase());
    short.then(|| word.iter().fold(0, push))
}

/// Small words as numbers, sorted, each of one language only. They are asked for every word of a note.
struct Small {
    words: Vec<(u64, Language)>,
}

impl Small {
    fn language(&self, word: u64) -> Option<Language> {
        let at = self.words.partition_point(|(small, _)| *small < word);
        self.words
            .get(at)
            .filter(|(small, _)| *small == word)
            .map(|(_, language)| *language)
    }
}

static SMALL: LazyLock<Small> = LazyLock::new(|| {
    let of = |language| move |word: &&str| Some((packed(word.as_bytes())?, language));
    let english = ENGLISH.iter().filter_map(of(Language::English));
    let spanish = SPANISH.iter().filter_map(of(Language::Spanish));
    let mut words: Vec<_> = english.chain(spanish).collect();
    words.sort_unstable();
    Small { words }
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
        let mut count = |word: &[u8]| match packed(word).and_then(|word| small.language(word)) {
            Some(Language::English) => english += 1,
            Some(Language::Spanish) => spanish += 1,
            None => {}
        };
        for text in texts {
            // What stands between plain marks is a word, unless it holds letters that have to be folded first.
            for word in text
                .as_bytes()
                .split(|byte| byte.is_ascii() && !byte.is_ascii_alphanumeric())
            {
                if word.is_ascii() {
                    count(word);
                    continue;
                }
                let folded = folded(std::str::from_utf8(word).unwrap_or_default());
                let words = folded.split(|letter: char| !letter.is_alphanumeric());
                words.map(str::as_bytes).for_each(&mut count);
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
