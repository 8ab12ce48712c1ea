//! What follows from a change in the music: joins, exercises, lessons that need this one, findings.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::moments::differing;
use super::pairing::Pair;
use super::record::Record;
use super::words::Words;
use crate::findings::Severity;
use crate::music::held::Hold;
use crate::music::joins::{Join, JoinKind, Obstacle, joins};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::{CountSpan, Role};
use crate::practice::{PageData, page_data};

/// What follows from the music of one lesson having changed.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct Follows {
    /// In a musician's words.
    pub joins: Vec<String>,
    pub exercises: Vec<String>,
    /// Lessons that need this one first, or lead to it, by id.
    pub needed_by: Vec<String>,
    pub findings_new: Vec<ToldFinding>,
    pub findings_gone: Vec<ToldFinding>,
}

/// What was said of a lesson by the checks.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct ToldFinding {
    pub severity: Severity,
    pub rule: String,
    pub message: String,
}

impl Follows {
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Each side with the palos that it counts by.
type Sides<'a> = ((&'a Lesson, &'a PaloTable), (&'a Lesson, &'a PaloTable));

pub(super) fn in_lesson(sides: Sides, pairs: &[Pair], words: Words) -> Follows {
    Follows {
        joins: told_joins(sides, pairs, words),
        exercises: exercises(sides, pairs, words),
        ..Follows::default()
    }
}

pub(super) fn needed_by(id: &str, record: &Record) -> Vec<String> {
    let others = record.lessons.iter().filter(|lesson| lesson.id != id);
    let leading = others.filter(|lesson| lesson.leads_to.iter().any(|other| other == id));
    leading.map(|lesson| lesson.id.clone()).collect()
}

/// What came and what went; the same thing said twice counts twice.
pub(super) fn findings(old: &[ToldFinding], new: &[ToldFinding]) -> (Vec<ToldFinding>, Vec<ToldFinding>) {
    let mut gone = old.to_vec();
    let mut fresh = Vec::new();
    for finding in new {
        match gone.iter().position(|other| other == finding) {
            Some(at) => drop(gone.remove(at)),
            None => fresh.push(finding.clone()),
        }
    }
    (fresh, gone)
}

/// A join by the patterns on both sides of it, as the newer lesson numbers them.
type JoinKey = (JoinKind, Vec<usize>, Vec<usize>);

fn told_joins(sides: Sides, pairs: &[Pair], words: Words) -> Vec<String> {
    let ((old, old_palos), (new, new_palos)) = sides;
    let new_index = |index: usize| {
        pairs
            .iter()
            .find(|(old, _)| *old == Some(index))
            .and_then(|(_, new)| *new)
    };
    let mapped =
        |variations: &[usize]| -> Option<Vec<usize>> { variations.iter().map(|index| new_index(*index)).collect() };
    let old_joins = joins(old, old_palos);
    let before: BTreeMap<JoinKey, &Join> = old_joins
        .iter()
        .filter_map(|join| {
            Some((
                (join.kind, mapped(&join.from.variations)?, mapped(&join.to.variations)?),
                join,
            ))
        })
        .collect();
    let mut told = Vec::new();
    let mut times = Vec::new();
    let mut fresh: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
    for join in joins(new, new_palos) {
        let key = (join.kind, join.from.variations.clone(), join.to.variations.clone());
        let Some(was) = before.get(&key) else {
            let of = if join.to.variations.is_empty() {
                &join.from
            } else {
                &join.to
            };
            *fresh.entry(of.variations.clone()).or_default() += 1;
            continue;
        };
        let name = join_name(&join, new, words);
        told.extend(changed_join(was, &join, &name, words));
        if !join.left.in_the_way.is_empty() && was.left.millis != join.left.millis {
            times.extend(was.left.millis.zip(join.left.millis));
        }
    }
    if told.is_empty()
        && let Some((was, is)) = times.iter().min_by_key(|(_, is)| *is)
    {
        let (n, was, is) = (times.len().to_string(), was.round().to_string(), is.round().to_string());
        told.push(words.say("join-time", &[("n", &n), ("was", &was), ("is", &is)]));
    }
    for (variations, count) in fresh {
        let name = version_name(&variations, new, words);
        told.push(words.say("joins-new", &[("name", &name), ("n", &count.to_string())]));
    }
    told
}

/// What became of a join: whether it can be played, which fingers have to leave.
fn changed_join(was: &Join, is: &Join, name: &str, words: Words) -> Vec<String> {
    match (was.is_allowed(), is.is_allowed()) {
        (true, false) => {
            let why: Vec<String> = is.obstacles.iter().map(|obstacle| why(obstacle, words)).collect();
            return vec![words.say("join-forbidden", &[("join", name), ("why", &why.join(", "))])];
        }
        (false, true) => return vec![words.say("join-allowed", &[("join", name)])],
        (true, true) | (false, false) => {}
    }
    let fingers = |join: &Join| -> Vec<String> {
        let mut fingers: Vec<String> = join.left.in_the_way.iter().map(|hold| hold_name(hold, words)).collect();
        fingers.dedup();
        fingers
    };
    let (before, after) = (fingers(was), fingers(is));
    let beyond = |here: &[String], there: &[String]| -> Vec<String> {
        here.iter().filter(|finger| !there.contains(finger)).cloned().collect()
    };
    let mut told = Vec::new();
    let (more, fewer) = (beyond(&after, &before), beyond(&before, &after));
    if !more.is_empty() {
        let fingers = words.list(&more);
        let millis = is.left.millis.map(|millis| millis.round().to_string());
        let key = if millis.is_some() {
            "join-needs"
        } else {
            "join-needs-open"
        };
        let holes = [
            ("join", name),
            ("fingers", fingers.as_str()),
            ("millis", millis.as_deref().unwrap_or_default()),
        ];
        told.push(words.say(key, &holes));
    }
    if !fewer.is_empty() {
        told.push(words.say("join-easier", &[("join", name), ("fingers", &words.list(&fewer))]));
    }
    told
}

fn hold_name(hold: &Hold, words: Words) -> String {
    match hold.finger {
        Some(finger) => words.left(Some(finger)),
        None => words.say("string-hold", &[("string", &hold.string.to_string())]),
    }
}

fn why(obstacle: &Obstacle, words: Words) -> String {
    match obstacle {
        Obstacle::CountsTakenTwice { first, last } => {
            let span = CountSpan {
                first: *first,
                last: *last,
            };
            words.say("join-why-counts", &[("span", &span.to_string())])
        }
        Obstacle::Held(clash) => words.say("join-why-held", &[("finger", &hold_name(&clash.hold, words))]),
    }
}

/// "join core -> variation 2"
fn join_name(join: &Join, lesson: &Lesson, words: Words) -> String {
    let (from, to) = (
        version_name(&join.from.variations, lesson, words),
        version_name(&join.to.variations, lesson, words),
    );
    let key = match join.kind {
        JoinKind::Vueltas => "join",
        JoinKind::Entry => "entry",
        JoinKind::Exit => "exit",
    };
    words.say(key, &[("from", &from), ("to", &to)])
}

fn version_name(variations: &[usize], lesson: &Lesson, words: Words) -> String {
    if variations.is_empty() {
        return words.role(Role::Core);
    }
    let names = variations.iter().filter_map(|index| lesson.patterns.get(*index));
    names
        .map(|pattern| words.pattern(pattern))
        .collect::<Vec<_>>()
        .join(" + ")
}

/// The exercises of patterns that changed, and what they end in.
fn exercises(sides: Sides, pairs: &[Pair], words: Words) -> Vec<String> {
    let ((old, old_palos), (new, new_palos)) = sides;
    let (before, after) = (page_data(&[old], old_palos), page_data(&[new], new_palos));
    let mut told = Vec::new();
    let name = |lesson: &Lesson, index: usize| lesson.patterns.get(index).map(|pattern| words.pattern(pattern));
    let mut say = |key: &str, name: Option<String>, count: usize| {
        if let Some(name) = name.filter(|_| count > 0) {
            told.push(words.say(key, &[("name", &name), ("n", &count.to_string())]));
        }
    };
    for (was, is) in pairs {
        match (was, is) {
            (Some(was), Some(is)) if is_changed((old, *was), (new, *is)) => {
                let count = steps(&after, *is).max(steps(&before, *was));
                say("exercises-change", name(new, *is), count);
            }
            (None, Some(is)) => say("exercises-new", name(new, *is), steps(&after, *is)),
            (Some(was), None) => say("exercises-gone", name(old, *was), steps(&before, *was)),
            (Some(_), Some(_)) | (None, None) => {}
        }
    }
    let mut turn = |key: &str, was: Option<u64>, is: Option<u64>| {
        if let Some((was, is)) = was.zip(is).filter(|(was, is)| was != is) {
            told.push(words.turn(key, &was.to_string(), &is.to_string()));
        }
    };
    let top = |page: &PageData| page.ladder.last().map(|rung| u64::from(rung.tempo));
    turn("ladder", top(&before), top(&after));
    let circuit = |page: &PageData| page.circuits.first().map(|circuit| circuit.length);
    turn("circuit", circuit(&before), circuit(&after));
    told
}

fn is_changed((old, was): (&Lesson, usize), (new, is): (&Lesson, usize)) -> bool {
    let (Some(was), Some(is)) = (old.patterns.get(was), new.patterns.get(is)) else {
        return false;
    };
    was.span != is.span || was.runs_on != is.runs_on || !differing(was, is).is_empty()
}

/// How many exercises a pattern has by itself.
fn steps(page: &PageData, pattern: usize) -> usize {
    let of_it = |version: usize| {
        page.versions
            .get(version)
            .is_some_and(|version| version.pattern == pattern)
    };
    let learning = page.learning.iter().filter(|learning| of_it(learning.version));
    learning.map(|learning| learning.steps.len()).sum()
}
