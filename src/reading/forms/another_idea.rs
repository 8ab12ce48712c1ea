use super::super::lexicon::{Concept, Language};
use super::super::moments::token;
use super::super::numbers::cardinal;
use super::super::tokens::Token;
use super::Asked;

/// "Now something for 3 and 4", "The last one's for 1 and 2", "The second, it is a melody, from 5 until 8":
/// spoken words that open another idea; the index of the word.
pub(super) fn starter(asked: &Asked) -> Option<usize> {
    if !asked.in_pattern || asked.context.typed {
        return None;
    }
    let tokens = asked.tokens;
    let acts = |token: &Token| {
        token.is_any(&[
            Concept::Down,
            Concept::Up,
            Concept::StringWord,
            Concept::Golpe,
            Concept::AsUsual,
            Concept::Negation,
            Concept::Condition,
        ])
    };
    if tokens.iter().take(12).any(acts) {
        return None;
    }
    (0..4.min(tokens.len())).find(|index| {
        let here = token(tokens, *index);
        let alone = token(tokens, index + 1).mark.is_some()
            || matches!(
                token(tokens, index + 1).word.as_str(),
                "is" | "one" | "one's" | "es" | "va"
            );
        matches!(
            here.word.as_str(),
            "something"
                | "another"
                | "last one"
                | "last one's"
                | "this one"
                | "this one's"
                | "one more"
                | "algo"
                | "otra"
                | "otro"
                | "esta"
                | "y otra"
        ) || here.word == "next" && matches!(token(tokens, index + 1).word.as_str(), "one" | "thing" | "idea")
            || here.word == "number" && is_low_number(token(tokens, index + 1))
            || here.ordinal.is_some_and(|nth| nth <= 5) && (alone || is_for(tokens, index + 1))
            || here.is(Concept::Last) && alone
            || *index == 0
                && matches!(here.word.as_str(), "this" | "that" | "it" | "it's" | "es" | "esto")
                && announced_before(asked)
    })
}

/// "number two", "number two's for …"
fn is_low_number(token: &Token) -> bool {
    let spelled = token
        .word
        .strip_suffix("'s")
        .and_then(|word| cardinal(word, Language::English));
    token.number.or(spelled).is_some_and(|nth| nth <= 6)
}

/// "The second picture is for 12, 1 and 2": whatever the teacher calls it.
fn is_for(tokens: &[Token], noun: usize) -> bool {
    let plain = token(tokens, noun).mark.is_none() && token(tokens, noun).number.is_none();
    let says = token(tokens, noun + 1).is(Concept::Is);
    plain && says && matches!(token(tokens, noun + 2).word.as_str(), "for" | "para")
}

/// "Another one. This is for 3 and 4": the sentence in front announced another idea and said nothing else.
pub(super) fn announced_before(asked: &Asked) -> bool {
    let words: Vec<&Token> = asked.previous.iter().filter(|token| token.mark.is_none()).collect();
    let announces = |word: &&Token| {
        word.is(Concept::Last)
            || word.ordinal.is_some_and(|nth| nth <= 6)
            || matches!(
                word.word.as_str(),
                "another" | "another one" | "one more" | "next" | "otra" | "otro" | "otra mas"
            )
    };
    words.len() <= 5
        && words.iter().any(announces)
        && words.iter().all(|word| word.number.is_none_or(|number| number == 1))
}
