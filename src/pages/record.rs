//! The record of a course: what later states of it are compared with. It goes into the site, so it holds what pages show.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::addresses;
use super::course::{Course, Ready};
use super::pattern_view;
use crate::compare::{CourseRecord, LessonRecord, Record};
use crate::music::lesson::{CrossReference, Lesson, Said};
use crate::text::Place;
use crate::written;

/// The record of the lessons that the site shows.
pub(super) fn record(course: &Course) -> Record {
    let lessons = course.lessons.par_iter().map(|ready| lesson(course, ready));
    Record {
        course: CourseRecord {
            record: Record::FORM,
            title: course.title.clone(),
            language: course.labels.language.to_owned(),
            palos: own_palos(course),
            pages: pages(course),
        },
        lessons: lessons.collect(),
    }
}

fn lesson(course: &Course, ready: &Ready) -> LessonRecord {
    let lesson = ready.lesson();
    let mut leads_to: Vec<String> = Vec::new();
    let needs = lesson.needs.iter().map(|need| need.value.as_str());
    for target in needs.chain(lesson.links.iter().map(|link| link.target.as_str())) {
        let slug = course.lesson(target).map(|other| other.slug.clone());
        leads_to.extend(slug.filter(|slug| *slug != ready.slug && !leads_to.contains(slug)));
    }
    LessonRecord {
        id: ready.slug.clone(),
        address: addresses::lesson(&ready.slug),
        title: ready.title.clone(),
        language: ready.labels.language.to_owned(),
        anchors: pattern_view::anchors(lesson, ready.labels).collect(),
        leads_to,
        music: written::write(&music(course, ready)),
        words: ready
            .published
            .sentences
            .iter()
            .map(|sentence| sentence.text.clone())
            .collect(),
    }
}

/// The lesson as the pages know it, other lessons by their addresses, without how each thing was read.
fn music(course: &Course, ready: &Ready) -> Lesson {
    let lesson = ready.lesson().clone();
    let slug = |id: &str| course.lesson(id).map(|other| other.slug.clone());
    let needs = lesson.needs.iter().filter_map(|need| {
        Some(Said {
            value: slug(&need.value)?,
            ..need.clone()
        })
    });
    let links = lesson.links.iter().filter_map(|link| {
        Some(CrossReference {
            target: slug(&link.target)?,
            ..link.clone()
        })
    });
    Lesson {
        id: ready.slug.clone(),
        needs: needs.collect(),
        links: links.collect(),
        readings: Vec::new(),
        // Where the recording lies is no music, and an address may be one that no page would lead to.
        recording: None,
        recording_length: None,
        techniques: lesson
            .techniques
            .iter()
            .map(|technique| crate::music::lesson::Technique {
                place: Place {
                    time: technique.place.time,
                    ..Place::default()
                },
                ..technique.clone()
            })
            .collect(),
        ..lesson
    }
}

/// The teacher's own palos without the remarks that stand between them.
fn own_palos(course: &Course) -> String {
    let table = course.own_palos.and_then(|text| text.parse::<toml::Table>().ok());
    table.map_or(String::new(), |table| table.to_string())
}

/// The pages that are no lesson's, with the anchors that someone may have kept.
fn pages(course: &Course) -> BTreeMap<String, Vec<String>> {
    let mut pages: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for address in [
        addresses::HOME,
        addresses::PALOS,
        addresses::TECHNIQUES,
        addresses::GLOSSARY,
    ] {
        pages.insert(address.to_owned(), Vec::new());
    }
    let palos = course.palo_slugs().into_iter().map(addresses::slug);
    pages.extend(palos.map(|slug| (addresses::palo(&slug), Vec::new())));
    let chords = course.lessons.iter().flat_map(|ready| &ready.lesson().chords);
    let mut anchors: Vec<String> = chords
        .map(|chord| addresses::chord_anchor(&chord.name.to_string()))
        .collect();
    anchors.sort();
    anchors.dedup();
    pages.insert(addresses::CHORDS.to_owned(), anchors);
    pages
}
