//! Which lesson, which pattern was which: by name where the name is the same, otherwise by what is in it.

use std::collections::BTreeSet;

use super::record::LessonRecord;
use super::strokes::{bare, moved};
use crate::music::pattern::{Pattern, Role};
use crate::music::position::{Counts, Position};
use crate::music::stroke::Action;
use crate::text::fold;

/// Indices into the old and the new list; one of the two is missing for what is new or gone.
pub(super) type Pair = (Option<usize>, Option<usize>);

/// From this likeness on (of 100), two things are taken to be one and the same. A figure of ours.
const ALIKE: u32 = 45;

/// Pairs in the order of the newer list, then what is gone.
fn pair(olds: usize, news: usize, likeness: impl Fn(usize, usize) -> u32) -> Vec<Pair> {
    let all = (0..olds).flat_map(|old| (0..news).map(move |new| (old, new)));
    let mut candidates: Vec<(u32, usize, usize)> = all
        .map(|(old, new)| (likeness(old, new), old, new))
        .filter(|(like, _, _)| *like >= ALIKE)
        .collect();
    candidates.sort_by_key(|(like, old, new)| (std::cmp::Reverse(*like), old.abs_diff(*new), *new));
    let (mut used_old, mut used_new) = (BTreeSet::new(), BTreeSet::new());
    let mut found = Vec::new();
    for (_, old, new) in candidates {
        if !used_old.contains(&old) && !used_new.contains(&new) {
            used_old.insert(old);
            used_new.insert(new);
            found.push((old, new));
        }
    }
    let partner = |new: usize| found.iter().find(|(_, other)| *other == new).map(|(old, _)| *old);
    let mut pairs: Vec<Pair> = (0..news).map(|new| (partner(new), Some(new))).collect();
    pairs.extend(
        (0..olds)
            .filter(|old| !used_old.contains(old))
            .map(|old| (Some(old), None)),
    );
    pairs
}

/// A single note beside a single note is the same lesson whatever it is called.
pub(super) fn lessons(old: &[LessonRecord], new: &[LessonRecord]) -> Vec<Pair> {
    if let ([_], [_]) = (old, new) {
        return vec![(Some(0), Some(0))];
    }
    // Ids stand once in a record: where one is on both sides it is settled, and only the rest is looked into.
    let known = |id: &str, list: &[LessonRecord]| list.iter().any(|lesson| lesson.id == id);
    let rest = |list: &[LessonRecord], other: &[LessonRecord]| -> Vec<usize> {
        let unknown = list.iter().enumerate().filter(|(_, lesson)| !known(&lesson.id, other));
        unknown.map(|(index, _)| index).collect()
    };
    let (rest_old, rest_new) = (rest(old, new), rest(new, old));
    let guesses = pair(rest_old.len(), rest_new.len(), |one, two| {
        let one = rest_old.get(one).and_then(|index| old.get(*index));
        let two = rest_new.get(two).and_then(|index| new.get(*index));
        one.zip(two).map_or(0, |(one, two)| lesson_likeness(one, two))
    });
    let guessed = |index: usize| {
        let at = rest_new.iter().position(|other| *other == index)?;
        let (old, _) = guesses.iter().find(|(_, new)| *new == Some(at))?;
        rest_old.get((*old)?).copied()
    };
    let same = |id: &str| old.iter().position(|lesson| lesson.id == id);
    let mut pairs: Vec<Pair> = new
        .iter()
        .enumerate()
        .map(|(index, lesson)| (same(&lesson.id).or_else(|| guessed(index)), Some(index)))
        .collect();
    let used: BTreeSet<usize> = pairs.iter().filter_map(|(old, _)| *old).collect();
    pairs.extend(
        (0..old.len())
            .filter(|index| !used.contains(index))
            .map(|index| (Some(index), None)),
    );
    pairs
}

/// How much two lessons have in common, of 100 and a little more: their lines of music, their sentences, their title.
fn lesson_likeness(old: &LessonRecord, new: &LessonRecord) -> u32 {
    let music = |record: &LessonRecord| -> Vec<String> {
        let lines = record
            .music
            .lines()
            .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
        lines
            .filter(|line| !line.is_empty() && !line.starts_with("lesson:"))
            .collect()
    };
    let shared = common(music(old), music(new)).max(common(old.words.clone(), new.words.clone()));
    shared + if old.title == new.title { 10 } else { 0 }
}

pub(super) fn patterns(old: &[Pattern], new: &[Pattern]) -> Vec<Pair> {
    pair(old.len(), new.len(), |one, two| {
        old.get(one)
            .zip(new.get(two))
            .map_or(0, |(one, two)| pattern_likeness(one, two))
    })
}

/// The same strokes weigh most, so that a pattern which got another's name is still itself.
fn pattern_likeness(old: &Pattern, new: &Pattern) -> u32 {
    let whole = |pattern: &Pattern| -> Vec<String> {
        let strokes = pattern.strokes.iter().map(|stroke| format!("{:?}", bare(stroke)));
        strokes.collect()
    };
    let rough = |pattern: &Pattern| -> Vec<(Position, Action)> {
        pattern
            .strokes
            .iter()
            .map(|stroke| (stroke.at, stroke.action))
            .collect()
    };
    let shared = |old: &Pattern| (common(whole(old), whole(new)) * 2 + common(rough(old), rough(new))) / 3;
    // The same on other counts is the same pattern, moved.
    let shared = shared(old).max(shared(&shifted(old, new)) * 4 / 5);
    let name = fold(old.name.trim()).text == fold(new.name.trim()).text;
    let core = old.role == Role::Core && new.role == Role::Core;
    let span = old.span == new.span;
    shared + 40 * u32::from(name) + 20 * u32::from(core) + 10 * u32::from(span)
}

/// The older pattern as it would stand where the newer one begins.
fn shifted(old: &Pattern, new: &Pattern) -> Pattern {
    let by = old.span.zip(new.span).map_or(0, |(old, new)| new.first - old.first);
    let by = Counts::from_integer(by);
    Pattern {
        strokes: old.strokes.iter().map(|stroke| moved(stroke, by)).collect(),
        ..old.clone()
    }
}

/// How much two lists have in common, of 100; two empty lists have nothing.
fn common<T: Ord>(mut one: Vec<T>, mut two: Vec<T>) -> u32 {
    let all = one.len() + two.len();
    one.sort();
    two.sort();
    let (mut left, mut right) = (one.iter().peekable(), two.iter().peekable());
    let mut shared = 0;
    while let (Some(here), Some(there)) = (left.peek(), right.peek()) {
        match here.cmp(there) {
            std::cmp::Ordering::Equal => {
                shared += 1;
                left.next();
                right.next();
            }
            std::cmp::Ordering::Less => drop(left.next()),
            std::cmp::Ordering::Greater => drop(right.next()),
        }
    }
    if all == 0 {
        return 0;
    }
    u32::try_from(200 * shared / all).unwrap_or(0)
}
