//! A chord's shape written as one word.

use super::pitch_words::compact;
use super::tokens::Token;
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
    let mut text = String::new();
    for token in tokens.iter().skip(index).take(6) {
        let raw = token.raw.as_str();
        if raw.len() != 1 || !raw.chars().all(|c| c.is_ascii_digit() || c == 'x' || c == 'X') {
            return None;
        }
        text.push_str(raw);
    }
    let after = tokens.get(index + 6);
    let alone = after.is_none_or(|token| token.number.is_none());
    (text.len() == 6 && text.contains(['x', 'X', '0']) && alone)
        .then(|| ChordShape::parse(&text))
        .flatten()
        .map(|shape| (shape, 6))
}
