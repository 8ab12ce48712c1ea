//! The techniques, filled from `src/data/techniques.toml`: their ids are what lessons, pages and checks say.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::palo::Words;
use super::source::Source;
use super::stroke::Action;

/// One technique of the guitar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TechniqueEntry {
    /// ASCII, lower case, hyphens.
    pub id: String,
    pub name: Words,
    pub also: OtherNames,
    /// As players jot it down.
    pub abbreviations: Vec<String>,
    pub hand: Hand,
    /// The stroke that is this technique; absent where it is a manner of playing other strokes.
    #[serde(default)]
    pub action: Option<Action>,
    /// One or two sentences.
    pub about: Words,
    pub source: Source,
}

/// Other names in each language.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OtherNames {
    pub en: Vec<String>,
    pub es: Vec<String>,
}

/// Whose work a technique is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hand {
    Left,
    Right,
    Either,
    /// A tool, or the whole body.
    Neither,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TechniquesFile {
    technique: Vec<TechniqueEntry>,
}

static TECHNIQUES: LazyLock<Vec<TechniqueEntry>> = LazyLock::new(|| {
    let file: TechniquesFile =
        toml::from_str(include_str!("../data/techniques.toml")).expect("techniques.toml is checked by a test");
    file.technique
});

/// All techniques, in the order of the file.
pub fn techniques() -> &'static [TechniqueEntry] {
    &TECHNIQUES
}

/// The technique with this id.
pub fn technique(id: &str) -> Option<&'static TechniqueEntry> {
    TECHNIQUES.iter().find(|entry| entry.id == id)
}

/// The technique that a stroke is; None for plain strums, plucks and rests.
pub fn technique_of(action: Action) -> Option<&'static TechniqueEntry> {
    TECHNIQUES.iter().find(|entry| entry.action == Some(action))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_stand_once_and_every_entry_is_whole() {
        for (index, entry) in techniques().iter().enumerate() {
            assert!(
                techniques()[..index].iter().all(|other| other.id != entry.id),
                "{}",
                entry.id
            );
            assert!(entry.source.is_known(), "{}: {}", entry.id, entry.source.0);
            for words in [&entry.name, &entry.about] {
                assert!(!words.en.is_empty() && !words.es.is_empty(), "{}", entry.id);
            }
        }
    }

    #[test]
    fn strokes_that_are_techniques_are_found() {
        let table = [
            (Action::Golpe, Some("golpe")),
            (Action::Rasgueado, Some("rasgueado")),
            (Action::Picado, Some("picado")),
            (Action::Alzapua, Some("alzapua")),
            (Action::Tremolo, Some("tremolo")),
            (Action::PullOff, Some("pull-off")),
            (Action::HammerOn, Some("hammer-on")),
            (Action::Damp, Some("apagado")),
            (Action::Down, None),
            (Action::Rest, None),
        ];
        for (action, id) in table {
            assert_eq!(technique_of(action).map(|entry| entry.id.as_str()), id);
        }
    }
}
