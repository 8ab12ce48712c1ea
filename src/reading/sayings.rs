//! Words that are looked for in one place only: `src/data/sayings.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::text::{Begins, WHOLE_FRONT, front};

/// Words as they stand in the file. Most words of a note are in no list, and are turned away after one look at their
/// first letter and their length.
#[derive(Debug, Default, Deserialize)]
#[serde(from = "Vec<String>")]
pub struct WordList {
    words: Vec<String>,
    begins: Begins,
    /// A bit for each length; the last for any longer.
    lengths: u64,
    /// The words of at most eight letters by their fronts, sorted.
    fronts: Vec<u64>,
}

impl From<Vec<String>> for WordList {
    fn from(words: Vec<String>) -> Self {
        let mut begins = Begins::NOTHING;
        words.iter().for_each(|word| begins.add(Some(word)));
        let lengths = words.iter().fold(0, |lengths, word| lengths | length_bit(word));
        let short = words.iter().filter(|word| word.len() <= WHOLE_FRONT);
        let mut fronts: Vec<u64> = short.map(|word| front(word)).collect();
        fronts.sort_unstable();
        Self {
            words,
            begins,
            lengths,
            fronts,
        }
    }
}

impl WordList {
    pub fn iter(&self) -> impl Iterator<Item = &str> {
        self.words.iter().map(String::as_str)
    }

    fn holds(&self, word: &str) -> bool {
        if self.lengths & length_bit(word) == 0 || !self.begins.fits(Some(word)) {
            return false;
        }
        if word.len() <= WHOLE_FRONT {
            return self.fronts.binary_search(&front(word)).is_ok();
        }
        self.iter().any(|known| known == word)
    }
}

fn length_bit(word: &str) -> u64 {
    1 << word.len().min(63)
}

/// What stands in front of a list.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lists {
    pub counts: WordList,
    pub hand: WordList,
    pub places: WordList,
    pub notes: WordList,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    pub players: WordList,
    pub no_hands: WordList,
    pub with_up: WordList,
    pub going: WordList,
    pub other_papers: WordList,
    pub dated: WordList,
    pub sheets: WordList,
    pub said_then: WordList,
    pub arriving: WordList,
    pub sounds: WordList,
    pub no_sounds: WordList,
    pub affirming: WordList,
    pub falls: WordList,
    pub by_themselves: WordList,
    pub rules: WordList,
    pub leading_to: WordList,
    pub of_a_chord: WordList,
    pub striking: WordList,
    pub making: WordList,
    pub told_of: WordList,
    pub all_told: WordList,
    pub fits_in: WordList,
    pub lies: WordList,
    pub prose: WordList,
    pub played: WordList,
    pub sung: WordList,
    pub done_before: WordList,
    pub roughly: WordList,
    pub paces: WordList,
    pub standing: WordList,
    pub others: WordList,
    pub counting: WordList,
    pub filling: WordList,
    pub standing_written: WordList,
    pub grouped: WordList,
    pub heard_in: WordList,
    pub totals: WordList,
    pub explaining: WordList,
    pub explaining_strums: WordList,
    pub floor: WordList,
    pub ceiling: WordList,
    pub from_string_to_string: WordList,
    pub landing: WordList,
    pub next_string: WordList,
    pub held_together: WordList,
    pub letting: WordList,
    pub in_place: WordList,
    pub leaving: WordList,
    pub next_one: WordList,
    pub over: WordList,
    pub stopping: WordList,
    pub lying: WordList,
    pub points: WordList,
    pub that_is_all: WordList,
    pub vueltas: WordList,
    pub within: WordList,
    pub together: WordList,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sayings {
    pub lists: Lists,
    pub words: Words,
}

static SAYINGS: LazyLock<Sayings> =
    LazyLock::new(|| toml::from_str(include_str!("../data/sayings.toml")).unwrap_or_default());

pub fn sayings() -> &'static Sayings {
    &SAYINGS
}

/// Whether a word stands in one of these lists.
pub fn among(list: &WordList, word: &str) -> bool {
    list.holds(word)
}

/// Whether a word, or it and the one behind it, stands in one of these lists.
pub fn among_with_next(list: &WordList, word: &str, next: &str) -> bool {
    list.holds(word) || list.iter().any(|known| known.split_once(' ') == Some((word, next)))
}

/// Whether one of a phrase's words stands in one of these lists.
pub fn any_among(list: &WordList, phrase: &str) -> bool {
    // Most are one word.
    if phrase.bytes().all(|byte| byte != b' ') {
        return list.holds(phrase);
    }
    phrase.split(' ').any(|word| list.holds(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound() {
        let table: Result<Sayings, _> = toml::from_str(include_str!("../data/sayings.toml"));
        assert!(table.is_ok(), "{table:?}");
    }
}
