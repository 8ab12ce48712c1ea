//! Where figures come from: one page for the whole course.

use serde::Serialize;

use super::addresses;
use super::course::Course;
use super::labels::Labels;
use super::pieces::{self, Link, Links};
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::source::{Citation, Source, citations};

/// One source beside a figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Cited {
    pub link: Link,
}

#[derive(Debug, Serialize)]
struct SourcesView {
    topics: Vec<Topic>,
}

#[derive(Debug, Serialize)]
struct Topic {
    name: String,
    anchor: String,
    entries: Vec<Entry>,
}

#[derive(Debug, Serialize)]
struct Entry {
    anchor: String,
    key: String,
    cite: String,
}

/// The sources of a figure, as links to the Sources page; a teacher's own words as they are.
pub(super) fn cited(source: &Source, links: &Links, labels: &Labels) -> Vec<Cited> {
    let known = source.cited();
    if source.is_common_practice() {
        return vec![Cited {
            link: Link::plain(labels.get("common_practice")),
        }];
    }
    if known.is_empty() {
        return vec![Cited {
            link: Link::plain(source.0.clone()),
        }];
    }
    known
        .into_iter()
        .map(|citation| Cited {
            link: links.to(citation.key.clone(), &addresses::source(&citation.key)),
        })
        .collect()
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let page = pieces::page(
        course,
        "sources",
        labels.get("sources_title"),
        addresses::SOURCES,
        labels,
    );
    let mut topics: Vec<Topic> = Vec::new();
    for citation in citations() {
        let entry = entry(citation);
        match topics.iter_mut().find(|topic| topic.anchor == citation.topic) {
            Some(topic) => topic.entries.push(entry),
            None => topics.push(Topic {
                name: labels.get(topic_key(&citation.topic)).to_owned(),
                anchor: citation.topic.clone(),
                entries: vec![entry],
            }),
        }
    }
    Ok(vec![press.print(
        addresses::SOURCES,
        "sources.html",
        &page,
        labels,
        ("sources", &SourcesView { topics }),
    )?])
}

fn topic_key(topic: &str) -> &'static str {
    match topic {
        "compas" => "topic_compas",
        "palo" => "topic_palo",
        "guitar" => "topic_guitar",
        "standard" => "topic_standard",
        "practice" => "topic_practice",
        "health" => "topic_health",
        "limits" => "topic_limits",
        _ => "topic_other",
    }
}

fn entry(citation: &Citation) -> Entry {
    Entry {
        anchor: addresses::source_anchor(&citation.key),
        key: citation.key.clone(),
        cite: citation.cite.clone(),
    }
}
