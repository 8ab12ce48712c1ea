//! "LH 1 stays pressed into the next round", "hold that finger down for 5, 6 and 7": a finger of the left hand that
//! stays, and until when.
//!
//! Without an end that is said nothing is read: most fingers stay a while, and nobody says when they leave.

use super::lexicon::Concept;
use super::moments::{before, token};
use super::spans::{count_list, span_at};
use super::tokens::Token;
use crate::music::hand::{Fret, GuitarString, LeftFinger};

/// A finger that is said to stay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stays {
    /// None: the finger told last.
    pub finger: Option<LeftFinger>,
    pub place: Option<(GuitarString, Fret)>,
    pub until: Until,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// Through this count.
    Through(i64),
    /// Up to this count.
    Before(i64),
    /// So many counts.
    Lasting(i64),
    /// Past the end of the round.
    NextRound,
}

impl Until {
    /// The end is told by counts.
    pub fn is_counted(self) -> bool {
        !matches!(self, Self::NextRound)
    }
}

/// Words that may stand between the verb and the finger it is about.
const NEAR: usize = 8;

pub fn stays(tokens: &[Token]) -> Option<Stays> {
    let verb = tokens.iter().position(|token| token.is(Concept::Keep))?;
    let before_verb = tokens.get(..verb).unwrap_or(&[]);
    let doubtful = before_verb
        .iter()
        .rev()
        .take(NEAR)
        .any(|token| token.is_any(&[Concept::Negation, Concept::Condition]));
    if doubtful {
        return None;
    }
    let until = until(tokens, verb)?;
    let named = (verb.saturating_sub(NEAR)..verb)
        .rev()
        .find_map(|at| left_finger(tokens, at))
        .or_else(|| (verb + 1..verb + 4).find_map(|at| left_finger(tokens, at)));
    let pronoun = |at: usize| {
        let here = token(tokens, at);
        here.is(Concept::SameFinger) || matches!(here.word.as_str(), "it" | "ese" | "este")
    };
    let meant = named.is_some() || (verb.saturating_sub(2)..verb + 3).any(pronoun);
    meant.then(|| Stays {
        finger: named,
        place: written_place(tokens),
        until,
    })
}

/// Finger 1 to 4 of the left hand at a token: "LH 1", "finger 2", "third finger", "el dedo tres".
fn left_finger(tokens: &[Token], index: usize) -> Option<LeftFinger> {
    let (here, next) = (token(tokens, index), token(tokens, index + 1));
    let number = if here.is_any(&[Concept::LeftHand, Concept::FingerWord]) {
        next.number.or(next.ordinal)
    } else {
        here.ordinal.filter(|_| next.is(Concept::FingerWord))
    };
    number
        .filter(|number| (1..=4).contains(number))
        .and_then(|number| u8::try_from(number).ok())
}

/// The first `s3 f1` of the sentence.
fn written_place(tokens: &[Token]) -> Option<(GuitarString, Fret)> {
    let numbered = |at: usize, words: &[&str], highest: i64| {
        let number = token(tokens, at + 1);
        let fits = words.contains(&token(tokens, at).word.as_str()) && number.joined;
        number
            .number
            .filter(|number| fits && (0..=highest).contains(number))
            .and_then(|number| u8::try_from(number).ok())
    };
    (0..tokens.len()).find_map(|at| {
        let string = numbered(at, &["s", "c"], 6).filter(|string| *string > 0)?;
        Some((string, numbered(at + 2, &["f", "t"], 20)?))
    })
}

/// Until when, as said behind the verb.
fn until(tokens: &[Token], verb: usize) -> Option<Until> {
    for at in verb + 1..tokens.len() {
        let here = token(tokens, at);
        let through = matches!(
            here.word.as_str(),
            "for" | "through" | "durante" | "en" | "all through" | "right through"
        );
        let before_it = matches!(here.word.as_str(), "until" | "till" | "hasta" | "to");
        let mut count = at + 1;
        while token(tokens, count).is_any(&[Concept::Article, Concept::BeatWord]) {
            count += 1;
        }
        let number = token(tokens, count).number.filter(|number| (1..=24).contains(number));
        let next = token(tokens, count + 1);
        let other = next.is_any(&[
            Concept::StringWord,
            Concept::FretWord,
            Concept::FingerWord,
            Concept::Times,
        ]);
        if let Some(number) = number.filter(|_| (through || before_it) && !other) {
            if through && next.is(Concept::BeatWord) {
                return Some(Until::Lasting(number));
            }
            let last = span_at(tokens, count).or_else(|| count_list(tokens, count));
            return Some(match last {
                Some((_, last, _)) if through => Until::Through(last),
                _ if through => Until::Through(number),
                _ => Until::Before(number),
            });
        }
        let next_round = here.is_any(&[Concept::RunsOn, Concept::Onward]) && !before(tokens, at).is(Concept::Negation);
        if next_round {
            return Some(Until::NextRound);
        }
    }
    None
}
