//! Practice on a page of its own: of one lesson, and across the lessons of a palo. Also a sheet to print.

use serde::Serialize;

use super::addresses;
use super::course::{Course, Ready, capital};
use super::drawing::{CompasRow, compas_row};
use super::pattern_view::{self, PatternView};
use super::pieces::{self, Link, Links};
use super::practice_section::{PracticeView, has_strokes, practice};
use super::summary;
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::music::pitch::STANDARD_TUNING;
use crate::practice::page_data;

#[derive(Debug, Serialize)]
struct PracticePageView {
    title: String,
    /// "Practice", or "Practice across lessons".
    eyebrow: String,
    about: String,
    compas_row: String,
    compas_words: String,
    practice: Option<PracticeView>,
    /// Each with its own drawings.
    lessons: Vec<LessonView>,
    several: bool,
}

#[derive(Debug, Serialize)]
struct LessonView {
    link: Link,
    language: &'static str,
    patterns: Vec<PatternView>,
}

/// Lessons of a palo that are mixed with each other at most: the last of the course. More could not be kept apart, and
/// every pair of versions is judged.
const MIXED: usize = 6;

/// Where the practice of a lesson stands; None where nothing could be played.
pub(super) fn of_lesson(ready: &Ready) -> Option<String> {
    has_strokes(ready).then(|| addresses::practice(&ready.slug))
}

/// Where the practice across the lessons of a palo stands; None where there is one lesson at most.
pub(super) fn of_palo(course: &Course, slug: &str) -> Option<String> {
    (mixed(course, slug).len() > 1).then(|| addresses::palo_practice(&addresses::slug(slug)))
}

fn mixed<'a, 'b>(course: &'b Course<'a>, slug: &'b str) -> Vec<&'b Ready<'a>> {
    let mut lessons: Vec<&Ready> = course.of_palo(slug).filter(|ready| has_strokes(ready)).collect();
    // A guitar is tuned one way at a time: the way of the first.
    let tuning = |ready: &Ready| {
        ready
            .lesson()
            .tuning
            .as_ref()
            .map_or(STANDARD_TUNING, |said| said.value)
    };
    let first = lessons.first().map(|ready| tuning(ready));
    lessons.retain(|ready| Some(tuning(ready)) == first);
    let surplus = lessons.len().saturating_sub(MIXED);
    lessons.drain(..surplus);
    lessons
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let mut files = Vec::new();
    for ready in &course.lessons {
        if let Some(address) = of_lesson(ready) {
            let make = || print(course, press, &address, &[ready], None);
            files.extend(course.decisions.page(&[ready], &address, make)?);
        }
    }
    for slug in course.palo_slugs() {
        if let Some(address) = of_palo(course, slug) {
            let lessons = mixed(course, slug);
            let make = || print(course, press, &address, &lessons, Some(slug));
            files.extend(course.decisions.page(&lessons, &address, make)?);
        }
    }
    Ok(files)
}

fn print(
    course: &Course,
    press: &Press,
    address: &str,
    lessons: &[&Ready],
    palo: Option<&str>,
) -> Result<OutputFile, Failure> {
    let labels = lessons.first().map_or(course.labels, |ready| ready.labels);
    let links = Links::from_page(address);
    let several = palo.is_some();
    let title = match (palo, lessons.first()) {
        (Some(_), Some(ready)) => capital(&ready.palo_name(labels.language)),
        (_, ready) => ready.map(|ready| ready.title.clone()).unwrap_or_default(),
    };
    let kept = palo.map_or_else(
        || lessons.first().map(|ready| ready.slug.clone()).unwrap_or_default(),
        |slug| format!("palo {slug}"),
    );
    let read: Vec<&Lesson> = lessons.iter().map(|ready| ready.lesson()).collect();
    let data = page_data(&read, course.palos);
    let compas = lessons.first().map(|ready| &ready.compas);
    let eyebrow = labels.get(if several { "practice_across" } else { "practice_title" });
    let view = PracticePageView {
        eyebrow: eyebrow.to_owned(),
        about: labels
            .get(if several {
                "practice_across_about"
            } else {
                "practice_about"
            })
            .to_owned(),
        compas_row: compas
            .filter(|compas| compas.counts > 0)
            .map(|compas| compas_row(compas, &CompasRow::default(), None))
            .unwrap_or_default(),
        compas_words: compas
            .map(|compas| capital(&summary::compas_words(compas, labels)))
            .unwrap_or_default(),
        practice: practice(&data, &kept, labels, &links).map(|view| if several { view.across(&data) } else { view }),
        lessons: lessons
            .iter()
            .enumerate()
            .map(|(index, ready)| LessonView {
                link: links.lesson(ready),
                language: ready.labels.language,
                patterns: pattern_view::patterns(ready, &links, &format!("of-{}-", index + 1)),
            })
            .collect(),
        several,
        title: title.clone(),
    };
    let title = format!("{eyebrow}: {title}");
    let page = pieces::page(course, "practice-page", &title, address, labels);
    press.print(address, "practice.html", &page, labels, ("view", &view))
}
