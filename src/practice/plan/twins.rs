//! Versions so alike that they do not belong on one evening.
//!
//! Practising a second, similar melody on the same evening reduced what sixty musicians had gained overnight on the
//! first (doi 10.1177/0305735612463947). What is similar enough is a figure of ours: the same counts, the same kind of
//! playing, and a rhythm that a quarter of a pulse a stroke turns into the other.

use crate::music::rhythm::{Timeline, directed_swap};
use crate::practice::page::PageData;
use crate::practice::score::{Bar, Kind, Pulses};

/// Steps of a pulse on which rhythms are compared: halves, thirds, quarters and sixths fall on it.
const STEPS: i64 = 12;
/// Steps that a stroke may be moved on average.
const NEAR: u64 = 3;

/// Pairs of versions that are near-twins, the lower index first.
pub fn twins(practice: &PageData) -> Vec<(usize, usize)> {
    let versions = 0..practice.versions.len();
    let pairs = versions
        .clone()
        .flat_map(|one| versions.clone().map(move |other| (one, other)));
    pairs
        .filter(|(one, other)| one < other && are_twins(practice, *one, *other))
        .collect()
}

fn are_twins(practice: &PageData, one: usize, other: usize) -> bool {
    let measured = || {
        let (first, second) = (practice.versions.get(one)?, practice.versions.get(other)?);
        // A core is no variation's twin: it is what they all stand in.
        if first.length != second.length || first.core.is_none() || second.core.is_none() {
            return None;
        }
        let from = first.from.max(second.from);
        let to = first.to.min(second.to);
        let shorter = (first.to - first.from).min(second.to - second.from);
        if (to - from) * Pulses::from_integer(2) < shorter {
            return None;
        }
        let span = (first.from.min(second.from), first.to.max(second.to));
        let (left, right) = (bar(practice, one)?, bar(practice, other)?);
        if family(left, (first.from, first.to)) != family(right, (second.from, second.to)) {
            return None;
        }
        let (left, right) = (rhythm(left, span)?, rhythm(right, span)?);
        let strokes = left.onsets().len().max(right.onsets().len()) as u64;
        directed_swap(&left, &right).map(|moved| moved <= strokes * NEAR)
    };
    measured().unwrap_or(false)
}

fn bar(practice: &PageData, version: usize) -> Option<&Bar> {
    practice
        .book
        .bars
        .iter()
        .find(|bar| bar.version == version && bar.after.is_none())
}

/// What most of the strokes are: notes, strums, or fingers thrown out.
fn family(bar: &Bar, span: (Pulses, Pulses)) -> [bool; 3] {
    let mut counted = [0_u32; 3];
    for event in bar
        .events
        .iter()
        .filter(|event| event.at >= span.0 && event.at < span.1)
    {
        let [notes, strums, rolls] = &mut counted;
        match event.kind {
            Kind::Pluck | Kind::PullOff | Kind::HammerOn | Kind::Picado | Kind::Tremolo | Kind::Roll => *notes += 1,
            Kind::Down | Kind::Up => *strums += 1,
            Kind::Rasgueado | Kind::Alzapua => *rolls += 1,
            Kind::Golpe | Kind::Damp | Kind::Rest | Kind::Hand => {}
        }
    }
    let most = counted.into_iter().max().unwrap_or(0);
    counted.map(|count| count == most)
}

/// When something is struck. None where a stroke falls between the steps.
fn rhythm(bar: &Bar, span: (Pulses, Pulses)) -> Option<Timeline> {
    let step = |at: Pulses| {
        let steps = (at - span.0) * Pulses::from_integer(STEPS);
        steps.is_integer().then(|| steps.to_integer())
    };
    let struck = |kind: Kind| !matches!(kind, Kind::Golpe | Kind::Damp | Kind::Rest | Kind::Hand);
    let events = bar.events.iter().filter(|event| struck(event.kind));
    let inside = events.filter(|event| event.at >= span.0 && event.at < span.1);
    let onsets: Option<Vec<usize>> = inside.map(|event| usize::try_from(step(event.at)?).ok()).collect();
    let length = usize::try_from(step(span.1)?).ok()?;
    Some(Timeline::with_onsets(length, &onsets?))
}
