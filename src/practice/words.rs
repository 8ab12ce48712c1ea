//! What practice says to a student, in the lesson's language, from `src/data/practice.toml`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Catalogue {
    en: BTreeMap<String, String>,
    es: BTreeMap<String, String>,
}

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/practice.toml")).expect("practice.toml is checked by a test")
});

/// The words of one language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Words {
    spanish: bool,
}

impl Words {
    /// Those of `en` or `es`; English for any other.
    pub fn of(language: &str) -> Self {
        Self {
            spanish: language == "es",
        }
    }

    pub fn is_spanish(self) -> bool {
        self.spanish
    }

    /// The words under a key, holes filled. A key that is not there shows itself, so that a test finds it.
    pub fn say(self, key: &str, holes: &[(&str, &str)]) -> String {
        let table = if self.spanish { &CATALOGUE.es } else { &CATALOGUE.en };
        let mut words = table.get(key).cloned().unwrap_or_else(|| format!("[{key}]"));
        for (hole, filling) in holes {
            words = words.replace(&format!("{{{hole}}}"), filling);
        }
        words
    }

    /// `one` or `other` after the key, as the number asks for; the number fills `{n}`.
    pub fn count(self, key: &str, number: u64) -> String {
        let form = if number == 1 { "one" } else { "other" };
        self.say(&format!("{key}-{form}"), &[("n", &number.to_string())])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn holes(words: &str) -> Vec<&str> {
        let mut holes: Vec<&str> = words
            .split('{')
            .skip(1)
            .filter_map(|rest| rest.split('}').next())
            .collect();
        holes.sort_unstable();
        holes
    }

    #[test]
    fn both_languages_say_the_same_things() {
        let keys = |table: &BTreeMap<String, String>| table.keys().cloned().collect::<Vec<String>>();
        assert_eq!(keys(&CATALOGUE.en), keys(&CATALOGUE.es));
        for (key, words) in &CATALOGUE.en {
            assert_eq!(holes(words), holes(&CATALOGUE.es[key]), "{key}");
        }
    }

    #[test]
    fn every_key_is_used_somewhere_in_this_room() {
        let sources = [
            include_str!("hands.rs"),
            include_str!("bars.rs"),
            include_str!("versions.rs"),
            include_str!("judge.rs"),
            include_str!("desk.rs"),
            include_str!("page.rs"),
            include_str!("learning.rs"),
            include_str!("drills.rs"),
            include_str!("plan/mod.rs"),
            include_str!("plan/dates.rs"),
            include_str!("plan/about.rs"),
            include_str!("plan/days.rs"),
            include_str!("plan/session.rs"),
        ];
        for key in CATALOGUE.en.keys() {
            let stem = key.strip_suffix("-one").or(key.strip_suffix("-other")).unwrap_or(key);
            let said = |source: &&str| [stem, key].iter().any(|key| source.contains(&format!("\"{key}\"")));
            let used = sources.iter().any(said);
            assert!(used, "{key} is never said");
        }
    }
}
