//! A pattern moment by moment: strokes, changes of chord, the left hand.

use std::collections::BTreeSet;

use super::strokes::{bare, bare_change, bare_event, became, moved_event, pairs, same_elsewhere};
use super::words::Words;
use super::{Difference, Kind};
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::pattern::Pattern;
use crate::music::position::Position;
use crate::music::stroke::Stroke;

/// Moments of either pattern at which something differs, sorted.
pub fn differing(was: &Pattern, is: &Pattern) -> Vec<Position> {
    let moments = |pattern: &Pattern| -> Vec<Position> {
        let strokes = pattern.strokes.iter().map(|stroke| stroke.at);
        let left = pattern.left.iter().map(|event| event.at);
        strokes
            .chain(pattern.changes.iter().map(|change| change.at))
            .chain(left)
            .collect()
    };
    let all: BTreeSet<Position> = moments(was).into_iter().chain(moments(is)).collect();
    let same = |at: &Position| {
        strokes_at(was, *at) == strokes_at(is, *at)
            && changes_at(was, *at) == changes_at(is, *at)
            && left_at(was, *at) == left_at(is, *at)
    };
    all.into_iter().filter(|at| !same(at)).collect()
}

fn strokes_at(pattern: &Pattern, at: Position) -> Vec<Stroke> {
    let mut found: Vec<Stroke> = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.at == at)
        .map(bare)
        .collect();
    found.sort_by_key(|stroke| {
        (
            stroke.action,
            stroke.fingers.clone(),
            stroke.strings.clone(),
            stroke.fret,
        )
    });
    found
}

fn changes_at(pattern: &Pattern, at: Position) -> Vec<Change> {
    let mut found: Vec<Change> = pattern
        .changes
        .iter()
        .filter(|change| change.at == at)
        .map(bare_change)
        .collect();
    found.sort_by_key(|change| change.chord.clone());
    found.dedup();
    found
}

fn left_at(pattern: &Pattern, at: Position) -> Vec<LeftEvent> {
    let mut found: Vec<LeftEvent> = pattern
        .left
        .iter()
        .filter(|event| event.at == at)
        .map(bare_event)
        .collect();
    found.sort_by_key(|event| (event.action, event.finger, event.string, event.fret));
    found
}

/// What differs inside a pattern, in the order of its counts; what only moved is said once.
pub(super) fn differences(was: &Pattern, is: &Pattern, name: &str, words: Words) -> Vec<Difference> {
    let mut told = Vec::new();
    let mut add = |at: Position, kind: Kind, what: String| told.push((at, kind, what));
    let moments = differing(was, is);
    let divided = redivided(was, is, &moments);
    for count in &divided {
        add(Position::count(*count), Kind::Stroke, division(was, is, *count, words));
    }
    let left: Vec<Position> = moments
        .iter()
        .copied()
        .filter(|at| !divided.contains(&at.whole()))
        .collect();
    let mut strokes: Vec<(Option<Stroke>, Option<Stroke>)> = Vec::new();
    for at in &left {
        strokes.extend(pairs(strokes_at(was, *at), strokes_at(is, *at)));
    }
    for (was, is) in settle_moves(strokes, same_elsewhere) {
        match (was, is) {
            (Some(was), Some(is)) if was.at != is.at => {
                let holes = [
                    ("stroke", words.stroke(&is)),
                    ("was", words.on(was.at)),
                    ("is", words.on(is.at)),
                ];
                add(is.at, Kind::Stroke, said(words, "stroke-moved", &holes));
            }
            (Some(was), Some(is)) => {
                for what in became(&was, &is, words) {
                    add(is.at, Kind::Stroke, what);
                }
            }
            (None, Some(is)) => add(
                is.at,
                Kind::Stroke,
                words.say("stroke-new", &[("stroke", &words.stroke(&is))]),
            ),
            (Some(was), None) => {
                add(
                    was.at,
                    Kind::Stroke,
                    words.say("stroke-gone", &[("stroke", &words.stroke(&was))]),
                );
            }
            (None, None) => {}
        }
    }
    for (at, what) in chords(was, is, &moments, words) {
        add(at, Kind::LeftHand, what);
    }
    for (at, what) in left_hand(was, is, &moments, words) {
        add(at, Kind::LeftHand, what);
    }
    told.sort_by_key(|(at, kind, _)| (*at, *kind));
    let difference = |(at, kind, what): (Position, Kind, String)| Difference {
        kind,
        words: words.at(at, name, &what),
        pattern: Some(name.to_owned()),
        at: Some(at.to_string()),
    };
    told.into_iter().map(difference).collect()
}

fn said(words: Words, key: &str, holes: &[(&str, String)]) -> String {
    let holes: Vec<(&str, &str)> = holes.iter().map(|(hole, filling)| (*hole, filling.as_str())).collect();
    words.say(key, &holes)
}

/// Counts that are divided otherwise: several moments on both sides, and not the same parts.
fn redivided(was: &Pattern, is: &Pattern, moments: &[Position]) -> Vec<i64> {
    let counts: BTreeSet<i64> = moments.iter().map(|at| at.whole()).collect();
    let parts = |pattern: &Pattern, count: i64| -> BTreeSet<Position> {
        let inside = pattern.strokes.iter().map(|stroke| stroke.at);
        inside.filter(|at| at.whole() == count).collect()
    };
    let otherwise = |count: &i64| {
        let (was, is) = (parts(was, *count), parts(is, *count));
        let shared = was.intersection(&is).count();
        was.len() > 1 && is.len() > 1 && shared < was.len() && shared < is.len()
    };
    counts.into_iter().filter(otherwise).collect()
}

fn division(was: &Pattern, is: &Pattern, count: i64, words: Words) -> String {
    let inside = |pattern: &Pattern| -> Vec<Stroke> {
        let inside = pattern.strokes.iter().filter(|stroke| stroke.at.whole() == count);
        inside.cloned().collect()
    };
    let list = |strokes: &[Stroke]| {
        strokes
            .iter()
            .map(|stroke| words.stroke(stroke))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let (before, after) = (inside(was), inside(is));
    let moments: BTreeSet<Position> = after.iter().map(|stroke| stroke.at).collect();
    let holes = [
        ("is", moments.len().to_string()),
        ("list", list(&after)),
        ("old", list(&before)),
    ];
    said(words, "divided", &holes)
}

/// What is gone at one moment and new at another, and the same otherwise, has moved; nearest first.
fn settle_moves<T: Clone>(
    all: Vec<(Option<T>, Option<T>)>,
    same: impl Fn(&T, &T) -> bool,
) -> Vec<(Option<T>, Option<T>)> {
    let (mut settled, mut gone, mut fresh) = (Vec::new(), Vec::new(), Vec::new());
    for pair in all {
        match pair {
            (Some(was), None) => gone.push(was),
            (None, Some(is)) => fresh.push(is),
            both => settled.push(both),
        }
    }
    for was in gone {
        match fresh.iter().position(|is| same(&was, is)) {
            Some(at) => settled.push((Some(was), Some(fresh.remove(at)))),
            None => settled.push((Some(was), None)),
        }
    }
    settled.extend(fresh.into_iter().map(|is| (None, Some(is))));
    settled
}

/// Changes of chord.
fn chords(was: &Pattern, is: &Pattern, moments: &[Position], words: Words) -> Vec<(Position, String)> {
    let mut all: Vec<(Option<Change>, Option<Change>)> = Vec::new();
    for at in moments {
        let (mut before, mut after) = (changes_at(was, *at), changes_at(is, *at));
        before.retain(|change| match after.iter().position(|other| other == change) {
            Some(at) => {
                after.remove(at);
                false
            }
            None => true,
        });
        if let ([one], [two]) = (before.as_slice(), after.as_slice()) {
            all.push((Some(one.clone()), Some(two.clone())));
            continue;
        }
        all.extend(before.into_iter().map(|change| (Some(change), None)));
        all.extend(after.into_iter().map(|change| (None, Some(change))));
    }
    let told = settle_moves(all, |one: &Change, two: &Change| one.chord == two.chord);
    let tell = |pair: (Option<Change>, Option<Change>)| match pair {
        (Some(was), Some(is)) if was.at != is.at => {
            let holes = [
                ("chord", words.chord(&is.chord)),
                ("was", words.on(was.at)),
                ("is", words.on(is.at)),
            ];
            Some((is.at, said(words, "change-moved", &holes)))
        }
        (Some(was), Some(is)) => Some((
            is.at,
            words.turn("change-other", &words.chord(&was.chord), &words.chord(&is.chord)),
        )),
        (None, Some(is)) => Some((is.at, words.say("change-new", &[("chord", &words.chord(&is.chord))]))),
        (Some(was), None) => Some((was.at, words.say("change-gone", &[("chord", &words.chord(&was.chord))]))),
        (None, None) => None,
    };
    told.into_iter().filter_map(tell).collect()
}

/// Fingers put down, lifted, kept.
fn left_hand(was: &Pattern, is: &Pattern, moments: &[Position], words: Words) -> Vec<(Position, String)> {
    let mut all: Vec<(Option<LeftEvent>, Option<LeftEvent>)> = Vec::new();
    for at in moments {
        let (before, mut after) = (left_at(was, *at), left_at(is, *at));
        for event in before {
            match after.iter().position(|other| *other == event) {
                Some(at) => drop(after.remove(at)),
                None => all.push((Some(event), None)),
            }
        }
        all.extend(after.into_iter().map(|event| (None, Some(event))));
    }
    let same = |one: &LeftEvent, two: &LeftEvent| moved_event(one, two.at.0 - one.at.0) == *two;
    let tell = |pair: (Option<LeftEvent>, Option<LeftEvent>)| match pair {
        (Some(was), Some(is)) => {
            let holes = [
                ("what", words.left_event(&is)),
                ("was", words.on(was.at)),
                ("is", words.on(is.at)),
            ];
            Some((is.at, said(words, "left-moved", &holes)))
        }
        (None, Some(is)) => Some((is.at, words.say("left-new", &[("what", &words.left_event(&is))]))),
        (Some(was), None) => Some((was.at, words.say("left-gone", &[("what", &words.left_event(&was))]))),
        (None, None) => None,
    };
    settle_moves(all, same).into_iter().filter_map(tell).collect()
}
