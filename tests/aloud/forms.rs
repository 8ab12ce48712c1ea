//! The ways of saying things, from the data files.

use std::collections::BTreeMap;

use serde::Deserialize;

/// How a lesson's text came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Make {
    /// A transcript with marks and capitals.
    Marks,
    /// A transcript without.
    Plain,
    Typed,
}

impl Make {
    pub const ALL: [Make; 3] = [Make::Marks, Make::Plain, Make::Typed];
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Only {
    Typed,
    Marks,
}

/// Whether what is said only so may be said in a text of this make.
pub fn fits(only: Option<Only>, make: Make) -> bool {
    match only {
        None => true,
        Some(Only::Typed) => make == Make::Typed,
        Some(Only::Marks) => make != Make::Plain,
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Order {
    Front,
    Behind,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Frame {
    pub name: String,
    pub order: Order,
    pub only: Option<Only>,
    /// What alone it is said of.
    pub of: Option<String>,
    /// What it is not said of.
    pub not: Option<String>,
    pub words: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Phrase {
    pub of: String,
    pub only: Option<Only>,
    #[serde(default)]
    pub noun: Vec<String>,
    #[serde(default)]
    pub a: Vec<String>,
    #[serde(default)]
    pub clause: Vec<String>,
    #[serde(default)]
    pub note: Vec<String>,
}

type Words = BTreeMap<String, String>;
type Ways = BTreeMap<String, Vec<String>>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forms {
    pub counts: Vec<String>,
    pub ordinals: Vec<String>,
    /// Ordinals in front of a fret, where they are others.
    #[serde(default)]
    pub fret_ordinals: Vec<String>,
    pub mends: Words,
    pub joins: Vec<String>,
    pub openers: Vec<String>,
    pub breaks: Vec<String>,
    pub title: Vec<String>,
    pub core: Vec<String>,
    pub fingers: Words,
    pub chords: Words,
    pub ways: Words,
    #[serde(default)]
    pub verbs: Words,
    #[serde(default)]
    pub you: Words,
    pub moments: Ways,
    pub spans: Ways,
    pub places: Ways,
    pub chord_over: Ways,
    pub variation: Ways,
    pub frame: Vec<Frame>,
    pub phrase: Vec<Phrase>,
}

impl Forms {
    pub fn english() -> Self {
        toml::from_str(include_str!("forms.en.toml")).expect("the English forms")
    }

    pub fn spanish() -> Self {
        toml::from_str(include_str!("forms.es.toml")).expect("the Spanish forms")
    }
}
