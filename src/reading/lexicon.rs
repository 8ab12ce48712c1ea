//! The words reading understands, from `src/data/lexicon.toml` and the folder's own words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::meanings::Meanings;
use super::quick::QuickMap;
pub use crate::text::Language;

/// What a word or phrase stands for, before its neighbours are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Concept {
    Down,
    Up,
    Golpe,
    Tap,
    Rasgueado,
    Alzapua,
    Abanico,
    PullOff,
    HammerOn,
    Slur,
    Damp,
    Tremolo,
    Picado,
    Silence,
    Pluck,
    Play,
    Strum,
    Arpeggio,
    LetRing,
    FingerP,
    FingerI,
    FingerM,
    FingerA,
    FingerX,
    StringWord,
    FretWord,
    Open,
    FingerWord,
    ChordWord,
    ThisChord,
    LeftHand,
    RightHand,
    Barre,
    Lift,
    Keep,
    Slide,
    Triplet,
    Semiquavers,
    Quavers,
    Crotchets,
    Sextuplet,
    Half,
    And,
    PartWord,
    Last,
    With,
    Alone,
    On,
    Article,
    BeatWord,
    Is,
    Then,
    So,
    Same,
    AsUsual,
    Negation,
    Correction,
    Condition,
    Caution,
    Core,
    Variation,
    /// What a teacher may call a variation, where a number or letter stands beside it.
    Idea,
    Falseta,
    Llamada,
    Remate,
    Cierre,
    Replaces,
    RunsOn,
    /// Past the end of what is being told.
    Onward,
    AccentWord,
    Light,
    TempoWord,
    KeyWord,
    Capo,
    PorMedio,
    PorArriba,
    PorTaranta,
    PorGranaina,
    PorMinera,
    PorRondena,
    Phrygian,
    Major,
    Minor,
    Flat,
    Sharp,
    Seventh,
    Loop,
    Times,
    RestStroke,
    FreeStroke,
    All,
    Alternating,
    SameString,
    SameFinger,
    Unit,
    FirstHalf,
    SecondHalf,
    LessonWord,
    Later,
    Aside,
    Hazy,
    Arrives,
    Begins,
    Flourish,
    Aloud,
    Plain,
}

/// Words of one meaning, by language.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    #[serde(default)]
    any: Vec<String>,
    #[serde(default)]
    en: Vec<String>,
    #[serde(default)]
    es: Vec<String>,
}

impl Words {
    /// Those that hold in a language.
    pub fn of(&self, language: Language) -> impl Iterator<Item = &str> {
        let own = match language {
            Language::English => &self.en,
            Language::Spanish => &self.es,
        };
        self.any.iter().chain(own).map(String::as_str)
    }

    /// All of them.
    pub fn phrases(&self) -> impl Iterator<Item = &str> {
        self.any.iter().chain(&self.en).chain(&self.es).map(String::as_str)
    }
}

/// A phrase's words, and what it may stand for.
type Phrase = (Vec<String>, Meanings);

/// Phrases by their first word, longest first.
#[derive(Debug, Clone, Default)]
pub struct Lexicon {
    phrases: QuickMap<Vec<Phrase>>,
    /// What was heard, and the term that was meant.
    misheard: QuickMap<Vec<(Vec<String>, String)>>,
}

impl Lexicon {
    /// The phrase that begins at `words[0]`: how many words it has and what it may stand for.
    pub fn longest(&self, words: &[&str]) -> Option<(usize, Meanings)> {
        let first = words.first()?;
        let candidates = self.phrases.get(*first)?;
        candidates
            .iter()
            .find(|(phrase, _)| {
                phrase.len() <= words.len() && phrase.iter().zip(words).all(|(wanted, word)| wanted == word)
            })
            .map(|(phrase, concepts)| (phrase.len(), *concepts))
    }

    /// A term that the words at the front are a mishearing of: how many words, and the term.
    pub fn meant(&self, words: &[&str]) -> Option<(usize, &str)> {
        let candidates = self.misheard.get(*words.first()?)?;
        candidates
            .iter()
            .find(|(heard, _)| {
                heard.len() <= words.len() && heard.iter().zip(words).all(|(wanted, word)| wanted == word)
            })
            .map(|(heard, term)| (heard.len(), term.as_str()))
    }

    /// What a term by itself may stand for.
    pub fn concepts(&self, term: &str) -> Meanings {
        let words: Vec<&str> = term.split(' ').collect();
        match self.longest(&words) {
            Some((length, concepts)) if length == words.len() => concepts,
            _ => Meanings::NONE,
        }
    }

    /// Adds a mishearing; what is a term of its own is left alone.
    pub fn add_misheard(&mut self, heard: &str, term: &str) {
        let words: Vec<String> = heard.split_whitespace().map(str::to_owned).collect();
        let Some(first) = words.first() else { return };
        let entries = self.misheard.entry(first.clone()).or_default();
        let at = entries.partition_point(|(known, _)| known.len() > words.len());
        entries.insert(at, (words, term.to_owned()));
    }

    /// Adds a phrase, folded, with what it may stand for.
    pub fn add(&mut self, phrase: &str, concept: Concept) {
        let words: Vec<String> = phrase.split_whitespace().map(str::to_owned).collect();
        let Some(first) = words.first() else { return };
        let entries = self.phrases.entry(first.clone()).or_default();
        match entries.iter_mut().find(|(known, _)| *known == words) {
            Some((_, concepts)) => concepts.add(concept),
            None => {
                let at = entries.partition_point(|(known, _)| known.len() >= words.len());
                let mut meanings = Meanings::NONE;
                meanings.add(concept);
                entries.insert(at, (words, meanings));
            }
        }
    }
}

static TABLE: LazyLock<BTreeMap<Concept, Words>> =
    LazyLock::new(|| toml::from_str(include_str!("../data/lexicon.toml")).unwrap_or_default());

static ENGLISH: LazyLock<Lexicon> = LazyLock::new(|| build(Language::English));
static SPANISH: LazyLock<Lexicon> = LazyLock::new(|| build(Language::Spanish));

fn build(language: Language) -> Lexicon {
    let mut lexicon = Lexicon::default();
    for (concept, words) in TABLE.iter() {
        for phrase in words.of(language) {
            lexicon.add(phrase, *concept);
        }
    }
    for word in &MISHEARD.word {
        for heard in &word.heard {
            lexicon.add_misheard(heard, &word.term);
        }
    }
    lexicon
}

/// One term with what recognisers make of it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MisheardWord {
    pub term: String,
    pub heard: Vec<String>,
}

impl MisheardWord {
    /// The term and all that is heard for it.
    pub fn phrases(&self) -> impl Iterator<Item = &str> {
        self.heard.iter().chain([&self.term]).map(String::as_str)
    }
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct MisheardTable {
    word: Vec<MisheardWord>,
}

/// The terms that the table of mishearings is about.
pub fn misheard_terms() -> impl Iterator<Item = &'static str> {
    MISHEARD.word.iter().map(|word| word.term.as_str())
}

static MISHEARD: LazyLock<MisheardTable> =
    LazyLock::new(|| toml::from_str(include_str!("../data/misheard.toml")).unwrap_or_default());

/// The lexicon of a language, without a folder's own words.
pub fn lexicon(language: Language) -> &'static Lexicon {
    match language {
        Language::English => &ENGLISH,
        Language::Spanish => &SPANISH,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_word_table_is_sound() {
        let table: Result<BTreeMap<Concept, Words>, _> = toml::from_str(include_str!("../data/lexicon.toml"));
        assert!(table.is_ok(), "{table:?}");
    }

    #[test]
    fn the_table_of_mishearings_is_sound() {
        let table: Result<MisheardTable, _> = toml::from_str(include_str!("../data/misheard.toml"));
        assert!(table.is_ok(), "{table:?}");
    }

    #[test]
    fn every_phrase_is_folded() {
        for (concept, words) in TABLE.iter() {
            for phrase in words.phrases() {
                assert_eq!(crate::text::fold(phrase).text, phrase, "{concept:?}");
            }
        }
    }
}
