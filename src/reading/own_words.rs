//! The teacher's own words: `words.toml` of the notes folder.
//!
//! ```toml
//! [[word]]              # what a recogniser makes of a term
//! term = "falseta"
//! heard = ["false hat a"]
//!
//! [golpe]               # what a word stands for: the tables of src/data/lexicon.toml
//! en = ["tapita"]
//! ```

use std::collections::BTreeMap;

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use super::lexicon::{Concept, Language, Lexicon, MisheardWord, Words, lexicon};
use super::listed::first_word;
use super::own_palos::OwnPalos;
use super::says::Kind;
use crate::intake::Folder;
use crate::text::fold;

/// What is wrong with a file of words, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {fault}")]
pub struct WordsError {
    /// 1-based.
    pub line: u32,
    pub fault: WordsFault,
}

#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WordsFault {
    /// The file is not of the right shape; in the words of the TOML reader.
    #[error("{0}")]
    Shape(String),
    #[error("`{0}` is no name of a meaning; they are those of the word list, like `golpe`, `down` or `falseta`")]
    Concept(String),
    #[error("a word of `{0}` is empty")]
    Empty(String),
}

/// A folder's own words, checked.
#[derive(Debug, Default)]
pub struct OwnWords {
    misheard: Vec<MisheardWord>,
    concepts: BTreeMap<Concept, Words>,
}

impl OwnWords {
    /// Reads a `words.toml`.
    pub fn read(text: &str) -> Result<Self, WordsError> {
        let at = |start: usize| {
            let before = text.bytes().take(start).filter(|byte| *byte == b'\n').count();
            u32::try_from(before).unwrap_or(u32::MAX).saturating_add(1)
        };
        let wrong = |start: usize, fault| WordsError { line: at(start), fault };
        let shape = |start: usize, error: &toml::de::Error| wrong(start, WordsFault::Shape(error.message().to_owned()));
        let tables: BTreeMap<String, toml::Spanned<toml::Value>> =
            toml::from_str(text).map_err(|error| shape(error.span().map_or(0, |span| span.start), &error))?;
        let mut own = Self::default();
        for (name, table) in tables {
            let start = table.span().start;
            let value = table.into_inner();
            let phrases: Vec<&str> = if name == "word" {
                own.misheard = value.try_into().map_err(|error| shape(start, &error))?;
                own.misheard.iter().flat_map(MisheardWord::phrases).collect()
            } else {
                let spelled: StrDeserializer<Error> = name.as_str().into_deserializer();
                let concept = Concept::deserialize(spelled);
                let concept = concept.map_err(|_| wrong(start, WordsFault::Concept(name.clone())))?;
                let words: Words = value.try_into().map_err(|error| shape(start, &error))?;
                own.concepts.entry(concept).or_insert(words).phrases().collect()
            };
            if phrases.iter().any(|phrase| fold(phrase).text.trim().is_empty()) {
                return Err(wrong(start, WordsFault::Empty(name)));
            }
        }
        Ok(own)
    }

    /// A lexicon with these words in front.
    fn over(&self, under: &'static Lexicon, language: Language) -> Lexicon {
        let mut lexicon = Lexicon::over(under);
        for (concept, words) in &self.concepts {
            for phrase in words.of(language) {
                lexicon.add(&plain(phrase), *concept);
            }
        }
        for word in &self.misheard {
            for heard in &word.heard {
                lexicon.add_misheard(&plain(heard), &plain(&word.term));
            }
        }
        lexicon
    }
}

/// Folded, a hyphen as a space, as the word list is written.
fn plain(phrase: &str) -> String {
    fold(phrase).text.replace('-', " ")
}

/// The lexicon of a language with the folder's own words and the names of its own palos; a file of words with a fault is left out whole.
pub fn lexicon_of(folder: &Folder, own_palos: &OwnPalos, language: Language) -> Lexicon {
    let own = folder.words.as_ref().and_then(|words| OwnWords::read(&words.text).ok());
    let mut words = own.unwrap_or_default().over(lexicon(language), language);
    for name in own_palos.names() {
        words.begin(first_word(name), Kind::Palo);
        words.begin(first_word(name), Kind::Trade);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::tokens::tokens;

    #[test]
    fn own_words_are_heard() {
        let text = "[[word]]\nterm = \"falseta\"\nheard = [\"false hat A\"]\n\n[golpe]\nen = [\"Tapita\"]\nes = [\"toquecín\"]\n";
        let own = OwnWords::read(text).unwrap();
        let words = own.over(lexicon(Language::English), Language::English);
        let heard = tokens("a tapita, then the false hat a", Language::English, &words);
        assert!(heard.iter().any(|token| token.is(Concept::Golpe)));
        assert!(heard.iter().any(|token| token.misheard && token.word == "falseta"));
        let spanish = own.over(lexicon(Language::Spanish), Language::Spanish);
        let heard = tokens("un toquecin, tapita", Language::Spanish, &spanish);
        let golpes: Vec<_> = heard
            .iter()
            .filter(|token| token.is(Concept::Golpe))
            .map(|token| token.raw.as_str())
            .collect();
        assert_eq!(golpes, ["toquecin"]);
    }

    #[test]
    fn faults_are_told_with_their_line() {
        let table = [
            ("[golpe]\nen = [\"a\"\n", 2, "array"),
            (
                "[golpe]\nen = [\"tapita\"]\n\n[golp]\nen = [\"x\"]\n",
                4,
                "`golp` is no name",
            ),
            ("[golpe]\nenglish = [\"x\"]\n", 1, "unknown field"),
            ("[[word]]\nterm = \"a\"\nherd = [\"b\"]\n", 1, "herd"),
            ("[golpe]\nen = [\" \"]\n", 1, "empty"),
        ];
        for (text, line, part) in table {
            let error = OwnWords::read(text).unwrap_err();
            assert!(error.to_string().contains(part), "{text}: {error}");
            assert_eq!(error.line, line, "{text}: {error}");
        }
    }
}
