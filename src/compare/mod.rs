//! Two states of a course: what differs in the music, what follows from that, then the words, then the pages.
//!
//! Comes in: two records of a course, each made from a notes folder or left by a build. Goes out: [`Comparison`].
//! This room reads no file, draws nothing, and sees nothing that a record does not hold: what is private is not in one.
//! Start reading at [`compare`].

/// What is kept of a course to be compared with: nothing private.
mod record;

/// What is said of a change, in English and Spanish.
mod words;

/// Which lesson, which pattern was which.
mod pairing;

/// Compás, key, tempo, chords, cautions.
mod lesson;

/// What a pattern is, covers and runs on into.
mod patterns;

/// A pattern moment by moment.
mod moments;

/// One stroke and what became of it.
mod strokes;

/// Joins, exercises, other lessons, findings.
mod follows;

/// Lines and words.
mod wording;

/// Addresses and anchors.
mod addresses;

/// For a terminal.
mod text;

/// What students are told, and what earlier builds have to be remembered by.
mod history;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use addresses::{PageChange, PageFate};
pub use follows::{Follows, ToldFinding};
pub use history::{Held, History, Moved, News, NewsItem, Revision, news};
pub use record::{CourseRecord, LessonRecord, RECORD, Record};
pub use text::{fate_in_words, follows_in_words, page_in_words, text, verdict};
pub use wording::{LineChange, WordRun};

use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use words::Words;

/// A course as it was, or as it is.
#[derive(Debug, Clone, Default)]
pub struct Side {
    pub record: Record,
    /// By lesson id; None where nobody judged it: a record holds no findings.
    pub findings: Option<Vec<(String, ToldFinding)>>,
    /// By lesson id: the public lines of its notes. None: only the sentences that a record holds are known.
    pub lines: Option<Vec<(String, Vec<String>)>>,
}

/// The most important thing that can be said of the two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// No difference at all but in spacing.
    Nothing,
    /// Addresses, titles or the order of things; the music and the words are the same.
    Pages,
    /// Rewording alone: the music is the same.
    Words,
    Music,
}

/// All that differs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    pub verdict: Verdict,
    /// Lessons with a difference, in the order of the newer course; those that are gone at the end.
    pub lessons: Vec<LessonChange>,
    pub pages: Vec<PageChange>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Fate {
    Kept,
    /// The same lesson under another name.
    Renamed,
    New,
    Gone,
}

/// What became of one lesson.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LessonChange {
    /// Its id, the newer one.
    pub lesson: String,
    pub title: String,
    pub fate: Fate,
    /// The older id, where it was another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub was: Option<String>,
    pub music: Vec<Difference>,
    /// Patterns in another order, the title in other words, other lessons to know first: no music.
    pub course: Vec<String>,
    pub follows: Follows,
    /// Lines of the text that differ in more than spacing.
    pub words: Vec<LineChange>,
}

/// One difference in the music.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    pub kind: Kind,
    /// In a musician's words, as a sentence of its own: "count 5 of the core: the thumb's G is now G sharp".
    pub words: String,
    /// The pattern it is in, by the newer course's name, or the older's when it is gone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pattern: Option<String>,
    /// Where in the pattern: `5`, `5+1/2`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// What a difference is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Palo, counts, accents, where a round begins.
    Compas,
    Tempo,
    /// Key, capo, tuning.
    Key,
    Repeats,
    Chord,
    Caution,
    PatternNew,
    PatternGone,
    PatternRenamed,
    /// What a pattern is, covers, and runs on into.
    Pattern,
    Stroke,
    LeftHand,
}

impl Difference {
    fn of_lesson(kind: Kind, words: String) -> Self {
        Self {
            kind,
            words,
            pattern: None,
            at: None,
        }
    }
}

/// What differs between two states of a course. `language` is that of the words: `en`, `es`, or empty for each lesson's own.
///
/// Joins and exercises of both sides are worked out by this program, so that another version of it is never a difference.
pub fn compare(old: &Side, new: &Side, language: &str) -> Comparison {
    let pairs = pairing::lessons(&old.record.lessons, &new.record.lessons);
    let palos = (old.record.palos(), new.record.palos());
    let desk = Desk {
        old,
        new,
        palos: (&palos.0, &palos.1),
        language,
    };
    let mut lessons: Vec<LessonChange> = Vec::new();
    for pair in &pairs {
        lessons.extend(desk.lesson(*pair));
    }
    // The music first; otherwise they stay in the order of the course.
    let quiet = |lesson: &LessonChange| lesson.music.is_empty() && matches!(lesson.fate, Fate::Kept | Fate::Renamed);
    lessons.sort_by_key(quiet);
    let pages = addresses::pages(&old.record, &new.record, &pairs);
    let music = lessons
        .iter()
        .any(|lesson| !lesson.music.is_empty() || matches!(lesson.fate, Fate::New | Fate::Gone));
    let words = lessons.iter().any(|lesson| !lesson.words.is_empty());
    let verdict = match (music, words) {
        (true, _) => Verdict::Music,
        (false, true) => Verdict::Words,
        (false, false) if pages.is_empty() && lessons.is_empty() => Verdict::Nothing,
        (false, false) => Verdict::Pages,
    };
    Comparison {
        verdict,
        lessons,
        pages,
    }
}

/// The patterns of two states of a lesson, old beside new: for whoever draws them one above the other.
pub fn pattern_pairs(old: &Lesson, new: &Lesson) -> Vec<(Option<usize>, Option<usize>)> {
    pairing::patterns(&old.patterns, &new.patterns)
}

/// Which lessons of two records are the same: indices, as in [`pattern_pairs`].
pub fn lesson_pairs(old: &Record, new: &Record) -> Vec<(Option<usize>, Option<usize>)> {
    pairing::lessons(&old.lessons, &new.lessons)
}

/// Moments of a pair of patterns at which something differs.
pub use moments::differing;

struct Desk<'a> {
    old: &'a Side,
    new: &'a Side,
    palos: (&'a PaloTable, &'a PaloTable),
    language: &'a str,
}

impl Desk<'_> {
    fn words(&self, record: &LessonRecord) -> Words {
        Words::of(if self.language.is_empty() {
            &record.language
        } else {
            self.language
        })
    }

    /// What became of a lesson; None when nothing did.
    fn lesson(&self, (old, new): (Option<usize>, Option<usize>)) -> Option<LessonChange> {
        let old = old.and_then(|index| self.old.record.lessons.get(index));
        let new = new.and_then(|index| self.new.record.lessons.get(index));
        let change = match (old, new) {
            (Some(old), Some(new)) => self.kept(old, new),
            (None, Some(new)) => self.alone(new, Fate::New),
            (Some(old), None) => self.alone(old, Fate::Gone),
            (None, None) => return None,
        };
        let same = change.fate == Fate::Kept
            && change.music.is_empty()
            && change.words.is_empty()
            && change.course.is_empty()
            && change.follows.is_empty();
        (!same).then_some(change)
    }

    fn kept(&self, old: &LessonRecord, new: &LessonRecord) -> LessonChange {
        let fate = if old.id == new.id { Fate::Kept } else { Fate::Renamed };
        let mut change = empty(new, fate);
        change.was = (fate == Fate::Renamed).then(|| old.id.clone());
        let words = self.words(new);
        if old.music != new.music {
            let (before, after) = (old.lesson(), new.lesson());
            let pairs = pairing::patterns(&before.patterns, &after.patterns);
            change.music = lesson::differences(&before, &after, words);
            change.course = lesson::needs(&before, &after, words);
            change
                .music
                .extend(patterns::differences(&before, &after, &pairs, words));
            change.course.extend(patterns::order(&after, &pairs, words));
            if !change.music.is_empty() {
                let sides = ((&before, self.palos.0), (&after, self.palos.1));
                change.follows = follows::in_lesson(sides, &pairs, words);
                change.follows.needed_by = follows::needed_by(&new.id, &self.new.record);
            }
        }
        if old.title != new.title {
            change.course.push(format!("{} -> {}", old.title, new.title));
        }
        let findings = (self.findings(self.old, &old.id), self.findings(self.new, &new.id));
        if let (Some(before), Some(after)) = findings {
            (change.follows.findings_new, change.follows.findings_gone) = follows::findings(&before, &after);
        }
        change.words = wording::differences(&self.lines(self.old, old), &self.lines(self.new, new));
        change
    }

    fn alone(&self, record: &LessonRecord, fate: Fate) -> LessonChange {
        let mut change = empty(record, fate);
        let side = if fate == Fate::New { self.new } else { self.old };
        let findings = self.findings(side, &record.id).unwrap_or_default();
        match fate {
            Fate::New => change.follows.findings_new = findings,
            Fate::Gone | Fate::Kept | Fate::Renamed => {
                change.follows.findings_gone = findings;
                change.follows.needed_by = follows::needed_by(&record.id, &self.new.record);
            }
        }
        change
    }

    fn findings(&self, side: &Side, id: &str) -> Option<Vec<ToldFinding>> {
        let all = side.findings.as_ref()?;
        let own = all.iter().filter(|(lesson, _)| lesson == id);
        Some(own.map(|(_, finding)| finding.clone()).collect())
    }

    /// The lines of a lesson's notes where both sides have them, else the sentences that the records hold.
    fn lines(&self, side: &Side, record: &LessonRecord) -> Vec<String> {
        let both = self.old.lines.is_some() && self.new.lines.is_some();
        let lines = side.lines.as_ref().filter(|_| both);
        let own = lines.and_then(|lines| lines.iter().find(|(id, _)| *id == record.id));
        own.map_or_else(|| record.words.clone(), |(_, lines)| lines.clone())
    }
}

fn empty(record: &LessonRecord, fate: Fate) -> LessonChange {
    LessonChange {
        lesson: record.id.clone(),
        title: record.title.clone(),
        fate,
        was: None,
        music: Vec::new(),
        course: Vec::new(),
        follows: Follows::default(),
        words: Vec::new(),
    }
}
