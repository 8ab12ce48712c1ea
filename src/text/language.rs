use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::{QuickMap, folded};

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

/// No small word is longer.
const LONGEST: usize = 6;

/// Small words, each of one language only.
static SMALL: LazyLock<QuickMap<Language>> = LazyLock::new(|| {
    let of = |words: &[&str], language| {
        words
            .iter()
            .map(|word| (word.to_string(), language))
            .collect::<Vec<_>>()
    };
    let (english, spanish) = (of(&ENGLISH, Language::English), of(&SPANISH, Language::Spanish));
    english.into_iter().chain(spanish).collect()
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
        let mut count = |word: &str| match SMALL.get(word) {
            Some(Language::English) => english += 1,
            Some(Language::Spanish) => spanish += 1,
            None => {}
        };
        for text in texts {
            // What stands between plain marks is a word, unless it holds letters that have to be folded first.
            for word in text.split(|mark: char| mark.is_ascii() && !mark.is_ascii_alphanumeric()) {
                if !word.is_ascii() {
                    let folded = folded(word);
                    folded
                        .split(|letter: char| !letter.is_alphanumeric())
                        .for_each(&mut count);
                } else if (1..=LONGEST).contains(&word.len()) {
                    count(&folded(word));
                }
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
