use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::tokens::Token;
use super::Asked;

/// "three plucked notes: s5 f1, s4 f3": the number said, and how many stand in the list behind the colon.
pub fn numbered(asked: &Asked) -> Option<(usize, usize)> {
    let tokens = asked.tokens;
    let colon = tokens
        .iter()
        .rposition(|token| token.is_mark(':'))
        .filter(|_| asked.context.typed)?;
    let said = (0..colon).find_map(|index| {
        let number = token(tokens, index).number.filter(|number| (2..=16).contains(number))?;
        let noun = (index + 1..index + 4)
            .take_while(|at| *at < colon && token(tokens, *at).mark.is_none())
            .any(|at| {
                let here = token(tokens, at);
                matches!(here.word.as_str(), "notes" | "notas" | "strokes" | "toques")
                    || here.is_any(&[Concept::Semiquavers, Concept::Quavers])
            });
        noun.then_some(number)
    })?;
    let given = tokens
        .get(colon + 1..)?
        .split(|token| token.is_mark(',') || token.is_mark(';'))
        .filter(|part| part.iter().any(sounds))
        .count();
    (given >= 2).then_some((usize::try_from(said).ok()?, given))
}

fn sounds(token: &Token) -> bool {
    token.is_any(&[
        Concept::Down,
        Concept::Up,
        Concept::StringWord,
        Concept::FretWord,
        Concept::Open,
        Concept::PullOff,
        Concept::HammerOn,
        Concept::Slur,
    ]) || matches!(token.word.as_str(), "s" | "f" | "dn" | "up")
}

/// A string said to sound open and fretted at once: the string and the fret.
pub fn open_and_fretted(asked: &Asked) -> Option<(u8, u8)> {
    let tokens = asked.tokens;
    let together = tokens.iter().any(|token| {
        token.is(Concept::With) && !matches!(token.word.as_str(), "with" | "w" | "con" | "c" | "plus")
            || matches!(
                token.word.as_str(),
                "both" | "ambos" | "ambas" | "under" | "debajo" | "las dos" | "los dos"
            )
    });
    let open = tokens.iter().any(|token| token.is(Concept::Open));
    if !(together && open && asked.context.typed) {
        return None;
    }
    let named = |words: &[&str], concept: Concept| {
        let mut found: Vec<i64> = (0..tokens.len())
            .filter_map(|index| {
                let here = token(tokens, index);
                let short = words.contains(&here.word.as_str()) && token(tokens, index + 1).joined;
                let long = here.is(concept);
                if short || long {
                    return token(tokens, index + 1)
                        .number
                        .or_else(|| before(tokens, index).ordinal);
                }
                None
            })
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    };
    let strings = named(&["s", "c"], Concept::StringWord);
    let frets: Vec<i64> = named(&["f", "t", "tr"], Concept::FretWord)
        .into_iter()
        .filter(|fret| *fret > 0)
        .collect();
    match (strings.as_slice(), frets.as_slice()) {
        ([string], [fret]) => Some((u8::try_from(*string).ok()?, u8::try_from(*fret).ok()?)),
        _ => None,
    }
}
