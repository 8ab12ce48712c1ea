//! Pages that appear, move or vanish, anchors that vanish, and the links that would break.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::pairing::Pair;
use super::record::{LessonRecord, Record};

/// What becomes of an address.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PageChange {
    /// `lessons/solea.html`, or a part of a page: `lessons/solea.html#pattern-v2`.
    pub address: String,
    pub fate: PageFate,
    /// Where it moved to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Lessons of the newer course that lead there, by id: their links would break.
    pub linked_from: Vec<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PageFate {
    New,
    /// A build that knows the history leaves a page at the old address that leads to the new one.
    Moved,
    /// A link to it from elsewhere breaks.
    Gone,
}

pub(super) fn pages(old: &Record, new: &Record, pairs: &[Pair]) -> Vec<PageChange> {
    let there = addresses(new);
    let mut found = Vec::new();
    for (was, is) in pairs {
        let was = was.and_then(|index| old.lessons.get(index));
        let is = is.and_then(|index| new.lessons.get(index));
        match (was, is) {
            (Some(was), Some(is)) => found.extend(kept(was, is, new)),
            (None, Some(is)) => found.push(change(&is.address, PageFate::New)),
            (Some(was), None) => {
                if !there.contains(&was.address) {
                    found.push(gone(&was.address, &was.id, new));
                }
            }
            (None, None) => {}
        }
    }
    let fresh = new
        .course
        .pages
        .keys()
        .filter(|address| !old.course.pages.contains_key(*address));
    found.extend(fresh.map(|address| change(address, PageFate::New)));
    for (address, anchors) in &old.course.pages {
        match new.course.pages.get(address) {
            None => found.push(change(address, PageFate::Gone)),
            Some(after) => {
                let lost = anchors.iter().filter(|anchor| !after.contains(anchor));
                found.extend(lost.map(|anchor| change(&format!("{address}#{anchor}"), PageFate::Gone)));
            }
        }
    }
    found
}

fn addresses(record: &Record) -> BTreeSet<String> {
    let lessons = record.lessons.iter().map(|lesson| lesson.address.clone());
    lessons.chain(record.course.pages.keys().cloned()).collect()
}

fn kept(was: &LessonRecord, is: &LessonRecord, new: &Record) -> Vec<PageChange> {
    let mut found = Vec::new();
    // Two notes compared by themselves have no page but their own.
    if was.address != is.address {
        let taken = new.lessons.iter().any(|lesson| lesson.address == was.address);
        found.push(if taken {
            gone(&was.address, &was.id, new)
        } else {
            PageChange {
                to: Some(is.address.clone()),
                ..change(&was.address, PageFate::Moved)
            }
        });
    }
    let lost = was.anchors.iter().filter(|anchor| !is.anchors.contains(anchor));
    found.extend(lost.map(|anchor| change(&format!("{}#{anchor}", was.address), PageFate::Gone)));
    found
}

fn change(address: &str, fate: PageFate) -> PageChange {
    PageChange {
        address: address.to_owned(),
        fate,
        to: None,
        linked_from: Vec::new(),
    }
}

fn gone(address: &str, id: &str, new: &Record) -> PageChange {
    PageChange {
        linked_from: super::follows::needed_by(id, new),
        ..change(address, PageFate::Gone)
    }
}
