use super::super::lexicon::Concept;
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::text::fold;

/// The palo named first, where it is not another lesson's.
pub fn read(asked: &Asked) -> Vec<Located> {
    let elsewhere = asked.tokens.iter().any(|token| token.is(Concept::LessonWord)) && !asked.opening;
    if elsewhere {
        return Vec::new();
    }
    palo_named(asked.tokens)
        .filter(|(_, index, _)| !super::super::moments::before(asked.tokens, *index).is(Concept::Same))
        .map(|(slug, index, length)| {
            let last = asked.tokens.get(index + length - 1).map_or(0, |token| token.end);
            let start = asked.tokens.get(index).map_or(0, |token| token.start);
            Located {
                statement: Statement::Palo(slug),
                start,
                end: last,
            }
        })
        .into_iter()
        .collect()
}

/// The first palo named in some tokens: slug, index, how many tokens.
pub fn palo_named(tokens: &[Token]) -> Option<(String, usize, usize)> {
    let names = names();
    for index in 0..tokens.len() {
        let best = names
            .iter()
            .filter_map(|(name, slug)| matched(tokens, index, name).map(|length| (length, name.len(), slug)))
            .max();
        if let Some((length, _, slug)) = best {
            return Some((slug.clone(), index, length));
        }
    }
    None
}

fn matched(tokens: &[Token], index: usize, name: &str) -> Option<usize> {
    let mut at = index;
    let mut rest = name;
    loop {
        let token = tokens.get(at)?;
        rest = rest.strip_prefix(token.word.as_str())?;
        at += 1;
        if rest.is_empty() {
            return Some(at - index);
        }
        rest = rest.strip_prefix(' ')?;
    }
}

fn names() -> &'static [(String, String)] {
    static NAMES: std::sync::LazyLock<Vec<(String, String)>> = std::sync::LazyLock::new(|| {
        let mut names: Vec<(String, String)> = Vec::new();
        for palo in crate::music::palo::table() {
            for name in palo.said.iter().chain([&palo.name.en, &palo.name.es, &palo.slug]) {
                names.push((fold(name).text.replace('-', " "), palo.slug.clone()));
            }
        }
        names
    });
    &NAMES
}
