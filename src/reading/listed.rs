//! The tables of names and of trades that reading asks beside the lexicon.

use super::forms::palo_names;
use super::{noticed, trade};

/// The first word of every entry of these tables, as the lexicon has to know them: a sentence without any of them need not
/// be looked up in a table.
pub fn first_words() -> impl Iterator<Item = &'static str> {
    palo_names().chain(noticed::names_of_techniques()).chain(trade::words())
}

/// The first of the words that stand apart by a space.
pub fn first_word(phrase: &str) -> &str {
    phrase.split(' ').next().unwrap_or("")
}
