//! The words of the pages, in English and Spanish: two catalogues with the same keys.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::text::filled;

/// The words of one language.
#[derive(Debug, PartialEq, Eq)]
pub struct Labels {
    pub language: &'static str,
    words: BTreeMap<String, String>,
}

static ENGLISH: LazyLock<Labels> = LazyLock::new(|| Labels::read("en", include_str!("../data/labels.en.toml")));
static SPANISH: LazyLock<Labels> = LazyLock::new(|| Labels::read("es", include_str!("../data/labels.es.toml")));

impl Labels {
    /// The catalogue of a language; English for any but `es`.
    pub fn of(language: &str) -> &'static Labels {
        if language == "es" { &SPANISH } else { &ENGLISH }
    }

    fn read(language: &'static str, text: &str) -> Self {
        let words = toml::from_str(text).expect("the catalogues are checked by a test");
        Self { language, words }
    }

    /// The words for a key. Every key used is in the catalogues: a test holds them together.
    pub fn get<'a>(&'a self, key: &'a str) -> &'a str {
        self.words.get(key).map_or(key, String::as_str)
    }

    /// The words for a key with its `{holes}` filled.
    pub fn fill(&self, key: &str, holes: &[(&str, &str)]) -> String {
        let holes: Vec<(&str, &dyn std::fmt::Display)> = holes
            .iter()
            .map(|(name, value)| (*name, value as &dyn std::fmt::Display))
            .collect();
        filled(self.get(key), &holes)
    }

    /// One thing or several: the key with `_one` or `_many`, its `{n}` filled.
    pub fn number(&self, key: &str, n: usize) -> String {
        let key = format!("{key}_{}", if n == 1 { "one" } else { "many" });
        self.fill(&key, &[("n", &n.to_string())])
    }

    /// All words, for the templates.
    pub fn all(&self) -> &BTreeMap<String, String> {
        &self.words
    }
}

/// A pitch or chord name as printed: `Bb` is `B♭`, `F#m` is `F♯m`.
pub fn show_name(name: &str) -> String {
    let mut out = String::new();
    let mut before = None;
    for letter in name.chars() {
        let after_root = before.is_some_and(|c: char| c.is_ascii_uppercase() || c == '♭' || c == '♯' || c == '(');
        out.push(match letter {
            'b' if after_root => '♭',
            '#' => '♯',
            other => other,
        });
        before = out.chars().next_back();
    }
    out
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn holes(text: &str) -> BTreeSet<&str> {
        text.split('{')
            .skip(1)
            .filter_map(|part| part.split_once('}'))
            .map(|(name, _)| name)
            .collect()
    }

    #[test]
    fn both_catalogues_say_the_same_things() {
        let (english, spanish) = (Labels::of("en"), Labels::of("es"));
        assert_eq!(
            english.words.keys().collect::<Vec<_>>(),
            spanish.words.keys().collect::<Vec<_>>()
        );
        for (key, words) in &english.words {
            assert_eq!(holes(words), holes(spanish.get(key)), "holes of {key}");
            assert!(
                !words.trim().is_empty() && !spanish.get(key).trim().is_empty(),
                "{key} says nothing"
            );
        }
    }

    #[test]
    fn names_are_printed_with_the_signs_of_music() {
        for (name, printed) in [
            ("Bb", "B♭"),
            ("A(b9)", "A(♭9)"),
            ("F#m", "F♯m"),
            ("Bbmaj7", "B♭maj7"),
            ("Ebdim", "E♭dim"),
        ] {
            assert_eq!(show_name(name), printed);
        }
    }
}
