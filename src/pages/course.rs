//! The lessons made ready for all pages at once: screened, ordered, with their addresses.

use std::collections::BTreeSet;

use rayon::prelude::*;

use crate::music::lesson::Lesson;
use crate::music::palo::{Palo, PaloTable};

use super::addresses::{self, Register};
use super::compas::Compas;
use super::known::{Decisions, Known};
use super::labels::Labels;
use super::people::People;
use super::published::{Published, publish};
use super::recording::Recording;
use super::{Choices, SiteInput};
use crate::compare::Held;
use crate::intake;
use crate::mark::Mark;

/// A lesson as the pages see it.
#[derive(Debug)]
pub(super) struct Ready<'a> {
    pub published: Published,
    pub slug: String,
    pub title: String,
    /// Its place among the lessons of the input.
    pub index: usize,
    /// Its place in the course, from 1.
    pub number: usize,
    pub palo: Option<&'a Palo>,
    pub compas: Compas,
    pub recording: Recording,
    pub labels: &'static Labels,
    /// Of all that it was read from, where that is known.
    pub mark: Option<Mark>,
}

/// The course as the pages see it.
#[derive(Debug)]
pub(super) struct Course<'a> {
    pub title: String,
    pub about: String,
    pub labels: &'static Labels,
    /// In the order of the course.
    pub lessons: Vec<Ready<'a>>,
    pub palos: &'a PaloTable,
    /// The teacher's own palos, as written.
    pub own_palos: Option<&'a str>,
    /// Which pages need not be made again.
    pub decisions: Decisions<'a>,
    /// Which lesson holds which address, those that are left out too.
    pub held: Vec<Held>,
    pub people: People,
    pub base_url: Option<&'a str>,
}

impl<'a> Course<'a> {
    pub fn new(input: &SiteInput<'a>, known: Option<Known<'a>>) -> Self {
        let people = People::of(input.lessons);
        let held = held(input, &people);
        let addressed: Vec<(usize, String)> = held.iter().map(|held| held.slug.clone()).enumerate().collect();
        let made_ready = addressed.into_par_iter().filter_map(|(index, slug)| {
            let mark = known.and_then(|known| known.lessons.get(index).copied());
            let lesson = input.lessons.get(index)?;
            Some(Ready {
                mark,
                index,
                ..ready(input, lesson, slug, &people)
            })
        });
        let mut lessons: Vec<Ready> = made_ready.collect();
        if input.choices.strict {
            lessons.retain(|ready| ready.published.lesson.reviewed.is_some());
        }
        in_order(&mut lessons);
        let spanish = lessons.iter().filter(|ready| ready.labels.language == "es").count();
        let language = match input.head.language.as_str() {
            "" if spanish * 2 > lessons.len() => "es",
            said => said,
        };
        let labels = Labels::of(language);
        let title = people.hide(input.head.title.trim());
        let context = context(input, labels, &people, &lessons);
        Self {
            title: if title.is_empty() {
                labels.get("course_untitled").to_owned()
            } else {
                title
            },
            about: people.hide(input.head.about.trim()),
            labels,
            lessons,
            palos: input.palos,
            own_palos: input.folder.palos.as_ref().map(|source| source.text.as_str()),
            decisions: Decisions::new(known, context),
            held,
            base_url: input.publication.base_url,
            people,
        }
    }

    /// The whole address of a page, where it is known where the site will stand.
    pub fn canonical(&self, address: &str) -> Option<String> {
        let address = if address == addresses::HOME { "" } else { address };
        self.base_url.map(|base| format!("{base}{address}"))
    }

    /// The lesson that a cross-reference means: by its address, else None.
    pub fn lesson(&self, id: &str) -> Option<&Ready<'a>> {
        let wanted = addresses::slug(id);
        self.lessons
            .iter()
            .find(|ready| ready.published.lesson.id == id || ready.slug == wanted)
    }

    pub fn of_palo<'b>(&'b self, slug: &'b str) -> impl Iterator<Item = &'b Ready<'a>> {
        self.lessons.iter().filter(move |ready| ready.palo_slug() == Some(slug))
    }

    /// The palos that the course has lessons of, in the order of the course; with their names when we know them.
    pub fn palo_slugs(&self) -> Vec<&str> {
        let mut slugs: Vec<&str> = Vec::new();
        for slug in self.lessons.iter().filter_map(|ready| ready.palo_slug()) {
            if !slugs.contains(&slug) {
                slugs.push(slug);
            }
        }
        slugs
    }
}

impl Ready<'_> {
    pub fn lesson(&self) -> &Lesson {
        &self.published.lesson
    }

    pub fn palo_slug(&self) -> Option<&str> {
        self.published.lesson.palo.as_ref().map(|palo| palo.value.as_str())
    }

    /// The palo's name in this lesson's language.
    pub fn palo_name(&self, language: &str) -> String {
        match (self.palo, self.palo_slug()) {
            (Some(palo), _) => palo.name.of(language).to_owned(),
            (None, Some(slug)) => slug.replace('-', " "),
            (None, None) => String::new(),
        }
    }
}

/// The address of each lesson: the one that it holds already, else the one it wants, given in the order of the notes.
/// Pages that are left out hold theirs too. An address with a name in it that must not be published is held by nobody.
fn held(input: &SiteInput, people: &People) -> Vec<Held> {
    let mut register = Register::default();
    let keys = keys(input);
    let fit = |slug: &str| addresses::lesson_slug(slug, people) == slug;
    let before = |key: &str| input.publication.history.and_then(|history| history.slug(key));
    let kept: Vec<Option<String>> = keys
        .iter()
        .map(|key| {
            before(key)
                .filter(|slug| fit(slug))
                .and_then(|slug| register.take(slug))
        })
        .collect();
    let lessons = input.lessons.iter().zip(keys).zip(kept);
    let give = |((lesson, key), kept): ((&Lesson, String), Option<String>)| Held {
        lesson: key,
        slug: kept.unwrap_or_else(|| register.give(&addresses::lesson_slug(&lesson.id, people))),
    };
    lessons.map(give).collect()
}

/// What a lesson is known by from build to build: the name of its first note without its endings, and the id that its
/// head gives it. Its own id may go to a note that comes to stand before it.
fn keys(input: &SiteInput) -> Vec<String> {
    let groups = intake::lessons(input.folder);
    let name = |group: &intake::LessonNotes| {
        let note = group.notes.first().and_then(|index| input.folder.notes.get(*index))?;
        let file = input.folder.files.get(note.file.0 as usize)?;
        let folder = file
            .name
            .rsplit_once('/')
            .map_or(String::new(), |(folder, _)| format!("{folder}/"));
        let said = note.head_value("lesson").map_or(String::new(), |id| format!(" = {id}"));
        Some(format!("{folder}{}{said}", note.stem))
    };
    let fits = groups.len() == input.lessons.len();
    let named = |(index, lesson): (usize, &Lesson)| {
        let group = groups.get(index).filter(|_| fits);
        group.and_then(name).unwrap_or_else(|| lesson.id.clone())
    };
    input.lessons.iter().enumerate().map(named).collect()
}

fn ready<'a>(input: &SiteInput<'a>, lesson: &Lesson, slug: String, people: &People) -> Ready<'a> {
    let Choices { copy_recordings, .. } = input.choices;
    let published = publish(lesson, input.folder, people);
    let palo = published
        .lesson
        .palo
        .as_ref()
        .and_then(|palo| input.palos.find(&palo.value));
    let labels = Labels::of(&published.lesson.language);
    let title = published
        .lesson
        .title
        .as_ref()
        .map(|title| title.value.trim().to_owned());
    let palo_name = palo.map(|palo| palo.name.of(labels.language).to_owned());
    let title = title
        .filter(|title| !title.is_empty())
        .or(palo_name)
        .unwrap_or_else(|| slug.replace('-', " "));
    Ready {
        compas: Compas::of(&published.lesson, input.palos),
        recording: Recording::of(&published.lesson, &slug, copy_recordings),
        title: capital(&title),
        index: 0,
        number: 0,
        palo,
        slug,
        labels,
        published,
        mark: None,
    }
}

/// The mark of what a lesson's own pages may show of the rest of the course: a card of every lesson, and what holds for all.
///
/// Whatever a page of one lesson takes from another has to be on its card.
fn context(input: &SiteInput, labels: &Labels, people: &People, lessons: &[Ready]) -> Mark {
    let cards: Vec<_> = lessons.iter().map(card).collect();
    let own_palos = input.folder.palos.as_ref().map(|source| source.text.as_str());
    let base = input.publication.base_url;
    Mark::of_values(&[
        input.head,
        &input.choices,
        &labels.language,
        people,
        &own_palos,
        &base,
        &cards,
    ])
}

fn card(ready: &Ready) -> impl std::fmt::Debug + use<> {
    let lesson = ready.lesson();
    let techniques: Vec<String> = lesson.techniques.iter().map(|technique| technique.id.clone()).collect();
    let patterns: Vec<_> = lesson
        .patterns
        .iter()
        .map(|pattern| (pattern.name.clone(), pattern.role))
        .collect();
    let chords: Vec<_> = lesson
        .chords
        .iter()
        .map(|chord| (chord.name.clone(), chord.shape))
        .collect();
    let needs: Vec<String> = lesson.needs.iter().map(|need| need.value.clone()).collect();
    let palo = ready.palo_slug().map(str::to_owned);
    let names = (lesson.id.clone(), ready.slug.clone(), ready.title.clone());
    let place = (ready.number, ready.labels.language, lesson.reviewed.is_some());
    (names, place, palo, techniques, patterns, chords, needs)
}

/// The teacher's order first; what has none comes after what it needs, else in the order of the notes.
fn in_order(lessons: &mut Vec<Ready>) {
    let mut waiting: Vec<Ready> = std::mem::take(lessons);
    // Stable: lessons without an order keep the order of the notes, behind those with one.
    waiting.sort_by_key(|ready| {
        ready
            .published
            .lesson
            .order
            .as_ref()
            .map_or(i64::MAX, |order| order.value)
    });
    let mut ids: BTreeSet<String> = waiting.iter().map(|ready| ready.published.lesson.id.clone()).collect();
    while !waiting.is_empty() {
        let free = waiting.iter().position(|ready| {
            let lesson = &ready.published.lesson;
            lesson.order.is_some()
                || lesson
                    .needs
                    .iter()
                    .all(|need| need.value == lesson.id || !ids.contains(&need.value))
        });
        // A ring of needs is a finding elsewhere; here it must only not stop the build.
        let next = waiting.remove(free.unwrap_or(0));
        ids.remove(&next.published.lesson.id);
        lessons.push(next);
    }
    for (index, ready) in lessons.iter_mut().enumerate() {
        ready.number = index + 1;
    }
}

/// With a capital letter first.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
