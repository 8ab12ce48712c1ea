//! "LH 1 stays pressed into the next round", "hold that finger down for 5, 6 and 7": a finger of the left hand that
//! stays, and until when.
//!
//! Without an end that is said nothing is read: most fingers stay a while, and nobody says when they leave.

use super::lexicon::Concept;
use super::listed::all_of;
use super::moments::{before, token};
use super::placed::{place_at, placed_fingers};
use super::sayings::{among, any_among, sayings};
use super::says::{Kind, Says};
use super::spans::{count_list, span_at};
use super::tokens::{Token, Tokens};
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

/// Verbs of staying, besides those of letting: with a word for the place.
const STAYS: [&str; 7] = ["stays", "stay", "remains", "sits", "queda", "sigue", "permanece"];

/// What says that a finger stays.
const KEEPS: Says = Says::NOTHING
    .kind(&[Kind::Stays])
    .meaning(&[Concept::Keep, Concept::Negation]);

/// What says until when.
const ENDS: Says = Says::NOTHING
    .kind(&[Kind::Number, Kind::Ordinal, Kind::Past])
    .meaning(&[Concept::RunsOn, Concept::Onward]);

/// The words that are looked for here.
pub fn words_of_staying() -> impl Iterator<Item = (&'static str, Kind)> {
    let words = &sayings().words;
    all_of(Kind::Stays, words.letting.iter().chain(STAYS)).chain(all_of(Kind::Past, words.over.iter()))
}

/// Words that may stand between the verb and the finger it is about.
const NEAR: usize = 8;

pub fn stays(tokens: &Tokens) -> Option<Stays> {
    if !tokens.says.any_of(KEEPS) || !tokens.says.any_of(ENDS) {
        return None;
    }
    let verbs = (0..tokens.len()).filter(|at| token(tokens, *at).says().any_of(KEEPS));
    let verb = verbs.into_iter().find(|at| keeps(tokens, *at))?;
    let before_verb = tokens.get(..verb).unwrap_or(&[]);
    let clause = before_verb
        .iter()
        .rev()
        .take(NEAR)
        .take_while(|token| token.mark.is_none());
    let doubtful = clause
        .clone()
        .any(|token| token.is_any(&[Concept::Negation, Concept::Condition]));
    if doubtful {
        return None;
    }
    let until = until(tokens, verb)?;
    let named = (verb.saturating_sub(NEAR)..verb)
        .rev()
        .find_map(|at| left_finger(tokens, at).or_else(|| finger_of_note(tokens, at)))
        .or_else(|| (verb + 1..verb + 4).find_map(|at| left_finger(tokens, at)));
    let pronoun = |at: usize| {
        let here = token(tokens, at);
        here.is(Concept::SameFinger) || matches!(here.word.as_str(), "it" | "ese" | "este")
    };
    // "El dedo tres pisa la quinta en el traste tres, y ese dedo se queda": the finger was put down in front of it.
    let put = placed_fingers(before_verb).pop().filter(|_| named.is_none());
    let named = named.or(put.map(|put| put.finger));
    let put = put.and_then(|put| Some((put.string?, put.fret)));
    let meant = named.is_some() || (verb.saturating_sub(2)..verb + 3).any(pronoun);
    meant.then(|| Stays {
        finger: named,
        place: written_place(tokens).or(put),
        until,
    })
}

/// "stays down", "does not leave the string", "leave the third finger where it is", "deja el dedo tres puesto".
fn keeps(tokens: &[Token], at: usize) -> bool {
    let here = token(tokens, at);
    if here.is(Concept::Keep) {
        return true;
    }
    let words = &sayings().words;
    let stays = STAYS.contains(&here.word.as_str());
    if stays && (at + 1..at + 4).any(|at| among(&words.in_place, &token(tokens, at).word)) {
        return true;
    }
    if here.is(Concept::Negation) {
        let leaves =
            |at: usize| token(tokens, at).is(Concept::Lift) || any_among(&words.leaving, &token(tokens, at).word);
        return leaves(at + 1) || leaves(at + 2);
    }
    let finger = |at: usize| left_finger(tokens, at).is_some() || token(tokens, at).is(Concept::SameFinger);
    let there = |at: usize| among(&words.in_place, &token(tokens, at).word);
    let it = || (at + 1..at + 5).any(finger) || token(tokens, at + 1).word == "it";
    among(&words.letting, &here.word) && it() && (at + 1..at + 10).any(there)
}

/// `5ª t3 con el 3`, "string 5, fret 3, with the 3": the number behind a stopped note.
fn finger_of_note(tokens: &[Token], at: usize) -> Option<LeftFinger> {
    let number = token(tokens, at).number.filter(|number| (1..=4).contains(number))?;
    let article = usize::from(matches!(before(tokens, at).word.as_str(), "el" | "the"));
    let with = matches!(before(tokens, at - article).word.as_str(), "con" | "with");
    let stopped = |at: usize| place_at(tokens, at).is_some_and(|(string, fret, _)| string.is_some() && fret > 0);
    (with && (0..at).any(stopped)).then(|| u8::try_from(number).ok())?
}

/// Finger 1 to 4 of the left hand at a token: "LH 1", "finger 2", "third finger", "el dedo tres".
pub fn left_finger(tokens: &[Token], index: usize) -> Option<LeftFinger> {
    let (here, next) = (token(tokens, index), token(tokens, index + 1));
    if here.is(Concept::FingerX) && here.word.len() > 2 {
        return Some(4);
    }
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

/// "over the next 1", "por encima de la vuelta", "past the 1 that comes".
fn over_the_end(tokens: &[Token], at: usize) -> bool {
    let here = token(tokens, at);
    let first = |at: usize| token(tokens, at).number == Some(1) || token(tokens, at).ordinal == Some(1);
    let next = any_among(&sayings().words.next_one, &here.word);
    if next && (first(at + 1) || first(at.wrapping_sub(1))) {
        return true;
    }
    let over = any_among(&sayings().words.over, &here.word);
    over && (at + 1..at + 5).any(|at| any_among(&sayings().words.vueltas, &token(tokens, at).word))
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
        // "to the end of eleven", "hasta el final del once"
        let ends = matches!(here.word.as_str(), "end" | "final" | "fin");
        let count = (at + 1..at + 5).find_map(|at| token(tokens, at).number);
        if let Some(count) = count.filter(|count| ends && (1..=24).contains(count)) {
            return Some(Until::Through(count));
        }
        let next_round = here.is_any(&[Concept::RunsOn, Concept::Onward]) && !before(tokens, at).is(Concept::Negation);
        if next_round || over_the_end(tokens, at) {
            return Some(Until::NextRound);
        }
    }
    None
}
