//! The templates and the browser's files, built into the program.

use std::collections::BTreeMap;

use serde::Serialize;
use tera::{Context, Tera};

use super::labels::Labels;
use super::pieces::Page;
use super::player_files::{PLAYER_SCRIPTS, PLAYER_STYLE};
use crate::disk::OutputFile;
use crate::failure::Failure;

/// Every template; a test holds the list against the folder.
const TEMPLATES: [(&str, &str); 16] = [
    ("parts.html", include_str!("../../templates/parts.html")),
    ("base.html", include_str!("../../templates/base.html")),
    ("home.html", include_str!("../../templates/home.html")),
    ("lesson.html", include_str!("../../templates/lesson.html")),
    ("practice.html", include_str!("../../templates/practice.html")),
    ("palos.html", include_str!("../../templates/palos.html")),
    ("palo.html", include_str!("../../templates/palo.html")),
    ("chords.html", include_str!("../../templates/chords.html")),
    ("techniques.html", include_str!("../../templates/techniques.html")),
    ("glossary.html", include_str!("../../templates/glossary.html")),
    ("reading.html", include_str!("../../templates/reading.html")),
    ("changes.html", include_str!("../../templates/changes.html")),
    ("moved.html", include_str!("../../templates/moved.html")),
    ("comparison.html", include_str!("../../templates/comparison.html")),
    ("report.html", include_str!("../../templates/report.html")),
    ("sources.html", include_str!("../../templates/sources.html")),
];

pub(super) const STYLE: &str = include_str!("../../templates/assets/style.css");

/// Files that go into the site as they are.
const ASSETS: [(&str, &str); 2] = [
    (super::addresses::STYLE, STYLE),
    (
        super::addresses::RECORDING_SCRIPT,
        include_str!("../../templates/assets/recording.js"),
    ),
];

pub(super) fn assets() -> Vec<OutputFile> {
    let file = |(path, text): &(&str, &str)| OutputFile {
        path: (*path).to_owned(),
        bytes: text.as_bytes().to_vec(),
    };
    let player = std::iter::once(&PLAYER_STYLE).chain(&PLAYER_SCRIPTS);
    ASSETS.iter().chain(player).map(file).collect()
}

/// Turns a page's values into HTML.
pub(super) struct Press {
    tera: Tera,
}

impl Press {
    pub fn new() -> Result<Self, Failure> {
        let mut tera = Tera::default();
        tera.autoescape_on(vec![".html"]);
        tera.add_raw_templates(TEMPLATES).map_err(failure)?;
        Ok(Self { tera })
    }

    /// One page. `name` is what its template calls `view`.
    pub fn print<T: Serialize>(
        &self,
        address: &str,
        template: &str,
        page: &Page,
        labels: &Labels,
        (name, view): (&'static str, &T),
    ) -> Result<OutputFile, Failure> {
        let mut context = Context::new();
        let words: &BTreeMap<String, String> = labels.all();
        context.insert("t", words);
        context.insert("page", page);
        context.insert(name, view);
        let html = self.tera.render(template, &context).map_err(failure)?;
        Ok(OutputFile {
            path: address.to_owned(),
            bytes: html.into_bytes(),
        })
    }
}

fn failure(error: tera::Error) -> Failure {
    Failure::Template(error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_template_in_the_folder_is_built_in() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/templates");
        let mut found: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.ends_with(".html"))
            .collect();
        found.sort();
        let mut known: Vec<&str> = TEMPLATES.iter().map(|(name, _)| *name).collect();
        known.sort_unstable();
        assert_eq!(found, known);
    }
}
