//! Words that are looked for in one place only: `src/data/sayings.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

/// What stands in front of a list.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lists {
    pub counts: Vec<String>,
    pub hand: Vec<String>,
    pub places: Vec<String>,
    pub notes: Vec<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    pub players: Vec<String>,
    pub other_papers: Vec<String>,
    pub dated: Vec<String>,
    pub sheets: Vec<String>,
    pub said_then: Vec<String>,
    pub arriving: Vec<String>,
    pub sounds: Vec<String>,
    pub told_of: Vec<String>,
    pub prose: Vec<String>,
    pub played: Vec<String>,
    pub sung: Vec<String>,
    pub done_before: Vec<String>,
    pub roughly: Vec<String>,
    pub paces: Vec<String>,
    pub standing: Vec<String>,
    pub others: Vec<String>,
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
pub fn among(list: &[String], word: &str) -> bool {
    list.iter().any(|known| known == word)
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
