//! The tables of names and of trades that reading asks beside the lexicon.

use super::clauses::words_of_clauses;
use super::forms::words_of_forms;
use super::own_sounds::words_of_sounds;
use super::remarks::words_of_remarks;
use super::said_over::words_of_papers;
use super::says::Kind;
use super::stays::words_of_staying;
use super::{noticed, trade};

/// The first word of every entry of these tables with its table's kind, as the lexicon has to know them: a sentence
/// without any of a kind need not be looked up in that table.
pub fn words_of_tables() -> impl Iterator<Item = (&'static str, Kind)> {
    let names = noticed::words().chain(trade::words());
    let others = words_of_forms().chain(words_of_clauses());
    names
        .chain(others)
        .chain(words_of_papers())
        .chain(words_of_remarks())
        .chain(words_of_staying())
        .chain(words_of_sounds())
}

/// The same kind for all entries of a table.
pub fn all_of(kind: Kind, entries: impl Iterator<Item = &'static str>) -> impl Iterator<Item = (&'static str, Kind)> {
    entries.map(move |entry| (first_word(entry), kind))
}

/// The first of the words that stand apart by a space.
pub fn first_word(phrase: &str) -> &str {
    phrase.split(' ').next().unwrap_or("")
}
