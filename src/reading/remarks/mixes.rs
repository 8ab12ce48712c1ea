use crate::reading::lexicon::Concept;
use crate::reading::listed::all_of;
use crate::reading::moments::{before, token};
use crate::reading::sayings::{among, any_among, sayings};
use crate::reading::says::Kind;
use crate::reading::tokens::{Token, Tokens};

/// A variation as a sentence calls it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Named {
    Number(i64),
    Letter(char),
}

/// The words by which a sentence may ask for several things in one vuelta.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    let words = &sayings().words;
    all_of(Kind::InOneRound, words.together.iter().chain(words.vueltas.iter()))
}

/// Variations asked for in one and the same vuelta.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Together {
    These(Vec<Named>),
    /// "both variations", "las tres": as many as there are.
    All(usize),
}

/// "v1 and v2 in one and the same round", "mezclad la uno y la dos en la misma vuelta", "both fit in one round".
pub fn together(tokens: &Tokens, typed: bool) -> Option<Together> {
    // "la tercera y la primera juntas": strings, and what plays them.
    if !tokens.says.has(Kind::InOneRound) || tokens.says.means_any(&PLAYED) {
        return None;
    }
    let (from, to, round) = one_round(tokens)?;
    // The names stand in front of the round, or right behind it: "in one round you can have A and B".
    let mut names = names(tokens, 0, from, typed);
    if names.len() < 2 {
        names = self::names(tokens, to, tokens.len(), typed);
    }
    let refused = refused(tokens, names.first().map_or(0, |(_, at)| *at), from.max(to));
    if refused {
        return None;
    }
    if names.len() >= 2 {
        return Some(Together::These(names.into_iter().map(|(name, _)| name).collect()));
    }
    let all = || (0..tokens.len()).find_map(|at| all_of_them(tokens, at));
    round.then(all).flatten().map(Together::All)
}

const PLAYED: [Concept; 12] = [
    Concept::StringWord,
    Concept::FretWord,
    Concept::FingerWord,
    Concept::Pluck,
    Concept::Down,
    Concept::Up,
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerM,
    Concept::FingerA,
    Concept::Golpe,
    Concept::Rasgueado,
];

/// "in one and the same round", "la misma vuelta", "juntas": where the sentence says so, and whether it names the vuelta.
fn one_round(tokens: &[Token]) -> Option<(usize, usize, bool)> {
    let words = &sayings().words;
    let same = |at: &usize| {
        // "the same" may be one token.
        let word = token(tokens, *at).word.split(' ').next_back().unwrap_or("");
        let single = matches!(word, "one" | "single" | "sola" | "una" | "un" | "solo");
        let within = (at.saturating_sub(3)..*at).any(|at| any_among(&words.within, &token(tokens, at).word));
        matches!(word, "same" | "misma" | "mismo") || single && within
    };
    let may = |at: &usize| token(tokens, *at).has(Kind::InOneRound);
    (0..tokens.len()).filter(may).find_map(|at| {
        if among(&words.together, &token(tokens, at).word) {
            return Some((at, at + 1, false));
        }
        let round = any_among(&words.vueltas, &token(tokens, at).word);
        let one = (at.saturating_sub(3)..at).find(same).filter(|_| round)?;
        Some((one, at + 1, true))
    })
}

/// "one OR the other", "never in one round", "no se pueden".
fn refused(tokens: &[Token], from: usize, to: usize) -> bool {
    (from.saturating_sub(3)..to).any(|at| {
        let here = token(tokens, at);
        here.is_any(&[Concept::Negation, Concept::Condition])
            || matches!(
                here.word.as_str(),
                "or" | "o" | "either" | "instead" | "between" | "entre"
            )
    })
}

fn names(tokens: &[Token], from: usize, to: usize, typed: bool) -> Vec<(Named, usize)> {
    let mut found: Vec<(Named, usize)> = Vec::new();
    let mut at = from;
    while at < to {
        let last = found.last().map(|(_, at)| *at);
        let Some((name, end)) = name_at(tokens, at, last, typed) else {
            at += 1;
            continue;
        };
        if !found.iter().any(|(known, _)| *known == name) {
            found.push((name, end));
        }
        at = end;
    }
    found
}

fn name_at(tokens: &[Token], at: usize, last: Option<usize>, typed: bool) -> Option<(Named, usize)> {
    let (here, next) = (token(tokens, at), token(tokens, at + 1));
    let numbered = |at: usize| {
        let here = token(tokens, at);
        here.number
            .or(here.ordinal)
            .filter(|number| (1..=9).contains(number))
            .map(Named::Number)
    };
    if matches!(here.word.as_str(), "v" | "var") && (next.joined || here.word == "var") {
        return Some((numbered(at + 1).or_else(|| letter(next))?, at + 2));
    }
    if is_variation(here) {
        let title = numbered(at + 1).or_else(|| letter(next));
        return title.map(|title| (title, at + 2));
    }
    // "la uno y la dos", "the first one", "number two": what is counted is a variation.
    let article = matches!(
        before(tokens, at).word.as_str(),
        "la" | "el" | "the" | "number" | "numero"
    );
    let listed = last.is_some_and(|last| {
        at <= last + 2
            && (last..at).all(|at| {
                token(tokens, at).is(Concept::And)
                    || token(tokens, at).mark.is_some()
                    || token(tokens, at).is(Concept::Article)
            })
    });
    if article || listed {
        let title = numbered(at).or_else(|| letter(here).filter(|_| typed))?;
        let noun = usize::from(is_variation(next) || matches!(next.word.as_str(), "one" | "ones"));
        return Some((title, at + 1 + noun));
    }
    let pair = next.is(Concept::And) && letter(token(tokens, at + 2)).is_some() && typed;
    letter(here).filter(|_| pair).map(|letter| (letter, at + 1))
}

fn is_variation(token: &Token) -> bool {
    token.is_any(&[
        Concept::Variation,
        Concept::Idea,
        Concept::Falseta,
        Concept::Remate,
        Concept::Llamada,
        Concept::Cierre,
    ])
}

fn letter(token: &Token) -> Option<Named> {
    let mut signs = token.raw.chars();
    let sign = signs.next().filter(|sign| ('A'..='F').contains(sign))?;
    signs.next().is_none().then_some(Named::Letter(sign))
}

/// "both variations", "los dos remates", "all three of them".
fn all_of_them(tokens: &[Token], at: usize) -> Option<usize> {
    let here = token(tokens, at);
    if matches!(here.word.as_str(), "both" | "ambas" | "ambos") {
        return Some(2);
    }
    let number = here.number.filter(|number| (2..=3).contains(number) && here.spelled)?;
    let article = matches!(before(tokens, at).word.as_str(), "las" | "los" | "the" | "all");
    (article && !token(tokens, at + 1).is(Concept::Unit)).then_some(usize::try_from(number).ok()?)
}
