//! How a version is learnt: pieces, chains, the way in and out, the whole.

use super::desk::Desk;
use super::joins;
use super::ladder;
use super::page::{Learning, Step, StepKind};
use super::pieces::{self, Span};
use super::score::Pulses;
use super::versions::Version;

/// Clean repetitions of a piece before going on: a figure of ours.
pub const REPETITIONS: u32 = 5;
/// A breath after each repetition, in seconds.
const BREATH: u64 = 2;

/// The exercises of one version, in the order of practice.
pub fn learn(desk: &mut Desk, version: usize) -> Learning {
    let mut steps = Vec::new();
    let Some(placed) = desk.placed.get(version).map(|placed| placed.version.clone()) else {
        return Learning { version, steps };
    };
    let stretch = (placed.from, placed.to);
    let pieces = desk
        .bar(version, None)
        .and_then(|bar| desk.book.bars.get(bar))
        .zip(desk.ground(version));
    let pieces = pieces.map(|(bar, ground)| pieces::pieces(bar, ground, desk.groups(version), stretch));
    let pieces = pieces.unwrap_or_default();
    if pieces.len() > 1 {
        for piece in &pieces {
            steps.extend(step(desk, version, StepKind::Piece, *piece));
        }
    }
    let partly = |chain: &Span| *chain != stretch;
    for chain in pieces::forward(&pieces).into_iter().filter(partly) {
        steps.extend(step(desk, version, StepKind::Forward, chain));
    }
    for chain in pieces::backward(&pieces).into_iter().filter(partly) {
        steps.extend(step(desk, version, StepKind::Backward, chain));
    }
    if placed.core.is_some() {
        let kind = if pieces.len() < 2 {
            StepKind::Piece
        } else {
            StepKind::Forward
        };
        steps.extend(step(desk, version, kind, stretch));
        steps.extend(inside(desk, version, &placed));
    }
    steps.extend(step(
        desk,
        version,
        StepKind::Whole,
        (Pulses::from_integer(0), placed.length),
    ));
    Learning { version, steps }
}

/// The way in and out of a variation inside its compás, where the core stands on that side.
fn inside(desk: &mut Desk, version: usize, placed: &Version) -> Vec<Step> {
    let entry = (placed.from > Pulses::from_integer(0)).then(|| around(desk, version, placed, placed.from));
    let exit = (placed.to < placed.length).then(|| around(desk, version, placed, placed.to));
    let mut steps = Vec::new();
    steps.extend(entry.and_then(|span| step(desk, version, StepKind::Entry, span)));
    steps.extend(exit.and_then(|span| step(desk, version, StepKind::Exit, span)));
    steps
}

/// Whole counts before and after a moment of a version's vuelta.
pub fn around(desk: &Desk, version: usize, placed: &Version, seam: Pulses) -> Span {
    let beats = joins::drilled(placed.length, Pulses::from_integer(1));
    let (from, to) = (seam - beats, (seam + beats).min(placed.length));
    let counts = desk
        .ground(version)
        .map(|ground| ground.counts.as_slice())
        .unwrap_or_default();
    let starts = counts.iter().map(|mark| mark.at).filter(|at| *at <= from);
    let ends = counts.iter().map(|mark| mark.at + mark.length).filter(|at| *at >= to);
    (
        starts.max().unwrap_or(Pulses::from_integer(0)),
        ends.min().unwrap_or(placed.length),
    )
}

fn step(desk: &mut Desk, version: usize, kind: StepKind, span: Span) -> Option<Step> {
    let cut = desk.cut(version, None, span)?;
    let placed = desk.placed.get(version)?.version.clone();
    let counts = desk.counts(version, span);
    let kind_word = match kind {
        StepKind::Piece => "piece",
        StepKind::Forward => "forward",
        StepKind::Backward => "backward",
        StepKind::Whole => "whole",
        StepKind::Entry => "entry",
        StepKind::Exit => "exit",
    };
    let key = match kind {
        StepKind::Piece => "title-piece",
        StepKind::Forward | StepKind::Backward => "title-chain",
        StepKind::Whole => "title-version",
        StepKind::Entry => "title-entry",
        StepKind::Exit => "title-exit",
    };
    let id = match kind {
        StepKind::Whole => placed.id.clone(),
        _ => format!("{}-{kind_word}-{}-{}", placed.id, dotted(span.0), dotted(span.1)),
    };
    let title = desk.words.say(key, &[("name", &placed.name), ("counts", &counts)]);
    let line = desk.write(id, title, vec![cut]);
    let [entry, exit] = desk.ways_in.get(version).cloned().unwrap_or_default();
    let work = match kind {
        StepKind::Entry => entry,
        StepKind::Exit => exit,
        _ => None,
    };
    Some(Step {
        kind,
        line,
        counts,
        repetitions: REPETITIONS,
        seconds: repeated(desk, REPETITIONS, span.1 - span.0),
        cost: work.as_ref().map(|work| work.cost),
        why: work.as_ref().map(|work| work.why.clone()).unwrap_or_default(),
        cautions: work.map(|work| work.cautions).unwrap_or_default(),
    })
}

/// A moment inside an id: `4`, `9.2` for nine halves.
fn dotted(at: Pulses) -> String {
    at.to_string().replace('/', ".")
}

/// Seconds that so many repetitions take at the starting tempo.
pub fn repeated(desk: &Desk, times: u32, length: Pulses) -> u32 {
    let once = ladder::seconds(&desk.book.tempo, desk.book.tempo.start, length) + BREATH;
    u32::try_from(once * u64::from(times)).unwrap_or(u32::MAX)
}
