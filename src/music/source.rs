use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

/// What a figure rests on: keys of `src/data/sources.toml` with commas between, or [`COMMON_PRACTICE`],
/// or (in a teacher's own file) whatever the teacher wrote.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Source(pub String);

/// Written where nobody is cited: players agree on it, and we found no page that says so.
pub const COMMON_PRACTICE: &str = "common practice, no source";

/// One entry of the list of sources.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Citation {
    pub key: String,
    /// `compas`, `palo`, `guitar`, `standard`, `practice`, `health` or `limits`: for grouping on a page.
    pub topic: String,
    /// Author, title and address, as read.
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SourcesFile {
    source: Vec<Citation>,
}

static CITATIONS: LazyLock<Vec<Citation>> = LazyLock::new(|| {
    let file: SourcesFile =
        toml::from_str(include_str!("../data/sources.toml")).expect("sources.toml is checked by a test");
    file.source
});

/// All sources, in the order of the file.
pub fn citations() -> &'static [Citation] {
    &CITATIONS
}

/// The source that a key stands for.
pub fn citation(key: &str) -> Option<&'static Citation> {
    CITATIONS.iter().find(|citation| citation.key == key)
}

impl Source {
    pub fn is_common_practice(&self) -> bool {
        self.0 == COMMON_PRACTICE
    }

    /// The sources cited; empty for common practice and for a teacher's own words.
    pub fn cited(&self) -> Vec<&'static Citation> {
        self.keys().filter_map(citation).collect()
    }

    /// True when each key is in the list, or it is common practice: what our own data have to be.
    pub fn is_known(&self) -> bool {
        self.is_common_practice() || self.keys().all(|key| citation(key).is_some())
    }

    fn keys(&self) -> impl Iterator<Item = &str> {
        self.0.split(',').map(str::trim)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_stand_once_and_every_citation_says_something() {
        for (index, citation) in citations().iter().enumerate() {
            assert!(!citation.cite.is_empty(), "{}", citation.key);
            let earlier = &citations()[..index];
            assert!(
                earlier.iter().all(|other| other.key != citation.key),
                "{} stands twice",
                citation.key
            );
        }
    }

    #[test]
    fn a_source_is_keys_or_common_practice() {
        assert_eq!(Source("KL, MH".into()).cited().len(), 2);
        assert!(Source(COMMON_PRACTICE.into()).is_known());
        assert!(!Source("my grandmother".into()).is_known());
    }
}
