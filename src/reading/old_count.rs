//! The soleá's old way of counting: 1 to 10, then 1 and 2 again. Those two are 11 and 12.

use super::lexicon::Concept;
use super::meanings::Meanings;
use super::moments::token;
use super::says::Kind;
use super::tokens::{Token, Tokens};

const SMALL: [&str; 14] = [
    "little",
    "small",
    "short",
    "second",
    "wee",
    "chico",
    "chica",
    "pequeno",
    "chiquito",
    "chiquitito",
    "segundo",
    "otro",
    "small ones",
    "chiquitin",
];

/// Whether a sentence says a row that goes on from 10 to 1 and 2.
pub fn says_old_row(tokens: &Tokens) -> bool {
    if !tokens.says.has(Kind::Number) {
        return false;
    }
    let has_ten = tokens.iter().any(|token| token.number == Some(10));
    has_ten
        && numbers(tokens)
            .windows(3)
            .any(|three| three.iter().map(|(_, number)| *number).eq([10, 1, 2]))
}

/// Makes 11 and 12 of the 1 and 2 behind a 10 in a row, and of "the little 1", "el 2 chico".
pub fn settle(tokens: &mut [Token]) {
    let rows: Vec<usize> = numbers(tokens)
        .windows(2)
        .filter(|pair| matches!(pair, [(_, 10), (_, 1)]))
        .filter_map(|pair| pair.get(1).map(|(index, _)| *index))
        .collect();
    for index in rows {
        set(tokens, index, 11);
        let next = numbers(tokens).into_iter().find(|(at, _)| *at > index);
        if let Some((at, 2)) = next.filter(|(at, _)| *at <= index + 4) {
            set(tokens, at, 12);
        }
    }
    behind_the_ten(tokens);
    for index in 0..tokens.len() {
        let Some(number) = tokens
            .get(index)
            .and_then(|token| token.number)
            .filter(|number| (1..=2).contains(number))
        else {
            continue;
        };
        let near = [index.wrapping_sub(1), index + 1];
        let closing = tokens.get(index + 1).is_some_and(|token| token.word == "del")
            && tokens.get(index + 2).is_some_and(|token| token.word == "final")
            || tokens.get(index + 1).is_some_and(|token| token.word == "at the end");
        let small = closing
            || near
                .iter()
                .filter_map(|at| tokens.get(*at))
                .any(|token| SMALL.contains(&token.word.as_str()));
        if small {
            set(tokens, index, number + 10);
            // "on the little 1": no finger, and the number stands behind its article.
            if let Some(little) = index.checked_sub(1).and_then(|at| tokens.get_mut(at))
                && little.is(Concept::FingerX)
            {
                little.word = "the".into();
                little.concepts = Meanings::NONE;
                little.concepts.add(Concept::Article);
            }
        }
    }
}

/// "the one that comes after ten", and "the two after it": 11 and 12.
fn behind_the_ten(tokens: &mut [Token]) {
    for index in 0..tokens.len() {
        // "the one that" is one word of the vocabulary.
        let phrase = token(tokens, index).word == "the one that";
        let number = tokens.get(index).and_then(|token| token.number).or(phrase.then_some(1));
        let Some(number) = number.filter(|number| (1..=2).contains(number)) else {
            continue;
        };
        let behind = (index + 1..index + 4)
            .find(|at| matches!(token(tokens, *at).word.as_str(), "after" | "behind" | "despues"));
        let Some(behind) = behind else { continue };
        let near = (behind + 1..behind + 4).find(|at| tokens.get(*at).is_some_and(|token| token.number == Some(10)));
        if let Some(ten) = near {
            set(tokens, index, number + 10);
            if let Some(token) = tokens.get_mut(index).filter(|_| phrase) {
                token.concepts = Meanings::NONE;
            }
            if let Some(token) = tokens.get_mut(ten) {
                token.number = None;
            }
        } else if number == 2 && token(tokens, behind + 1).word == "it" {
            set(tokens, index, 12);
        }
    }
}

fn set(tokens: &mut [Token], index: usize, number: i64) {
    if let Some(token) = tokens.get_mut(index) {
        token.number = Some(number);
    }
}

/// Numbers that stand in one row: only commas, "and" and articles between them.
fn numbers(tokens: &[Token]) -> Vec<(usize, i64)> {
    tokens
        .iter()
        .enumerate()
        .filter_map(|(index, token)| token.number.map(|number| (index, number)))
        .collect()
}
