//! "7-9 all on s1, with the m alone", "m plays every one of them": one finger of the right hand plays a whole passage.

use super::lexicon::Concept;
use super::moments::{before, token};
use super::spans::span_at;
use super::tokens::Token;
use crate::music::hand::Finger;

/// The finger, and the counts where the sentence names them.
pub fn one_finger(tokens: &[Token]) -> Option<(Finger, Option<(i64, i64)>)> {
    if !says_all(tokens) {
        return None;
    }
    let mut fingers: Vec<Finger> = (0..tokens.len()).filter_map(|at| finger(tokens, at)).collect();
    fingers.dedup();
    let [finger] = fingers.as_slice() else {
        return None;
    };
    let other_hands = tokens
        .iter()
        .any(|token| token.is_any(&[Concept::Golpe, Concept::Tap, Concept::Rasgueado]));
    let span = tokens.iter().take(3).position(|token| token.number.is_some());
    let span = span
        .and_then(|at| span_at(tokens, at))
        .map(|(first, last, _)| (first, last));
    (!other_hands).then_some((*finger, span))
}

/// Every note, or nobody else.
fn says_all(tokens: &[Token]) -> bool {
    tokens.iter().enumerate().any(|(at, token)| {
        let negated =
            (at.saturating_sub(5)..at).any(|near| tokens.get(near).is_some_and(|near| near.is(Concept::Negation)));
        token.is_any(&[Concept::All, Concept::Alone]) && !negated || token.is(Concept::Alternating) && negated
    })
}

fn finger(tokens: &[Token], at: usize) -> Option<Finger> {
    let here = token(tokens, at);
    let named = [
        (Concept::FingerP, Finger::P),
        (Concept::FingerI, Finger::I),
        (Concept::FingerM, Finger::M),
        (Concept::FingerA, Finger::A),
    ];
    if let Some((_, finger)) = named.into_iter().find(|(concept, _)| here.is(*concept)) {
        return Some(finger);
    }
    let (previous, next) = (before(tokens, at), token(tokens, at + 1));
    // "with i and m": what leads to the first leads to the second.
    let listed = previous.is(Concept::And) && at >= 2 && finger(tokens, at - 2).is_some();
    let led = previous.is_any(&[Concept::FingerWord, Concept::With, Concept::Article]) || listed;
    let acts = next.is_any(&[Concept::Play, Concept::Alone]);
    match here.raw.as_str() {
        "p" if led || acts => Some(Finger::P),
        "i" if led || acts => Some(Finger::I),
        "m" if led || acts => Some(Finger::M),
        "a" if previous.is(Concept::FingerWord) => Some(Finger::A),
        _ => None,
    }
}
