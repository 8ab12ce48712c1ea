//! The words reading understands, from `src/data/lexicon.toml` and the folder's own words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use serde::Deserialize;
use smol_str::SmolStr;

use super::known::Known;
use super::listed::words_of_tables;
use super::meanings::Meanings;
use super::numbers;
use super::says::{Kind, Kinds};
pub use crate::text::Language;
use crate::text::{QuickMap, WHOLE_FRONT, front};

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

/// Words by what they begin.
#[derive(Debug, Clone, Default)]
pub struct Lexicon {
    /// Words of at most eight letters by their fronts.
    short: FxHashMap<u64, Known>,
    long: QuickMap<Known>,
    /// What holds for a word that is not in this one.
    under: Option<&'static Lexicon>,
}

impl Lexicon {
    /// Nothing more than another lexicon, to add to.
    pub fn over(under: &'static Lexicon) -> Self {
        Self {
            short: FxHashMap::default(),
            long: QuickMap::default(),
            under: Some(under),
        }
    }

    pub fn known(&self, word: &str) -> Option<&Known> {
        if word.len() > WHOLE_FRONT {
            let under = || self.under.and_then(|under| under.long.get(word));
            return self.long.get(word).or_else(under);
        }
        let front = front(word);
        let under = || self.under.and_then(|under| under.short.get(&front));
        self.short.get(&front).or_else(under)
    }

    /// What a term by itself may stand for.
    pub fn concepts(&self, term: &str) -> Meanings {
        if !term.contains(' ') {
            let found = self.known(term).and_then(|known| known.longest(&[term]));
            return found.map_or(Meanings::NONE, |(_, token)| token.concepts);
        }
        let words: Vec<&str> = term.split(' ').collect();
        let known = words.first().and_then(|first| self.known(first));
        match known.and_then(|known| known.longest(&words)) {
            Some((length, token)) if length == words.len() => token.concepts,
            _ => Meanings::NONE,
        }
    }

    /// The entry of a phrase's first word, and the words behind it.
    fn entry(&mut self, phrase: &str) -> Option<(&mut Known, Vec<SmolStr>)> {
        let mut words = phrase.split_whitespace();
        let first = words.next()?;
        Some((self.word(first), words.map(SmolStr::from).collect()))
    }

    fn word(&mut self, word: &str) -> &mut Known {
        let under = self.under.and_then(|under| under.known(word));
        let known = || under.cloned().unwrap_or_else(|| Known::new(word));
        if word.len() > WHOLE_FRONT {
            self.long.entry(word.to_owned()).or_insert_with(known)
        } else {
            self.short.entry(front(word)).or_insert_with(known)
        }
    }

    /// The tables that have an entry which begins with a word of the phrase.
    pub fn tables(&self, phrase: &str) -> Kinds {
        let each = phrase.split(' ').filter_map(|word| self.known(word));
        let kinds = each.fold(Kinds::NONE, |kinds, known| kinds.or(known.token.kinds()));
        kinds.tables()
    }

    /// A table has an entry that begins with this word.
    pub fn begin(&mut self, word: &str, kind: Kind) {
        self.word(word).token.add_kind(kind);
    }

    /// Adds a mishearing; what is a term of its own is left alone.
    pub fn add_misheard(&mut self, heard: &str, term: &str) {
        if let Some((known, words)) = self.entry(heard) {
            known.add_misheard(words, term);
        }
    }

    /// Adds a phrase, folded, with what it may stand for.
    pub fn add(&mut self, phrase: &str, concept: Concept) {
        let tables = self.tables(phrase);
        if let Some((known, words)) = self.entry(phrase) {
            known.add(words, tables, concept);
        }
    }
}

static TABLE: LazyLock<BTreeMap<Concept, Words>> =
    LazyLock::new(|| toml::from_str(include_str!("../data/lexicon.toml")).unwrap_or_default());

static ENGLISH: LazyLock<Lexicon> = LazyLock::new(|| build(Language::English));
static SPANISH: LazyLock<Lexicon> = LazyLock::new(|| build(Language::Spanish));

fn build(language: Language) -> Lexicon {
    let mut lexicon = Lexicon::default();
    for (word, numbers) in numbers::words(language) {
        lexicon.word(word).token.name_numbers(numbers);
    }
    for (word, kind) in words_of_tables() {
        lexicon.begin(word, kind);
    }
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
