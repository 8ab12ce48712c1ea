//! The words reading understands, from `src/data/lexicon.toml` and the folder's own words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use serde::Deserialize;
use smol_str::SmolStr;

use super::listed::words_of_tables;
use super::meanings::Meanings;
use super::numbers;
use super::says::{Kind, Kinds};
use super::tokens::Token;
pub use crate::text::Language;
use crate::text::{Begins, QuickMap, WHOLE_FRONT, front};

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

/// The words of a phrase behind its first.
#[derive(Debug, Clone, PartialEq)]
struct Behind {
    /// The front of the first of them: one look tells most phrases apart.
    front: u64,
    words: Vec<SmolStr>,
}

impl Behind {
    fn of(words: Vec<SmolStr>) -> Self {
        let front = words.first().map_or(0, |word| front(word));
        Self { front, words }
    }
}

/// The words in a note behind the one that is looked up.
struct Ahead<'a, W> {
    front: u64,
    words: &'a [W],
}

impl<'a, W: AsRef<str>> Ahead<'a, W> {
    /// Those behind the first.
    fn of(words: &'a [W]) -> Option<Self> {
        let words = words.get(1..)?;
        let front = words.first().map_or(0, |word| front(word.as_ref()));
        Some(Self { front, words })
    }

    fn begins(&self, phrase: &Behind) -> bool {
        let same = |(wanted, word): (&SmolStr, &W)| wanted == word.as_ref();
        (self.front == phrase.front || phrase.words.is_empty())
            && phrase.words.len() <= self.words.len()
            && phrase.words.iter().zip(self.words).all(same)
    }
}

/// What is known of a word.
#[derive(Debug, Clone)]
pub struct Known {
    /// The word by itself, as it is read where it stands in no phrase.
    pub token: Token,
    /// It means something by itself.
    alone: bool,
    /// Phrases of several words that begin with it, longest first.
    phrases: Vec<(Behind, Meanings)>,
    /// What was heard behind it, and the term that was meant; longest first.
    misheard: Vec<(Behind, SmolStr)>,
    /// What the second words of all these begin with.
    seconds: Begins,
    /// Their fronts, sorted.
    fronts: Vec<u64>,
}

impl Known {
    fn new(word: &str) -> Self {
        Self {
            token: Token::word(word, Kinds::NONE),
            alone: false,
            phrases: Vec::new(),
            misheard: Vec::new(),
            seconds: Begins::NOTHING,
            fronts: Vec::new(),
        }
    }

    /// Whether a phrase or something misheard may begin with the words at the front, of which the first is this one: one of
    /// them has the word that follows, or no word behind its first.
    pub fn may_go_on(&self, words: &[impl AsRef<str>]) -> bool {
        let next = words.get(1).map(AsRef::as_ref);
        let begun = |front: u64| self.fronts.binary_search(&front).is_ok();
        self.seconds.fits(next) && (next.is_some_and(|next| begun(front(next))) || begun(0))
    }

    fn add_second(&mut self, second: Option<&SmolStr>) {
        self.seconds.add(second);
        let front = second.map_or(0, |second| front(second));
        if let Err(at) = self.fronts.binary_search(&front) {
            self.fronts.insert(at, front);
        }
    }

    /// What it may stand for where it stands in no phrase; None where it means nothing by itself.
    pub fn alone(&self) -> Option<Meanings> {
        self.alone.then_some(self.token.concepts)
    }

    /// The phrase that stands at the front of `words`, of which the first is this one: how many words it has and what it
    /// may stand for.
    pub fn longest(&self, words: &[impl AsRef<str>]) -> Option<(usize, Meanings)> {
        let ahead = Ahead::of(words)?;
        let found = self.phrases.iter().find(|(phrase, _)| ahead.begins(phrase));
        let phrase = found.map(|(phrase, concepts)| (phrase.words.len() + 1, *concepts));
        phrase.or(self.alone.then_some((1, self.token.concepts)))
    }

    /// A term that the words at the front are a mishearing of: how many words, and the term.
    pub fn meant(&self, words: &[impl AsRef<str>]) -> Option<(usize, &SmolStr)> {
        if self.misheard.is_empty() {
            return None;
        }
        let ahead = Ahead::of(words)?;
        let found = self.misheard.iter().find(|(heard, _)| ahead.begins(heard));
        found.map(|(heard, term)| (heard.words.len() + 1, term))
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
            return found.map_or(Meanings::NONE, |(_, concepts)| concepts);
        }
        let words: Vec<&str> = term.split(' ').collect();
        let known = words.first().and_then(|first| self.known(first));
        match known.and_then(|known| known.longest(&words)) {
            Some((length, concepts)) if length == words.len() => concepts,
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
        let Some((known, words)) = self.entry(heard) else {
            return;
        };
        known.add_second(words.first());
        let at = known
            .misheard
            .partition_point(|(known, _)| known.words.len() > words.len());
        known.misheard.insert(at, (Behind::of(words), term.into()));
    }

    /// Adds a phrase, folded, with what it may stand for.
    pub fn add(&mut self, phrase: &str, concept: Concept) {
        let Some((known, words)) = self.entry(phrase) else {
            return;
        };
        if words.is_empty() {
            known.alone = true;
            known.token.concepts.add(concept);
            return;
        }
        known.add_second(words.first());
        match known.phrases.iter_mut().find(|(known, _)| known.words == words) {
            Some((_, concepts)) => concepts.add(concept),
            None => {
                let at = known
                    .phrases
                    .partition_point(|(known, _)| known.words.len() >= words.len());
                let mut meanings = Meanings::NONE;
                meanings.add(concept);
                known.phrases.insert(at, (Behind::of(words), meanings));
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
