//! The words of the trade: techniques and all other words, in one alphabet.

use serde::Serialize;

use super::addresses::{self, Register};
use super::course::Course;
use super::pieces::{self, Link, Links};
use super::sources_page::{Cited, cited};
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::glossary::glossary;
use crate::music::technique::techniques;
use crate::text::fold;

#[derive(Debug, Serialize)]
struct GlossaryView {
    entries: Vec<Entry>,
}

#[derive(Debug, Serialize)]
struct Entry {
    anchor: String,
    term: Link,
    also: String,
    /// The word is Spanish, whatever the language of the page.
    spanish: bool,
    about: String,
    source: Vec<Cited>,
    #[serde(skip)]
    sorted_by: String,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let page = pieces::page(course, "glossary", labels.get("glossary"), addresses::GLOSSARY, labels);
    let view = GlossaryView {
        entries: entries(course, &Links::from_page(addresses::GLOSSARY)),
    };
    Ok(vec![press.print(
        addresses::GLOSSARY,
        "glossary.html",
        &page,
        labels,
        ("glossary", &view),
    )?])
}

fn entries(course: &Course, links: &Links) -> Vec<Entry> {
    let labels = course.labels;
    let mut register = Register::default();
    let words = glossary().iter().map(|entry| Entry {
        anchor: register.give(&addresses::slug(&entry.term)),
        term: Link::plain(entry.term.clone()),
        also: entry.also.join(", "),
        spanish: true,
        about: entry.about.of(labels.language).to_owned(),
        source: cited(&entry.source, links, labels),
        sorted_by: fold(&entry.term).text,
    });
    let mut entries: Vec<Entry> = words.collect();
    for entry in techniques() {
        let name = entry.name.of(labels.language);
        let also = if labels.language == "es" {
            &entry.also.es
        } else {
            &entry.also.en
        };
        entries.push(Entry {
            anchor: register.give(&addresses::slug(&entry.id)),
            term: links.to(name, &addresses::technique(&entry.id)),
            also: also.join(", "),
            spanish: entry.name.en == entry.name.es,
            about: entry.about.of(labels.language).to_owned(),
            source: cited(&entry.source, links, labels),
            sorted_by: fold(name).text,
        });
    }
    entries.sort_by(|a, b| a.sorted_by.cmp(&b.sorted_by));
    entries
}
