//! 6. Lessons become pages: a course that works offline, linked to the recording and to the words it was read from.
//!
//! Comes in: lessons, the notes they were read from, the palos in force. Goes out: [`OutputFile`]s.
//! This room reads no file, knows no clock, and publishes nothing that `published` has not let through.
//! Start reading at [`site`]; a page kind is one file here and one template.

use crate::compare::{Comparison, History, RECORD, Record};
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::intake::Folder;
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::report::Report;

/// What address a thing has.
pub mod addresses;

/// The words of the pages in both languages.
pub mod labels;

/// The compás a lesson is drawn on.
pub mod compas;

/// Pictures of patterns, chord shapes and compases.
pub mod drawing;

/// Names that are never published.
mod people;

/// What of a lesson may be seen, and the words it was read from.
mod published;

/// How a moment in the recording is opened.
mod recording;

/// The lessons made ready for all pages at once.
mod course;

/// Pages that need not be made again.
mod known;

/// Links, moments and other small pieces that pages share.
mod pieces;

/// The templates, built into the program.
mod templates;

/// The player's scripts and style.
pub mod player_files;

/// Practice on a lesson's page.
mod practice_section;

/// Practice on a page of its own.
mod practice_page;

/// The table of lessons.
mod home;

/// One lesson.
mod lesson_page;

/// One pattern on its lesson's page.
mod pattern_view;

/// What stands at the head of a lesson: palo, compás, key, tempo.
mod summary;

/// One palo, and the list of palos.
mod palo_page;

/// The chords of the course.
mod chords_page;

/// One technique, and the list of techniques.
mod technique_page;

/// The words of the trade.
mod glossary_page;

/// How to read the drawings.
mod reading_page;

/// Where figures come from.
mod sources_page;

/// What later states of the course are compared with.
mod record;

/// What changed, for students; the feed; pages that moved.
mod changes;

/// Files for programs that follow a site: the Atom feed and the site map.
mod feed;

/// Two states of a course beside each other, for the teacher.
mod comparison_page;

/// Where rhythms lean, in words.
mod leaning_view;

/// What the teacher has to look at before publishing.
mod report_page;

pub use known::{Known, Pages};
pub use recording::Copy;

/// What the course is called, and in which language its common pages are.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CourseHead {
    pub title: String,
    /// One or two sentences for the first page; may be empty.
    pub about: String,
    /// `en` or `es`; empty: that of most lessons.
    pub language: String,
}

/// What the person who builds the site chose.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Choices {
    /// Leave out lessons that the teacher has not checked.
    pub strict: bool,
    /// Recordings that are files are copied into the site and play in the page.
    pub copy_recordings: bool,
}

/// All that a site is made from.
#[derive(Debug, Clone, Copy)]
pub struct SiteInput<'a> {
    pub head: &'a CourseHead,
    pub lessons: &'a [Lesson],
    /// The notes that the lessons were read from: for the words, and to know what is private.
    pub folder: &'a Folder,
    pub palos: &'a PaloTable,
    pub choices: Choices,
    pub publication: Publication<'a>,
}

/// What a site is published as: what came before it, when, and where.
#[derive(Debug, Clone, Copy, Default)]
pub struct Publication<'a> {
    /// What earlier builds have to be remembered by; None: nobody keeps a history.
    pub history: Option<&'a History>,
    /// The day that stands on what this build changes: `2026-11-25`. Without it students are told of no change.
    pub date: Option<&'a str>,
    /// Where the site will stand, with a `/` at its end: for the feed, the site map and canonical links.
    pub base_url: Option<&'a str>,
}

/// The whole site, sorted by path.
pub fn site(input: &SiteInput) -> Result<Vec<OutputFile>, Failure> {
    site_knowing(input, None).map(|pages| pages.files)
}

/// The site, without the pages that are known to be what they were.
pub fn site_knowing(input: &SiteInput, known: Option<Known>) -> Result<Pages, Failure> {
    let course = course::Course::new(input, known);
    let press = templates::Press::new()?;
    let mut files = templates::assets();
    let record = record::record(&course);
    let told = changes::Told::new(&course, input.publication, &record);
    files.extend(home::pages(&course, &told, &press)?);
    files.extend(lesson_page::pages(&course, &press)?);
    files.extend(practice_page::pages(&course, &press)?);
    files.extend(palo_page::pages(&course, &press)?);
    files.extend(chords_page::pages(&course, &press)?);
    files.extend(technique_page::pages(&course, &press)?);
    files.extend(glossary_page::pages(&course, &press)?);
    files.extend(reading_page::pages(&course, &press)?);
    files.extend(sources_page::pages(&course, &press)?);
    files.push(OutputFile {
        path: RECORD.to_owned(),
        bytes: record.to_text().into_bytes(),
    });
    files.extend(changes::pages(&course, &told, &press)?);
    let mut pages = course.decisions.into_pages(files);
    changes::finish(
        &mut pages,
        &told,
        input.publication,
        (&course.people, &press),
        course.labels,
    )?;
    pages.history = told.next;
    Ok(pages)
}

/// The record of a course, as a build leaves it inside the site: nothing private is in it.
pub fn record(input: &SiteInput) -> Record {
    record::record(&course::Course::new(input, None))
}

/// The stem of each lesson's address, in the order of the input; empty for one that is left out.
pub fn slugs(input: &SiteInput) -> Vec<String> {
    let course = course::Course::new(input, None);
    let slug = |index: usize| course.lessons.iter().find(|ready| ready.index == index);
    (0..input.lessons.len())
        .map(|index| slug(index).map_or(String::new(), |ready| ready.slug.clone()))
        .collect()
}

/// Two states of a course, on one page for the teacher: the old and the new pattern one above the other.
pub fn comparison(comparison: &Comparison, old: &Record, new: &Record) -> Result<String, Failure> {
    comparison_page::page(comparison, old, new)
}

/// The teacher's report, on one page that is never part of the site.
pub fn report(report: &Report, language: &str) -> Result<String, Failure> {
    report_page::page(report, language)
}

/// The lessons with nothing in them that must not be seen: for whatever else leaves the house.
pub fn fit_to_publish(lessons: &[Lesson], folder: &Folder) -> Vec<Lesson> {
    let people = people::People::of(lessons);
    lessons
        .iter()
        .map(|lesson| published::publish(lesson, folder, &people).lesson)
        .collect()
}

/// The recordings to be copied into the site when that was asked for.
pub fn recordings(input: &SiteInput) -> Vec<Copy> {
    if !input.choices.copy_recordings {
        return Vec::new();
    }
    let course = course::Course::new(input, None);
    let copies = course.lessons.iter();
    copies
        .filter_map(|ready| recording::Recording::copy(&ready.published.lesson, &ready.slug))
        .collect()
}
