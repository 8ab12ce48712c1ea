//! Small pieces that pages share.

use serde::Serialize;

use super::course::{Course, Ready};
use super::templates::STYLE;
use super::{addresses, labels::Labels};
use crate::text::Place;

/// What every page has around it.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Page {
    pub kind: &'static str,
    pub title: String,
    pub course: String,
    pub language: &'static str,
    /// From here to the site's root.
    pub root: String,
    /// One file by itself: no links into the site.
    pub alone: bool,
    /// The style sheet, for a page that stands alone.
    pub style: String,
    pub nav: Vec<NavLink>,
    /// The one address of this page, where it is known where the site will stand.
    pub canonical: Option<String>,
}

impl Page {
    /// One file by itself, with the site's look and no link into it.
    pub fn alone(kind: &'static str, title: String, course: String, language: &'static str) -> Self {
        Self {
            kind,
            title,
            course,
            language,
            root: String::new(),
            alone: true,
            style: STYLE.to_owned(),
            nav: Vec::new(),
            canonical: None,
        }
    }
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct NavLink {
    pub text: String,
    pub href: String,
    pub current: bool,
}

/// Words that may lead somewhere.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub(super) struct Link {
    pub text: String,
    pub href: Option<String>,
}

impl Link {
    pub fn plain(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            href: None,
        }
    }

    pub fn to(text: impl Into<String>, href: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            href: Some(href.into()),
        }
    }
}

/// Where something was heard: the moment in the recording, and the words it was read from.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub(super) struct Heard {
    pub time: Option<String>,
    pub href: Option<String>,
    pub seconds: u64,
    /// Anchor of the sentence.
    pub words: Option<String>,
    /// The sentence's number on its page.
    pub number: String,
}

/// Builds links for one page.
#[derive(Debug, Clone)]
pub(super) struct Links {
    pub root: String,
    pub alone: bool,
}

impl Links {
    pub fn from_page(page: &str) -> Self {
        Self {
            root: addresses::root(page),
            alone: false,
        }
    }

    pub fn alone() -> Self {
        Self {
            root: String::new(),
            alone: true,
        }
    }

    /// A link into the site; plain words on a page that stands alone.
    pub fn to(&self, text: impl Into<String>, address: &str) -> Link {
        if self.alone {
            Link::plain(text)
        } else {
            Link::to(text, format!("{}{address}", self.root))
        }
    }

    pub fn lesson(&self, ready: &Ready) -> Link {
        self.to(ready.title.clone(), &addresses::lesson(&ready.slug))
    }

    pub fn palo(&self, ready: &Ready, language: &str) -> Link {
        match ready.palo_slug() {
            Some(slug) => self.to(ready.palo_name(language), &addresses::palo(&addresses::slug(slug))),
            None => Link::default(),
        }
    }

    /// Where a fact of a lesson was heard, seen from another page of the site or its own.
    pub fn heard(&self, ready: &Ready, place: Place, own_page: bool) -> Heard {
        let sentence = ready.published.sentence(place);
        let time = place.time.or(sentence.and_then(|sentence| sentence.time));
        let playable = !(self.alone && ready.recording.is_file());
        let page = if own_page {
            String::new()
        } else {
            format!("{}{}", self.root, addresses::lesson(&ready.slug))
        };
        Heard {
            time: time.map(|time| time.to_string()),
            href: time
                .filter(|_| playable)
                .and_then(|time| ready.recording.at(time, &self.root)),
            seconds: time.map_or(0, |time| time.seconds()),
            words: sentence
                .filter(|_| own_page || !self.alone)
                .map(|sentence| format!("{page}#{}", sentence.id)),
            number: sentence.map_or(String::new(), |sentence| {
                sentence.id.trim_start_matches("said-").to_owned()
            }),
        }
    }
}

/// A page of the site.
pub(super) fn page(course: &Course, kind: &'static str, title: &str, address: &str, labels: &Labels) -> Page {
    let root = addresses::root(address);
    let entries = [
        ("lessons", addresses::HOME),
        ("palos", addresses::PALOS),
        ("chords", addresses::CHORDS),
        ("techniques", addresses::TECHNIQUES),
        ("glossary", addresses::GLOSSARY),
    ];
    let nav = entries.iter().map(|(key, target)| NavLink {
        text: labels.get(key).to_owned(),
        href: format!("{root}{target}"),
        current: *target == address,
    });
    Page {
        kind,
        title: title.to_owned(),
        course: course.title.clone(),
        language: labels.language,
        alone: false,
        style: String::new(),
        nav: nav.collect(),
        canonical: course.canonical(address),
        root,
    }
}
