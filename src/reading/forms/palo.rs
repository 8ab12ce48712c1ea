use std::sync::LazyLock;

use super::super::lexicon::Concept;
use super::super::listed::{all_of, first_word};
use super::super::own_palos::{OwnPalos, spelled};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::text::{QuickMap, fold};

pub const NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.kind(&[Kind::Palo]))];

/// The palo named first, where it is not another lesson's.
pub fn read(asked: &Asked) -> Vec<Located> {
    let elsewhere = asked.says(Concept::LessonWord) && !asked.opening;
    if elsewhere {
        return Vec::new();
    }
    palo_named(asked.tokens, &asked.context.own_palos)
        .filter(|(_, index, _)| !compared(asked.tokens, *index))
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

/// "like tangos", "the same as in the soleá": another palo is named to compare.
fn compared(tokens: &[Token], index: usize) -> bool {
    let before = |steps: usize| index.checked_sub(steps).and_then(|at| tokens.get(at));
    let like = before(1).is_some_and(|token| token.is(Concept::Same));
    let article = before(1).is_some_and(|token| matches!(token.word.as_str(), "the" | "los" | "las" | "la"));
    let linked = before(2).is_some_and(|token| {
        matches!(
            token.word.as_str(),
            "in" | "from" | "like" | "than" | "as in" | "que en" | "como en"
        ) || token.is(Concept::Same)
    });
    like || article && linked
}

/// The first palo named in some tokens: slug, index, how many tokens. Of several names the longest counts.
pub fn palo_named(tokens: &[Token], own: &OwnPalos) -> Option<(String, usize, usize)> {
    for (index, token) in tokens.iter().enumerate().filter(|(_, token)| token.has(Kind::Palo)) {
        let ours = names().get(first_word(&token.word)).into_iter().flatten();
        let ours = ours
            .filter_map(|(name, slug)| spelled(tokens, index, name).map(|length| (length, name.len(), slug.as_str())))
            .max()
            .map(|(length, _, slug)| (slug, length));
        let named = ours.into_iter().chain(own.named_at(tokens, index));
        if let Some((slug, length)) = named.max_by_key(|(_, length)| *length) {
            return Some((slug.to_owned(), index, length));
        }
    }
    None
}

/// The words of the palos' names.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    all_of(Kind::Palo, names().keys().map(String::as_str))
}

/// Names of palos with their slugs, by their first word.
fn names() -> &'static QuickMap<Vec<(String, String)>> {
    static NAMES: LazyLock<QuickMap<Vec<(String, String)>>> = LazyLock::new(|| {
        let mut names: QuickMap<Vec<(String, String)>> = QuickMap::default();
        for palo in crate::music::palo::table() {
            for name in palo.said.iter().chain([&palo.name.en, &palo.name.es, &palo.slug]) {
                let name = fold(name).text.replace('-', " ");
                let first = first_word(&name).to_owned();
                names.entry(first).or_default().push((name, palo.slug.clone()));
            }
        }
        names
    });
    &NAMES
}
