use std::collections::BTreeMap;

use super::super::lexicon::Concept;
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use super::meter::located;

/// Words for how long a count lasts.
pub const LENGTHS: [&str; 18] = [
    "short", "shorts", "small", "little", "corto", "corta", "cortos", "chico", "chicos", "pequenos", "long", "longs",
    "big", "largo", "larga", "largos", "grande", "grandes",
];

/// Half counts that a count lasts, as people name them.
fn length_of(word: &str) -> Option<i64> {
    match word {
        "short" | "corto" | "corta" | "cortos" => Some(2),
        "long" | "largo" | "larga" | "largos" => Some(3),
        _ => None,
    }
}

/// "1 is short, 2 is short, 3 is long …", "el 1 y el 2 son cortos, el 3 y el 4 son largos, y el 5 corto".
pub(super) fn lengths(asked: &Asked) -> Option<Located> {
    if let Some(told) = lengths_by_group(asked) {
        return Some(told);
    }
    let tokens = asked.tokens;
    if !tokens.iter().any(|token| length_of(&token.word).is_some()) {
        return None;
    }
    let mut lengths = Vec::new();
    let mut expected = 1;
    let mut from = None;
    let mut to = 0;
    let mut waiting = 0;
    for (index, here) in tokens.iter().enumerate() {
        if here.number == Some(expected) {
            waiting += 1;
            from = from.or(Some(index));
            expected += 1;
        }
        let Some(said) = length_of(&here.word) else { continue };
        lengths.extend(std::iter::repeat_n(said, waiting));
        to = if waiting > 0 { index } else { to };
        waiting = 0;
    }
    if lengths.is_empty() && !asked.in_pattern && asked.context.beats.is_some_and(|beats| beats <= 6)
        || (1..3).contains(&lengths.len()) && !asked.in_pattern
    {
        let told = lengths_told(tokens);
        let pairs: Vec<(i64, i64)> = told.into_iter().collect();
        let end = tokens.len().saturating_sub(1);
        return (!pairs.is_empty()).then(|| located(tokens, 0, end, Statement::SomeLengths(pairs)));
    }
    // "ese 4 más corto": one word for many counts tells no lengths.
    let uneven = [2, 3].iter().all(|length| lengths.contains(length));
    if lengths.len() >= 3 && uneven {
        return from.map(|from| located(tokens, from, to, Statement::Lengths(lengths)));
    }
    let row: Vec<i64> = tokens
        .iter()
        .filter_map(|token| match token.word.as_str() {
            "short" | "corto" | "corta" => Some(2),
            "long" | "largo" | "larga" => Some(3),
            _ => None,
        })
        .collect();
    (row.len() == 5).then(|| located(tokens, 0, tokens.len().saturating_sub(1), Statement::Lengths(row)))
}

/// How long a count is said to be, in pulses.
fn length_said(token: &Token) -> Option<i64> {
    match token.word.as_str() {
        "short" | "shorts" | "small" | "little" | "corto" | "corta" | "cortos" | "chico" | "chicos" | "pequenos" => {
            Some(2)
        }
        "long" | "longs" | "big" | "largo" | "larga" | "largos" | "grande" | "grandes" => Some(3),
        _ => None,
    }
}

/// Counts in front of a word for their length.
fn lengths_told(tokens: &[Token]) -> BTreeMap<i64, i64> {
    let mut told = BTreeMap::new();
    let mut waiting: Vec<i64> = Vec::new();
    for here in tokens {
        if here.is(Concept::PartWord) {
            waiting.clear();
        } else if let Some(number) = here.number.filter(|number| (1..=6).contains(number)) {
            waiting.push(number);
        } else if let Some(length) = length_said(here) {
            for count in waiting.drain(..) {
                told.entry(count).or_insert(length);
            }
        }
    }
    told
}

/// "el uno, el dos y el cinco son chicos … El tres y el cuatro son los grandes": counts by their length, in one sentence or
/// the two halves of the thought.
fn lengths_by_group(asked: &Asked) -> Option<Located> {
    if !asked.tokens.iter().any(|token| length_said(token).is_some()) {
        return None;
    }
    let mut told = lengths_told(asked.previous);
    for (count, length) in lengths_told(asked.tokens) {
        told.entry(count).or_insert(length);
    }
    let whole = told.len() >= 4 && told.keys().copied().eq(1..=told.len() as i64);
    let uneven = told.values().any(|length| *length == 2) && told.values().any(|length| *length == 3);
    let end = asked.tokens.len().saturating_sub(1);
    (whole && uneven).then(|| located(asked.tokens, 0, end, Statement::Lengths(told.into_values().collect())))
}
