//! A plan: what to practise on which day, for so many minutes a day.
//!
//! The rules, each with what it rests on (`about` says so to the student): new material comes back on another day;
//! at most one new variation a day; near-twins not on the same evening; a short rest early; ten minutes off in the
//! hour; one day off in the week; clean repetitions are counted, not minutes alone. Blocked or in turns is the
//! teacher's choice: the evidence is split.

/// What the rules rest on, and the cautions, in the student's language.
mod about;

/// Days in words.
mod dates;

/// Day after day, until everything is learnt, joined and mixed.
mod days;

/// One session: warm-up, playing, rests.
mod session;

/// What the student is taken to have done so far.
mod student;

/// Versions so alike that they do not belong on one evening.
pub mod twins;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::page::PageData;

/// What the teacher asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wishes {
    /// Minutes of practice a day, rests included.
    pub minutes: u32,
    /// The first day; without it days are numbered only.
    pub from: Option<Date>,
    pub arrangement: Arrangement,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Arrangement {
    /// One thing at a time.
    Blocked,
    /// In turns of three minutes.
    Rotated,
}

/// A plan for one lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// What is practised: the lesson's title.
    pub title: String,
    /// "30 minutes a day, one thing at a time."
    pub summary: String,
    /// `en` or `es`.
    pub language: String,
    pub minutes: u32,
    pub arrangement: Arrangement,
    /// Days without practice are in the list too.
    pub days: Vec<Day>,
    /// What the plan rests on.
    pub about: Vec<Remark>,
    /// Warm up, rest, stop at pain, whom to ask, ears.
    pub cautions: Vec<Remark>,
    /// Patterns that could not be planned, with the reason; and what the plan did not reach.
    pub left_out: Vec<String>,
    pub labels: Labels,
}

/// Headings and other words of a plan, in its language.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Labels {
    /// "Practice plan".
    pub plan: String,
    pub day_off: String,
    /// "Why so".
    pub about: String,
    pub cautions: String,
    pub left_out: String,
    pub sources: String,
    /// "min".
    pub minutes: String,
}

impl Labels {
    fn of(words: super::words::Words) -> Self {
        let say = |key: &str| words.say(key, &[]);
        Self {
            plan: say("label-plan"),
            day_off: say("label-day-off"),
            about: say("label-about"),
            cautions: say("label-cautions"),
            left_out: say("label-left-out"),
            sources: say("label-sources"),
            minutes: say("label-minutes"),
        }
    }
}

/// One day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Day {
    /// From 1.
    pub number: u32,
    /// "Day 3 · Wednesday 9 December 2026", or "Day 3".
    pub title: String,
    pub date: Option<Date>,
    /// Empty on a day off.
    pub blocks: Vec<Block>,
    /// The version that is begun on this day; index into the page data's versions.
    pub begins: Option<usize>,
}

/// A stretch of a session with one thing to do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Block {
    /// Minutes from the start of the session.
    pub start: u32,
    pub minutes: u32,
    pub kind: BlockKind,
    pub title: String,
    /// What to do, line by line.
    pub details: Vec<String>,
    /// Lines of the book that it is about.
    pub lines: Vec<String>,
    /// From and to, where a tempo is set; in the unit of the book's tempo.
    pub tempo: Option<(u32, u32)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BlockKind {
    WarmUp,
    New,
    Review,
    Join,
    Drill,
    Circuit,
    Mix,
    Rest,
}

/// Something said, and the keys of its sources (`music::source`); none for a rule of ours.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Remark {
    pub text: String,
    pub sources: Vec<String>,
}

impl Day {
    /// Minutes in all, rests included.
    pub fn minutes(&self) -> u32 {
        self.blocks.iter().map(|block| block.minutes).sum()
    }
}

/// A plan for the practice of a lesson.
pub fn plan(title: &str, practice: &PageData, wishes: &Wishes) -> Plan {
    let words = super::words::Words::of(&practice.language);
    let (days, unreached) = days::days(practice, wishes, words);
    let mut left_out = practice.left_out.clone();
    left_out.extend(unreached);
    let key = match wishes.arrangement {
        Arrangement::Blocked => "plan-summary-blocked",
        Arrangement::Rotated => "plan-summary-rotated",
    };
    Plan {
        title: title.to_owned(),
        summary: words.say(key, &[("n", &wishes.minutes.to_string())]),
        labels: Labels::of(words),
        language: practice.language.clone(),
        minutes: wishes.minutes,
        arrangement: wishes.arrangement,
        days,
        about: about::about(wishes.arrangement, words),
        cautions: about::cautions(words),
        left_out,
    }
}
