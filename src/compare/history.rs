//! What earlier builds have to be remembered by: which lesson holds which address, which pages moved, what students were
//! told of each revision, and the record that the next build is compared with.
//!
//! It is a file in the notes folder, an input like any other: a build with the same notes and the same history makes the
//! same site. A teacher may put the words of a revision right in it.

use serde::{Deserialize, Serialize};

use super::record::Record;
use super::{Comparison, Fate, PageFate};

/// A line of the file each; the record follows them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct History {
    pub held: Vec<Held>,
    pub moved: Vec<Moved>,
    /// The latest last.
    pub revisions: Vec<Revision>,
    /// The course as it was last published; None before the first time.
    pub record: Option<Record>,
}

/// The first holder keeps an address.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// The lesson's id in the notes.
    pub lesson: String,
    /// The stem of its address.
    pub slug: String,
}

/// A page that stood at one address and stands at another.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moved {
    pub from: String,
    pub to: String,
}

/// What changed with one publication, as students are told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Revision {
    /// `2026-11-25`
    pub date: String,
    pub lessons: Vec<NewsItem>,
}

/// What students are told of one lesson.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewsItem {
    pub fate: News,
    /// Its page; the old one for a lesson that is gone.
    pub address: String,
    pub title: String,
    pub language: String,
    /// What changed in the music, in the lesson's language.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub music: Vec<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum News {
    New,
    /// The music changed.
    Changed,
    /// The same music in other words.
    Reworded,
    /// The same lesson at another address.
    Moved,
    Gone,
}

/// A line of the file.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Line {
    History(u32),
    Held(Held),
    Moved(Moved),
    Revision(Revision),
}

/// The form of the file that this program writes.
const FORM: u32 = 1;

impl History {
    /// Reads the file. The error is a sentence with the line's number.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut history = History::default();
        let mut rest = text;
        let mut number = 0;
        while let Some((line, later)) = rest.split_once('\n') {
            number += 1;
            match serde_json::from_str::<Line>(line) {
                Ok(Line::History(form)) if number == 1 && form <= FORM => {}
                Ok(Line::History(_)) if number == 1 => {
                    return Err("a newer version of this program wrote it".to_owned());
                }
                Ok(_) if number == 1 => return Err("line 1 does not say that this is a history".to_owned()),
                Ok(Line::Held(held)) => history.held.push(held),
                Ok(Line::Moved(moved)) => history.moved.push(moved),
                Ok(Line::Revision(revision)) => history.revisions.push(revision),
                Ok(Line::History(_)) => return Err(format!("line {number} does not belong there")),
                Err(_) if number == 1 => return Err("line 1 does not say that this is a history".to_owned()),
                Err(_) if line.starts_with("{\"record\":") => {
                    let record =
                        Record::read(rest).map_err(|error| format!("its record, from line {number} on: {error}"))?;
                    history.record = Some(record);
                    return Ok(history);
                }
                Err(_) => return Err(format!("line {number} is not of a history")),
            }
            rest = later;
        }
        if rest.trim().is_empty() {
            Ok(history)
        } else {
            Err(format!("line {} is not whole", number + 1))
        }
    }

    pub fn to_text(&self) -> String {
        let held = self.held.iter().cloned().map(Line::Held);
        let moved = self.moved.iter().cloned().map(Line::Moved);
        let revisions = self.revisions.iter().cloned().map(Line::Revision);
        let lines = std::iter::once(Line::History(FORM))
            .chain(held)
            .chain(moved)
            .chain(revisions);
        // Nothing in these types can fail to be written: text and numbers.
        let mut text: String = lines
            .filter_map(|line| serde_json::to_string(&line).ok())
            .map(|line| line + "\n")
            .collect();
        text.push_str(&self.record.as_ref().map(Record::to_text).unwrap_or_default());
        text
    }

    /// The slug that a lesson holds already.
    pub fn slug(&self, lesson: &str) -> Option<&str> {
        let held = self.held.iter().find(|held| held.lesson == lesson);
        held.map(|held| held.slug.as_str())
    }

    /// The history as it stands when this record is published, and was compared with the last one.
    ///
    /// Without a day nothing is told to students, but pages that moved are known.
    pub fn with(
        &self,
        record: &Record,
        comparison: Option<&Comparison>,
        held: Vec<Held>,
        date: Option<&str>,
    ) -> History {
        let mut next = self.clone();
        // Who held an address keeps it, also while the note is away.
        next.held.retain(|before| {
            !held
                .iter()
                .any(|held| held.lesson == before.lesson || held.slug == before.slug)
        });
        next.held.extend(held);
        next.held.sort();
        if let Some(comparison) = comparison {
            let moves = comparison.pages.iter().filter(|page| page.fate == PageFate::Moved);
            let moves = moves.filter_map(|page| {
                Some(Moved {
                    from: page.address.clone(),
                    to: page.to.clone()?,
                })
            });
            for moved in moves {
                next.moved.retain(|before| before.from != moved.from);
                next.moved.push(moved);
            }
            let lessons = news(comparison, record, self.record.as_ref());
            if let Some(date) = date.filter(|_| !lessons.is_empty()) {
                next.revisions.push(Revision {
                    date: date.to_owned(),
                    lessons,
                });
            }
        }
        next.record = Some(record.clone());
        next
    }

    /// Where a page leads that is no longer there: `(from, to)`, followed to its end, for those whose end is there.
    pub fn redirects(&self, is_there: &dyn Fn(&str) -> bool) -> Vec<(String, String)> {
        let next = |from: &str| {
            self.moved
                .iter()
                .find(|moved| moved.from == from)
                .map(|moved| moved.to.as_str())
        };
        let mut found = Vec::new();
        for moved in self.moved.iter().filter(|moved| !is_there(&moved.from)) {
            let mut to = moved.to.as_str();
            // No way is longer than the list: a ring ends here.
            for _ in 0..self.moved.len() {
                match next(to) {
                    Some(later) if !is_there(to) => to = later,
                    Some(_) | None => break,
                }
            }
            if is_there(to) {
                found.push((moved.from.clone(), to.to_owned()));
            }
        }
        found.sort();
        found.dedup();
        found
    }
}

/// What students are told of a comparison, lesson by lesson.
pub fn news(comparison: &Comparison, new: &Record, old: Option<&Record>) -> Vec<NewsItem> {
    let item = |change: &super::LessonChange| {
        let lessons = match (change.fate, old) {
            (Fate::Gone, Some(old)) => &old.lessons,
            (_, _) => &new.lessons,
        };
        let lesson = lessons.iter().find(|lesson| lesson.id == change.lesson)?;
        let fate = match change.fate {
            Fate::New => News::New,
            Fate::Gone => News::Gone,
            Fate::Kept | Fate::Renamed if !change.music.is_empty() => News::Changed,
            Fate::Renamed => News::Moved,
            Fate::Kept if !change.words.is_empty() => News::Reworded,
            Fate::Kept => return None,
        };
        Some(NewsItem {
            fate,
            address: lesson.address.clone(),
            title: lesson.title.clone(),
            language: lesson.language.clone(),
            music: change.music.iter().map(|difference| difference.words.clone()).collect(),
        })
    };
    comparison.lessons.iter().filter_map(item).collect()
}
