//! The words of findings, in English and Spanish: `src/data/findings.*.toml`.

use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::LazyLock;

use crate::text::{Language, filled};

/// What fills the holes of a text.
pub type Holes<'a> = &'a [(&'a str, &'a dyn Display)];

/// The words of one language.
#[derive(Debug)]
pub struct Words {
    pub language: Language,
    /// By the id of the check, and `phrases` for what several say; then by key.
    tables: BTreeMap<String, BTreeMap<String, String>>,
}

/// The table of what several findings say.
const PHRASES: &str = "phrases";

static ENGLISH: LazyLock<Words> =
    LazyLock::new(|| Words::read(Language::English, include_str!("../data/findings.en.toml")));
static SPANISH: LazyLock<Words> =
    LazyLock::new(|| Words::read(Language::Spanish, include_str!("../data/findings.es.toml")));

impl Words {
    pub fn of(language: Language) -> &'static Words {
        match language {
            Language::English => &ENGLISH,
            Language::Spanish => &SPANISH,
        }
    }

    fn read(language: Language, text: &str) -> Self {
        let tables = toml::from_str(text).expect("the words of findings are checked by a test");
        Self { language, tables }
    }

    fn text(&self, table: &str, key: &str) -> Option<&str> {
        Some(self.tables.get(table)?.get(key)?.as_str())
    }

    /// What a check finds, or why it matters: the keys `finds` and `matters`.
    pub fn told(&self, rule: &str, key: &str) -> &str {
        self.text(rule, key).unwrap_or("")
    }

    /// A text of a check: that of the case, where the case has one of its own.
    pub fn say(&self, rule: &str, key: &str, case: &str, holes: Holes) -> String {
        let own = self.text(rule, &format!("{key}_{case}"));
        let text = own.or_else(|| self.text(rule, key));
        debug_assert!(text.is_some(), "{rule} has no {key} for `{case}`");
        filled(text.unwrap_or(""), holes)
    }

    /// Words that several findings use.
    pub fn phrase(&self, key: &str, holes: Holes) -> String {
        let text = self.text(PHRASES, key);
        debug_assert!(text.is_some(), "there is no phrase {key}");
        filled(text.unwrap_or(key), holes)
    }

    /// A phrase that may be missing.
    pub fn known(&self, key: &str) -> Option<&str> {
        self.text(PHRASES, key)
    }

    /// `6`, `5 and 6`, `4, 5 and 6`.
    pub fn list<T: ToString>(&self, items: &[T]) -> String {
        let texts: Vec<String> = items.iter().map(ToString::to_string).collect();
        match texts.split_last() {
            Some((last, rest)) if !rest.is_empty() => self.phrase("and", &[("list", &rest.join(", ")), ("last", last)]),
            Some((last, _)) => last.clone(),
            None => String::new(),
        }
    }
}

/// `one` or `many`: the case of a number.
pub fn number(count: usize) -> &'static str {
    if count == 1 { "one" } else { "many" }
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
    fn both_languages_say_the_same_things() {
        let (english, spanish) = (Words::of(Language::English), Words::of(Language::Spanish));
        let keys = |words: &Words| -> Vec<(String, String)> {
            let tables = words.tables.iter();
            tables
                .flat_map(|(table, keys)| keys.keys().map(|key| (table.clone(), key.clone())))
                .collect()
        };
        assert_eq!(keys(english), keys(spanish));
        for (table, key) in keys(english) {
            let (one, other) = (english.text(&table, &key).unwrap(), spanish.text(&table, &key).unwrap());
            assert_eq!(holes(one), holes(other), "holes of {table}, {key}");
            assert!(
                key.starts_with("help") || !one.trim().is_empty() && !other.trim().is_empty(),
                "{table}, {key} says nothing"
            );
            assert!(
                !key.starts_with("message") || !one.ends_with('.'),
                "{table}, {key}: no full stop"
            );
        }
    }
}
