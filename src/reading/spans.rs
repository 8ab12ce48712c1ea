//! Counts in a row and from one to another: "1, 2 and 3", `4-6`, "del 1 al 4".

use super::lexicon::Concept;
use super::moments::{before, token};
use super::tokens::Token;

/// "1, 2 y 3", "el 5, el 6 y el 7", "four and five": counts in a row. Returns first, last, and the index behind.
pub fn count_list(tokens: &[Token], index: usize) -> Option<(i64, i64, usize)> {
    let count = |at: usize| {
        let number = token(tokens, at).number.filter(|number| (1..=24).contains(number))?;
        let of_a_name = token(tokens, at).joined && at > 0 && before(tokens, at).mark.is_none();
        let next = token(tokens, at + 1);
        let other = next.is_any(&[
            Concept::Times,
            Concept::StringWord,
            Concept::FretWord,
            Concept::Unit,
            Concept::ChordWord,
            Concept::FingerWord,
        ]);
        // "12, 1 and 2, three counts": how many they are.
        let how_many = at > index && token(tokens, at).spelled && next.is(Concept::BeatWord);
        (!other && !of_a_name && !how_many).then_some(number)
    };
    let first = count(index)?;
    let (mut last, mut end) = (first, index + 1);
    loop {
        let mut at = end;
        // "four and, and five is just the same": the half of the first.
        if token(tokens, at).is(Concept::And) && token(tokens, at + 1).is(Concept::And) {
            break;
        }
        while token(tokens, at).is_mark(',')
            || token(tokens, at).is_any(&[Concept::And, Concept::Article])
            || token(tokens, at).is_mark('&')
            || matches!(token(tokens, at).word.as_str(), "del" | "of")
            || token(tokens, at).word == "al" && before(tokens, at).is(Concept::And)
        {
            at += 1;
        }
        match count(at) {
            Some(next) if next == last + 1 => {
                last = next;
                end = at + 1;
            }
            _ => break,
        }
    }
    Some((first, last, end))
}

/// `1-6`, "1 to 4", "del 1 al 4", "beats 1 through 6". Returns first, last, and the index behind.
pub fn span_at(tokens: &[Token], index: usize) -> Option<(i64, i64, usize)> {
    let valid = |number: &i64| (1..=24).contains(number);
    let first = token(tokens, index).number.filter(valid)?;
    let mut at = index + 1;
    let dash = token(tokens, at).is_mark('-')
        || token(tokens, at).word == "to"
        || token(tokens, at).word == "through"
        || matches!(
            token(tokens, at).word.as_str(),
            "al" | "a" | "up to" | "till" | "until" | "hasta"
        );
    if !dash {
        return None;
    }
    at += 1;
    while matches!(token(tokens, at).word.as_str(), "el" | "the" | "and" | "beat" | "count") {
        at += 1;
    }
    let last = token(tokens, at).number.filter(valid)?;
    let unit = token(tokens, at + 1).is_any(&[Concept::Times, Concept::TempoWord]);
    let cyclic = last < first && first <= 12;
    let fraction = token(tokens, at + 1).is_mark('/') && token(tokens, at + 1).joined;
    // `5 a 1ª t5`: the ring finger on a string.
    let fraction = fraction || token(tokens, at + 1).is_mark('ª') && token(tokens, at + 1).joined;
    let of_a_name = token(tokens, index).joined && before(tokens, index).mark.is_none();
    ((last > first || cyclic) && !unit && !fraction && !of_a_name).then_some((first, last, at + 1))
}
