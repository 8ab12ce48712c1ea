//! The first page: the lessons in order, as the contents of a book, and the palos they are about.

use serde::Serialize;

use super::addresses;
use super::changes::{RevisionView, Told};
use super::course::{Course, Ready};
use super::drawing::{CompasRow, compas_row};
use super::pieces::{self, Link, Links};
use super::summary;
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;

#[derive(Debug, Serialize)]
struct HomeView {
    about: String,
    counted: String,
    lessons: Vec<LessonLine>,
    palos: Vec<PaloLine>,
    /// What changed last, where a history is kept.
    changes: Option<LastChanges>,
    feed: bool,
}

#[derive(Debug, Serialize)]
struct LastChanges {
    href: &'static str,
    revision: Option<RevisionView>,
}

/// One lesson in a list of lessons.
#[derive(Debug, Clone, Serialize)]
pub(super) struct LessonLine {
    pub number: usize,
    pub language: &'static str,
    pub href: String,
    pub title: String,
    pub palo: Link,
    pub meta: Vec<String>,
    pub needs: Vec<Link>,
    pub unreviewed: bool,
    pub compas_row: String,
}

#[derive(Debug, Serialize)]
pub(super) struct PaloLine {
    pub link: Link,
    pub about: String,
    pub count: String,
}

pub(super) fn pages(course: &Course, told: &Told, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let address = addresses::HOME;
    let links = Links::from_page(address);
    let labels = course.labels;
    let page = pieces::page(course, "home", &course.title, address, labels);
    let (lessons, palos) = (course.lessons.len(), course.palo_slugs().len());
    let view = HomeView {
        about: course.about.clone(),
        counted: labels.fill(
            "home_counted",
            &[
                ("lessons", &labels.number("n_lessons", lessons)),
                ("palos", &labels.number("n_palos", palos)),
            ],
        ),
        lessons: course
            .lessons
            .iter()
            .map(|ready| lesson_line(course, ready, &links))
            .collect(),
        palos: palo_lines(course, &links),
        changes: told.is_kept.then(|| LastChanges {
            href: addresses::CHANGES,
            revision: told.revisions(course, &links).into_iter().next(),
        }),
        feed: told.has_feed,
    };
    Ok(vec![press.print(
        address,
        "home.html",
        &page,
        labels,
        ("home", &view),
    )?])
}

pub(super) fn lesson_line(course: &Course, ready: &Ready, links: &Links) -> LessonLine {
    let lesson = ready.lesson();
    let labels = ready.labels;
    let mut meta = Vec::new();
    if let Some(key) = &lesson.key {
        meta.push(summary::key_words(key.value, labels));
    }
    if let Some(tempo) = &lesson.tempo {
        meta.push(summary::tempo_words(tempo.value, summary::per(&ready.compas), labels));
    }
    let variations = lesson.patterns.len().saturating_sub(1);
    if variations > 0 {
        meta.push(labels.number("n_variations", variations));
    }
    let needs = lesson
        .needs
        .iter()
        .filter_map(|need| course.lesson(&need.value))
        .map(|ready| links.lesson(ready));
    LessonLine {
        number: ready.number,
        language: labels.language,
        href: format!("{}{}", links.root, addresses::lesson(&ready.slug)),
        title: ready.title.clone(),
        palo: links.palo(ready, labels.language),
        meta,
        needs: needs.collect(),
        unreviewed: lesson.reviewed.is_none(),
        compas_row: if ready.compas.counts > 0 {
            compas_row(&ready.compas, &CompasRow::default(), None)
        } else {
            String::new()
        },
    }
}

pub(super) fn palo_lines(course: &Course, links: &Links) -> Vec<PaloLine> {
    let line = |slug: &str| {
        let palo = course.palos.find(slug);
        let language = course.labels.language;
        let name = palo.map_or(slug.replace('-', " "), |palo| palo.name.of(language).to_owned());
        PaloLine {
            link: links.to(super::course::capital(&name), &addresses::palo(&addresses::slug(slug))),
            about: palo.map_or(String::new(), |palo| palo.about.of(language).to_owned()),
            count: course.labels.number("n_lessons", course.of_palo(slug).count()),
        }
    };
    course.palo_slugs().into_iter().map(line).collect()
}
