//! What changed, for students; pages that moved lead on; and what a program that follows the site reads.

use serde::Serialize;

use super::Publication;
use super::addresses;
use super::course::Course;
use super::feed;
use super::known::Pages;
use super::labels::Labels;
use super::people::People;
use super::pieces::{self, Link, Links};
use super::templates::Press;
use crate::compare::{self, History, News, NewsItem, Record, Side};
use crate::disk::OutputFile;
use crate::failure::Failure;

/// What there is to tell of earlier builds and of this one.
pub(super) struct Told {
    /// Somebody keeps a history of this course.
    pub is_kept: bool,
    pub has_feed: bool,
    /// The history with this build in it.
    pub next: History,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct RevisionView {
    pub anchor: String,
    pub date: String,
    pub lessons: Vec<ItemView>,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct ItemView {
    pub fate: String,
    pub language: String,
    pub link: Link,
    pub music: Vec<String>,
}

#[derive(Debug, Serialize)]
struct ChangesView {
    feed: bool,
    /// The latest first.
    revisions: Vec<RevisionView>,
}

#[derive(Debug, Serialize)]
struct MovedView {
    to: String,
}

impl Told {
    pub fn new(course: &Course, publication: Publication, record: &Record) -> Self {
        let none = History::default();
        let history = publication.history.unwrap_or(&none);
        let comparison = history
            .record
            .as_ref()
            .filter(|before| *before != record)
            .map(|before| {
                let side = |record: &Record| Side {
                    record: record.clone(),
                    ..Side::default()
                };
                compare::compare(&side(before), &side(record), "")
            });
        Self {
            is_kept: publication.history.is_some(),
            has_feed: publication.history.is_some() && publication.base_url.is_some(),
            next: history.with(record, comparison.as_ref(), course.held.clone(), publication.date),
        }
    }

    /// The latest first; names that must not be published were perhaps no secret when a revision was written.
    pub fn revisions(&self, course: &Course, links: &Links) -> Vec<RevisionView> {
        let is_there = |address: &str| {
            course
                .lessons
                .iter()
                .any(|ready| addresses::lesson(&ready.slug) == address)
        };
        let moved = self.next.redirects(&is_there);
        let now = |address: &str| {
            let moved = moved.iter().find(|(from, _)| from == address).map(|(_, to)| to.clone());
            moved.or_else(|| is_there(address).then(|| address.to_owned()))
        };
        let item = |item: &NewsItem| {
            let title = course.people.hide(&item.title);
            ItemView {
                fate: course.labels.get(fate(item.fate)).to_owned(),
                language: item.language.clone(),
                link: match now(&item.address) {
                    Some(address) => links.to(title, &address),
                    None => Link::plain(title),
                },
                music: item.music.iter().map(|line| course.people.hide(line)).collect(),
            }
        };
        let view = |(index, revision): (usize, &compare::Revision)| RevisionView {
            anchor: format!("revision-{}", index + 1),
            date: revision.date.clone(),
            lessons: revision.lessons.iter().map(item).collect(),
        };
        self.next.revisions.iter().enumerate().rev().map(view).collect()
    }
}

fn fate(news: News) -> &'static str {
    match news {
        News::New => "news_new",
        News::Changed => "news_changed",
        News::Reworded => "news_reworded",
        News::Moved => "news_moved",
        News::Gone => "news_gone",
    }
}

/// The page for students and the feed, where a history is kept.
pub(super) fn pages(course: &Course, told: &Told, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    if !told.is_kept {
        return Ok(Vec::new());
    }
    let labels = course.labels;
    let page = pieces::page(
        course,
        "changes",
        labels.get("changes_title"),
        addresses::CHANGES,
        labels,
    );
    let view = ChangesView {
        feed: told.has_feed,
        revisions: told.revisions(course, &Links::from_page(addresses::CHANGES)),
    };
    let mut files = vec![press.print(addresses::CHANGES, "changes.html", &page, labels, ("changes", &view))?];
    if let Some(base) = course.base_url.filter(|_| told.has_feed) {
        files.push(OutputFile {
            path: addresses::FEED.to_owned(),
            bytes: feed::feed(course, base, &view.revisions)?,
        });
    }
    Ok(files)
}

/// What can be made only when it is known which pages there are: pages that lead on, and the site map.
pub(super) fn finish(
    pages: &mut Pages,
    told: &Told,
    publication: Publication,
    (people, press): (&People, &Press),
    labels: &Labels,
) -> Result<(), Failure> {
    let all = pages.files.iter().map(|file| &file.path).chain(&pages.kept);
    let there: std::collections::BTreeSet<String> = all.cloned().collect();
    for (from, to) in told.next.redirects(&|address| there.contains(address)) {
        // An old address may hold a name that must not be published any more.
        let stem = from.trim_start_matches("lessons/").trim_end_matches(".html");
        if addresses::lesson_slug(stem, people) != stem {
            continue;
        }
        pages.files.push(moved(&from, &to, publication, press, labels)?);
    }
    if let Some(base) = publication.base_url {
        pages.files.push(OutputFile {
            path: addresses::SITE_MAP.to_owned(),
            bytes: feed::site_map(base, &there)?,
        });
    }
    pages.files.sort();
    Ok(())
}

fn moved(
    from: &str,
    to: &str,
    publication: Publication,
    press: &Press,
    labels: &Labels,
) -> Result<OutputFile, Failure> {
    let root = addresses::root(from);
    let title = labels.get("moved_title").to_owned();
    let page = pieces::Page {
        kind: "moved",
        course: title.clone(),
        title,
        language: labels.language,
        alone: false,
        style: String::new(),
        nav: Vec::new(),
        canonical: publication.base_url.map(|base| format!("{base}{to}")),
        root: root.clone(),
    };
    let view = MovedView {
        to: format!("{root}{to}"),
    };
    press.print(from, "moved.html", &page, labels, ("moved", &view))
}
