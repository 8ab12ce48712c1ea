//! Whether a text is a lesson at all: words that stand hardly anywhere else have to stand in it.

use std::sync::LazyLock;

use serde::Deserialize;

use super::lexicon::Concept;
use super::listed::all_of;
use super::says::Kind;
use super::tokens::{Token, Tokens};
use crate::music::palo::table;
use crate::text::{QuickSet, fold};

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    words: Vec<String>,
    elsewhere: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| toml::from_str(include_str!("../data/trade.toml")).unwrap_or_default());

static WORDS: LazyLock<QuickSet> = LazyLock::new(|| {
    let said = table().iter().flat_map(|palo| &palo.said).map(|said| fold(said).text);
    TABLE.words.iter().cloned().chain(said).collect()
});

/// The palos by their names alone. What only sounds like one is left out: garlic has teeth, `dientes`, that are no tientos.
static NAMES: LazyLock<QuickSet> = LazyLock::new(|| {
    let names = table().iter().flat_map(|palo| [&palo.name.en, &palo.name.es]);
    let names = names.map(|name| fold(name).text);
    names.filter(|name| !ORDINARY.contains(&name.as_str())).collect()
});

/// A snail and a shirt: "por caracoles" and "el polo" stand among what is said.
const ORDINARY: [&str; 2] = ["caracoles", "polo"];

static ELSEWHERE: LazyLock<QuickSet> = LazyLock::new(|| TABLE.elsewhere.iter().cloned().collect());

/// The words of these tables.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    let trade = all_of(Kind::Trade, WORDS.iter().chain(NAMES.iter()).map(String::as_str));
    trade.chain(all_of(Kind::Elsewhere, ELSEWHERE.iter().map(String::as_str)))
}

/// Whether a sentence speaks of another craft, and of ours with no word.
pub fn is_elsewhere(tokens: &Tokens) -> bool {
    let other = |token: &Token| token.has(Kind::Elsewhere) && ELSEWHERE.contains(token.word.as_str());
    if !tokens.says.has(Kind::Elsewhere) || !tokens.iter().any(other) {
        return false;
    }
    let of_trade = |token: &Token| token.has(Kind::Trade) && WORDS.contains(token.word.as_str());
    let ours = |token: &Token| of_trade(token) || token.is_any(&OURS);
    let accents = tokens.iter().any(|token| token.is(Concept::AccentWord))
        && tokens.iter().filter(|token| token.number.is_some()).count() > 1;
    // "12 times without looking at your hand, then breathe": the players do, when the rounds are over.
    let breath = |token: &Token| {
        matches!(
            &*token.word,
            "breathe" | "respira" | "respiras" | "respiramos" | "respirais"
        )
    };
    let breathes = tokens.iter().filter(|token| other(token)).all(breath) && !tokens.first().is_some_and(breath);
    !accents && !breathes && !tokens.iter().any(ours)
}

/// Hands and strings: a teacher who says "like the stairs" beside them still speaks of the guitar.
const OURS: [Concept; 10] = [
    Concept::Capo,
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerA,
    Concept::Golpe,
    Concept::Rasgueado,
    Concept::StringWord,
    Concept::FretWord,
    Concept::ChordWord,
    Concept::Triplet,
];

/// A note of so few sentences is taken for a lesson when its lines have times or one word of the trade.
const SHORT: usize = 12;

/// So many different words of the trade make a lesson of a text of any length.
const PLENTY: usize = 8;

/// In longer notes one different word of the trade is wanted for so many sentences. In 1,500 licences, manuals and
/// change logs (`tests/outside/plain_text.py`) no text has more than 2, and those with 2 are of 1,500 sentences;
/// of the lessons the poorest has 2 in 12.
const SENTENCES_A_WORD: usize = 40;

/// Whether a note can be a lesson, from its sentences and whether they have times.
pub fn is_lesson(sentences: &[Tokens], timed: bool) -> bool {
    // Texts about anything have no times; where lines have, one word is enough.
    let enough = if timed { 1 } else { PLENTY };
    let words = trade_words(sentences, enough);
    let short = timed && words > 0 || sentences.len() <= SHORT && (timed || words > 0 || wholly_short(sentences));
    short || words >= PLENTY || words > 1 && words * SENTENCES_A_WORD >= sentences.len()
}

/// A few lines of counts and letters, as teachers scribble them: no sentence of plain words among them.
fn wholly_short(sentences: &[Tokens]) -> bool {
    let plain = |tokens: &[Token]| {
        let words = tokens
            .iter()
            .filter(|token| token.mark.is_none() && token.number.is_none());
        words
            .filter(|token| token.concepts.is_empty() && token.word.chars().count() > 2)
            .count()
            > 3
    };
    !sentences.iter().any(|tokens| plain(tokens))
}

/// How many different words of the trade stand in a note; no more are looked for than are enough.
fn trade_words(sentences: &[Tokens], enough: usize) -> usize {
    let mut found: Vec<&str> = Vec::new();
    let speaking = sentences.iter().filter(|tokens| tokens.says.has(Kind::Trade));
    let tokens = speaking.flat_map(|tokens| tokens.iter());
    for token in tokens.filter(|token| token.has(Kind::Trade)) {
        let word = token.word.as_str();
        if found.len() == enough {
            break;
        }
        let named = !token.misheard && NAMES.contains(word);
        if (named || WORDS.contains(word)) && !found.contains(&word) {
            found.push(word);
        }
    }
    found.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound_and_folded() {
        let ours: Table = toml::from_str(include_str!("../data/trade.toml")).unwrap();
        for word in ours.words.iter().chain(&ours.elsewhere) {
            assert_eq!(&fold(word).text, word);
        }
    }

    /// A scribbled note of fifteen timed lines without another word of the trade.
    #[test]
    fn the_name_of_a_palo_makes_a_lesson_and_what_sounds_like_one_does_not() {
        use crate::reading::lexicon::{Language, lexicon};
        use crate::reading::tokens::tokens;
        let note = |first: &str, language| {
            let lines = std::iter::once(first).chain(["4: f3 f1 f0"; 14]);
            let read = |line: &str| Tokens::of(tokens(line, language, lexicon(language)));
            lines.map(read).collect::<Vec<_>>()
        };
        assert!(is_lesson(
            &note("zapateado in C major, to market", Language::English),
            true
        ));
        assert!(!is_lesson(
            &note("a walk in C major, to market", Language::English),
            true
        ));
        assert!(!is_lesson(&note("aceite, 2 dientes de ajo", Language::Spanish), true));
        assert!(!is_lesson(&note("a polo shirt in C major", Language::English), true));
    }
}
