//! Which version may follow which, and what that costs the hands, told from the bars themselves.

use super::hands::Held;
use super::joins::{self, Join, Joins};
use super::score::{Bar, Kind, Pulses};
use super::versions::{Placed, Version};
use super::words::Words;
use crate::music::pattern::Role;

/// Judges every pair of counted versions; the phrases of a free palo have no joins. `bar` gives the bar of a version after another.
pub fn judge(placed: &[Placed], words: Words, bar: impl Fn(usize, Option<usize>) -> Option<Bar>) -> Joins {
    let mut all = Vec::new();
    for from in 0..placed.len() {
        for to in 0..placed.len() {
            all.extend(pair(placed, words, &bar, from, to));
        }
    }
    Joins { all }
}

fn pair(
    placed: &[Placed],
    words: Words,
    bar: &impl Fn(usize, Option<usize>) -> Option<Bar>,
    from: usize,
    to: usize,
) -> Option<Join> {
    let (left, right) = (placed.get(from)?, placed.get(to)?);
    if left.turn.is_none() || right.turn.is_none() {
        return None;
    }
    let (before, after) = (&left.version, &right.version);
    let refused = |key: &str| Join {
        from,
        to,
        allowed: false,
        cost: 0,
        why: vec![words.say(key, &[("before", &before.name), ("after", &after.name)])],
    };
    if !joins::counts_go_on(placed, from, to) {
        return Some(refused("join-counts"));
    }
    if before.runs_on.is_some_and(|taken| begins_by(after, taken)) {
        return Some(refused("join-taken"));
    }
    let (left, right) = (bar(from, None)?, bar(to, Some(from))?);
    let mut why = Vec::new();
    let moved = strings_to_press(held_last(&left), right.hand);
    if moved > 0 {
        why.push(words.count("join-strings", moved.into()));
    }
    let hurried = seam(&left, &right, before.length).is_some_and(|gap| gap < Pulses::from_integer(1));
    if hurried && moved > 0 {
        why.push(words.say("join-quick", &[]));
    }
    let runs_on = before.runs_on.is_some();
    if runs_on {
        why.push(words.say("join-runs-on", &[("before", &before.name)]));
    }
    let quick = if hurried && moved > 0 { 2 } else { 0 };
    Some(Join {
        from,
        to,
        allowed: true,
        cost: moved * 2 + quick + if runs_on { 3 } else { 0 },
        why,
    })
}

/// True when the version has something of its own by this moment of its vuelta. A core gives way.
fn begins_by(version: &Version, taken: Pulses) -> bool {
    version.role != Role::Core && version.from <= taken
}

fn held_last(bar: &Bar) -> Held {
    bar.events.iter().rev().find_map(|event| event.hand).unwrap_or(bar.hand)
}

/// Strings on which a finger has to go down somewhere else.
fn strings_to_press(before: Held, after: Held) -> u32 {
    let pressed = |(before, after): &(Option<u8>, Option<u8>)| after.is_some_and(|fret| fret > 0) && before != after;
    before.into_iter().zip(after).filter(pressed).count() as u32
}

/// Pulses from the last stroke of one bar to the first of the next.
fn seam(left: &Bar, right: &Bar, length: Pulses) -> Option<Pulses> {
    let struck = |kind: Kind| !matches!(kind, Kind::Hand | Kind::Rest | Kind::Golpe | Kind::Damp);
    let last = left.events.iter().rfind(|event| struck(event.kind))?;
    let first = right.events.iter().find(|event| struck(event.kind))?;
    Some(length - last.at + first.at)
}
