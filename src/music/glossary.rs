//! The words of the trade, filled from `src/data/glossary.toml`.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::palo::Words;
use super::source::Source;

/// A word of the trade and what it means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GlossaryEntry {
    /// Spanish, as written.
    pub term: String,
    /// Other forms and spellings.
    pub also: Vec<String>,
    pub about: Words,
    pub source: Source,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GlossaryFile {
    entry: Vec<GlossaryEntry>,
}

static ENTRIES: LazyLock<Vec<GlossaryEntry>> = LazyLock::new(|| {
    let file: GlossaryFile =
        toml::from_str(include_str!("../data/glossary.toml")).expect("glossary.toml is checked by a test");
    file.entry
});

/// All words, in the order of the file.
pub fn glossary() -> &'static [GlossaryEntry] {
    &ENTRIES
}

/// The entry for a word in any of its forms; accents and capitals make no difference.
pub fn look_up(word: &str) -> Option<&'static GlossaryEntry> {
    let word = crate::text::fold(word).text;
    let is = |form: &String| crate::text::fold(form).text == word;
    ENTRIES
        .iter()
        .find(|entry| is(&entry.term) || entry.also.iter().any(is))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn words_stand_once_and_every_entry_is_whole() {
        let mut seen = BTreeSet::new();
        for entry in glossary() {
            assert!(entry.source.is_known(), "{}: {}", entry.term, entry.source.0);
            assert!(
                !entry.about.en.is_empty() && !entry.about.es.is_empty(),
                "{}",
                entry.term
            );
            let forms: BTreeSet<String> = entry
                .also
                .iter()
                .chain([&entry.term])
                .map(|form| crate::text::fold(form).text)
                .collect();
            for form in forms {
                assert!(seen.insert(form.clone()), "{form} stands twice");
            }
        }
    }

    #[test]
    fn a_word_is_found_in_any_form() {
        for word in ["compás", "COMPAS", "compases"] {
            assert_eq!(look_up(word).map(|entry| entry.term.as_str()), Some("compás"), "{word}");
        }
        assert!(look_up("compass").is_none());
    }
}
