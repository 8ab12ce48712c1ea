//! One technique: what it is, its sign in the drawings, the lessons that explain or use it.

use serde::Serialize;

use super::addresses;
use super::course::{Course, Ready, capital};
use super::drawing::{KeyItem, sign_of};
use super::pieces::{self, Heard, Link, Links};
use super::sources_page::{Cited, cited};
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::technique::{Hand, TechniqueEntry, techniques};

#[derive(Debug, Serialize)]
struct TechniquesView {
    title: String,
    techniques: Vec<TechniqueView>,
    /// The page is about one technique.
    single: bool,
}

#[derive(Debug, Serialize)]
struct TechniqueView {
    link: Link,
    also: String,
    abbreviations: String,
    hand: String,
    about: String,
    sign: Option<KeyItem>,
    source: Vec<Cited>,
    explained: Vec<Use>,
    used: Vec<Use>,
}

#[derive(Debug, Serialize)]
struct Use {
    link: Link,
    heard: Heard,
    language: &'static str,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let address = addresses::TECHNIQUES;
    let links = Links::from_page(address);
    let view = TechniquesView {
        title: labels.get("techniques").to_owned(),
        techniques: techniques()
            .iter()
            .map(|entry| technique(course, entry, &links))
            .collect(),
        single: false,
    };
    let page = pieces::page(course, "techniques", &view.title, address, labels);
    let mut files = vec![press.print(address, "techniques.html", &page, labels, ("view", &view))?];
    for entry in techniques() {
        let address = addresses::technique(&entry.id);
        let links = Links::from_page(&address);
        let title = capital(entry.name.of(labels.language));
        let view = TechniquesView {
            title: title.clone(),
            techniques: vec![technique(course, entry, &links)],
            single: true,
        };
        let page = pieces::page(course, "techniques", &title, &address, labels);
        files.push(press.print(&address, "techniques.html", &page, labels, ("view", &view))?);
    }
    Ok(files)
}

fn technique(course: &Course, entry: &TechniqueEntry, links: &Links) -> TechniqueView {
    let labels = course.labels;
    let also = if labels.language == "es" {
        &entry.also.es
    } else {
        &entry.also.en
    };
    TechniqueView {
        link: links.to(
            capital(entry.name.of(labels.language)),
            &addresses::technique(&entry.id),
        ),
        also: also.join(", "),
        abbreviations: entry.abbreviations.join(", "),
        hand: labels
            .get(match entry.hand {
                Hand::Right => "hand_right",
                Hand::Left => "hand_left",
                Hand::Either => "hand_either",
                Hand::Neither => "hand_neither",
            })
            .to_owned(),
        about: entry.about.of(labels.language).to_owned(),
        sign: entry.action.map(|action| sign_of(action, labels)),
        source: cited(&entry.source, links, labels),
        explained: uses(course, links, |ready| first(ready, &entry.id, true)),
        used: uses(course, links, |ready| match first(ready, &entry.id, true) {
            Some(_) => None,
            None => first(ready, &entry.id, false),
        }),
    }
}

fn uses(course: &Course, links: &Links, place: impl Fn(&Ready) -> Option<crate::text::Place>) -> Vec<Use> {
    let found = course
        .lessons
        .iter()
        .filter_map(|ready| place(ready).map(|place| (ready, place)));
    let view = |(ready, place): (&Ready, crate::text::Place)| Use {
        link: links.lesson(ready),
        heard: links.heard(ready, place, false),
        language: ready.labels.language,
    };
    found.map(view).collect()
}

/// Where a lesson first explains a technique, or first mentions it.
fn first(ready: &Ready, id: &str, explained: bool) -> Option<crate::text::Place> {
    let mentions = ready.lesson().techniques.iter().filter(|used| used.id == id);
    mentions
        .filter(|used| used.explained || !explained)
        .map(|used| used.place)
        .next()
}
