//! A chord's shape written as one word.

use super::tokens::{Token, compact};
use crate::music::chord::ChordShape;

/// Six strings written as one word, or as six single signs: `x02220`, `x 0 2 2 2 0`.
pub fn shape_at(tokens: &[Token], index: usize) -> Option<(ChordShape, usize)> {
    let begins = tokens.get(index)?.raw.bytes().next()?;
    if !begins.is_ascii_digit() && !matches!(begins, b'x' | b'X') {
        return None;
    }
    let (word, length) = compact(tokens, index);
    if word.chars().count() == 6 && word.chars().all(|c| c.is_ascii_digit() || c == 'x' || c == 'X') {
        return ChordShape::parse(&word).map(|shape| (shape, length));
    }
    let six = tokens.get(index..index + 6)?;
    let sign = |token: &Token| matches!(token.raw.as_bytes(), [b'0'..=b'9' | b'x' | b'X']);
    if !six.iter().all(sign) {
        return None;
    }
    let text: String = six.iter().map(|token| token.raw.as_str()).collect();
    let after = tokens.get(index + 6);
    let alone = after.is_none_or(|token| token.number.is_none());
    (text.contains(['x', 'X', '0']) && alone)
        .then(|| ChordShape::parse(&text))
        .flatten()
        .map(|shape| (shape, 6))
}
