//! What the lexicon knows of a word: what it means by itself, and the phrases that begin with it.

use smol_str::SmolStr;

use super::lexicon::Concept;
use super::meanings::Meanings;
use super::says::Kinds;
use super::tokens::Token;
use crate::text::{Begins, front};

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

/// A phrase of several words that begins with the word.
#[derive(Debug, Clone)]
struct Phrase {
    behind: Behind,
    /// As it is read where it stands.
    token: Token,
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
    phrases: Vec<Phrase>,
    /// What was heard behind it, and the term that was meant; longest first.
    misheard: Vec<(Behind, SmolStr)>,
    /// What the second words of all these begin with.
    seconds: Begins,
    /// Their fronts, sorted.
    fronts: Vec<u64>,
}

impl Known {
    pub fn new(word: &str) -> Self {
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

    /// A phrase that has these words behind this one may stand for something; without any, the word itself may. The tables
    /// are those of the phrase's words.
    pub fn add(&mut self, words: Vec<SmolStr>, tables: Kinds, concept: Concept) {
        if words.is_empty() {
            self.alone = true;
            self.token.concepts.add(concept);
            return;
        }
        self.add_second(words.first());
        match self.phrases.iter_mut().find(|known| known.behind.words == words) {
            Some(known) => known.token.concepts.add(concept),
            None => {
                let longer = |known: &Phrase| known.behind.words.len() >= words.len();
                let at = self.phrases.partition_point(longer);
                let mut token = Token::phrase(&self.token.word, &words, tables);
                token.concepts.add(concept);
                let behind = Behind::of(words);
                self.phrases.insert(at, Phrase { behind, token });
            }
        }
    }

    /// With these words behind it, it was a term misheard.
    pub fn add_misheard(&mut self, words: Vec<SmolStr>, term: &str) {
        self.add_second(words.first());
        let longer = |(known, _): &(Behind, SmolStr)| known.words.len() > words.len();
        let at = self.misheard.partition_point(longer);
        self.misheard.insert(at, (Behind::of(words), term.into()));
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

    /// The phrase that stands at the front of `words`, of which the first is this one: how many words it has and how it is
    /// read.
    pub fn longest(&self, words: &[impl AsRef<str>]) -> Option<(usize, &Token)> {
        let ahead = Ahead::of(words)?;
        let found = self.phrases.iter().find(|phrase| ahead.begins(&phrase.behind));
        let phrase = found.map(|phrase| (phrase.behind.words.len() + 1, &phrase.token));
        phrase.or(self.alone.then_some((1, &self.token)))
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
