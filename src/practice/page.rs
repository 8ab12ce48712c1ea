//! Everything that a practice page shows and its player plays: exercises, each naming a line of the book.

use serde::{Deserialize, Serialize};

use super::circuit::{self, Circuits};
use super::desk::Desk;
use super::drills::{self, Drill, Question};
use super::joins::{self, Join};
use super::ladder::{self, Rung};
use super::mix::{self, Mix};
use super::pieces::{self, Span};
use super::score::{Book, Pulses};
use super::versions::Version;
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::Role;

/// One lesson's practice, or that of several lessons of a palo together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PageData {
    /// `en` or `es`: the language of every word in here.
    pub language: String,
    pub book: Book,
    pub versions: Vec<Version>,
    /// For each version: pieces, chains, the whole, the way in and out.
    pub learning: Vec<Learning>,
    /// Rungs for a whole vuelta.
    pub ladder: Vec<Rung>,
    /// Every pair of versions, allowed or not.
    pub joins: Vec<Join>,
    /// The allowed joins, the dearest first, as far as they are drilled alone.
    pub join_drills: Vec<JoinDrill>,
    /// Every allowed join at least once.
    pub circuits: Vec<CircuitDrill>,
    /// About the circuits and mixes, in sentences: how many vueltas, what repeats, what has no way back.
    pub remarks: Vec<String>,
    pub mixes: Vec<MixDrill>,
    pub drills: Vec<Drill>,
    pub listening: Vec<Question>,
    /// Patterns of the lessons that cannot be practised, with the reason.
    pub left_out: Vec<String>,
}

/// How one version is learnt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Learning {
    pub version: usize,
    /// In the order of practice.
    pub steps: Vec<Step>,
}

/// One exercise with a version.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step {
    pub kind: StepKind,
    /// Line of the book.
    pub line: String,
    /// "counts 4 to 6".
    pub counts: String,
    /// Clean ones wanted at the starting tempo.
    pub repetitions: u32,
    /// About how long that takes, with a breath after each.
    pub seconds: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    Piece,
    Forward,
    Backward,
    Whole,
    /// The core into the variation, inside the compás.
    Entry,
    /// The variation back into the core.
    Exit,
}

/// One join by itself: the last beats of one version, the first of the next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct JoinDrill {
    pub from: usize,
    pub to: usize,
    pub cost: u32,
    pub why: Vec<String>,
    pub line: String,
    pub repetitions: u32,
    pub seconds: u32,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CircuitDrill {
    pub line: String,
    pub stops: Vec<usize>,
    /// Vueltas.
    pub length: u64,
    pub seconds: u32,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MixDrill {
    pub line: String,
    pub mix: Mix,
    pub seconds: u32,
}

/// Clean repetitions of a piece before going on: a figure of ours.
const REPETITIONS: u32 = 5;
/// A breath after each repetition, in seconds.
const BREATH: u64 = 2;
/// Joins drilled alone at most; the others come in circuits and mixes.
const DRILLED: usize = 40;
/// Vueltas of a mix at least.
const MIX_LENGTH: usize = 16;
/// A mix for each of these seeds.
const SEEDS: [u64; 5] = [1, 2, 3, 4, 5];

/// The practice of some lessons, which are of one palo when they are several.
pub fn page_data(lessons: &[&Lesson], palos: &PaloTable) -> PageData {
    let mut desk = Desk::new(lessons, palos);
    let learning = (0..desk.placed.len())
        .map(|version| learn(&mut desk, version))
        .collect();
    let join_drills = drill_joins(&mut desk);
    let ways = desk.joins.ways(&desk.placed);
    let circuits = circuit::circuits(desk.placed.len(), &ways);
    let mut remarks = remark(&desk, &circuits);
    let circuits = write_circuits(&mut desk, &circuits);
    let mixes = write_mixes(&mut desk, &mut remarks);
    let drills = drills::drills(&mut desk);
    let listening = drills::questions(&desk);
    let left_out = left_out(&desk);
    let length = longest_common(&desk);
    PageData {
        language: if desk.words.is_spanish() { "es" } else { "en" }.to_owned(),
        learning,
        ladder: ladder::ladder(&desk.book.tempo, length),
        join_drills,
        circuits,
        remarks,
        mixes,
        drills,
        listening,
        left_out,
        versions: desk.placed.iter().map(|placed| placed.version.clone()).collect(),
        joins: desk.joins.all,
        book: desk.book,
    }
}

/// The length of the first core's vuelta: what the ladder is reckoned with.
fn longest_common(desk: &Desk) -> Pulses {
    let core = desk.placed.iter().find(|placed| placed.version.role == Role::Core);
    let any = core.or(desk.placed.first());
    any.map_or(Pulses::from_integer(1), |placed| placed.version.length)
}

fn learn(desk: &mut Desk, version: usize) -> Learning {
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
fn around(desk: &Desk, version: usize, placed: &Version, seam: Pulses) -> Span {
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
    Some(Step {
        kind,
        line,
        counts,
        repetitions: REPETITIONS,
        seconds: repeated(desk, REPETITIONS, span.1 - span.0),
    })
}

/// A moment inside an id: `4`, `9.2` for nine halves.
fn dotted(at: Pulses) -> String {
    at.to_string().replace('/', ".")
}

fn repeated(desk: &Desk, times: u32, length: Pulses) -> u32 {
    let once = ladder::seconds(&desk.book.tempo, desk.book.tempo.start, length) + BREATH;
    u32::try_from(once * u64::from(times)).unwrap_or(u32::MAX)
}

fn drill_joins(desk: &mut Desk) -> Vec<JoinDrill> {
    let ranked: Vec<Join> = desk.joins.ranked().into_iter().take(DRILLED).cloned().collect();
    ranked.into_iter().filter_map(|join| drill_join(desk, join)).collect()
}

fn drill_join(desk: &mut Desk, join: Join) -> Option<JoinDrill> {
    let (before, after) = (
        desk.placed.get(join.from)?.version.clone(),
        desk.placed.get(join.to)?.version.clone(),
    );
    let taken = before.runs_on.unwrap_or(Pulses::from_integer(0));
    let (start, _) = around(desk, join.from, &before, before.length);
    let (_, end) = around(desk, join.to, &after, taken);
    let cuts = vec![
        desk.cut(join.from, None, (start, before.length))?,
        desk.cut(join.to, Some(join.from), (Pulses::from_integer(0), end))?,
    ];
    let title = desk
        .words
        .say("title-join", &[("before", &before.name), ("after", &after.name)]);
    let line = desk.write(format!("join-{}--{}", before.id, after.id), title, cuts);
    Some(JoinDrill {
        from: join.from,
        to: join.to,
        cost: join.cost,
        why: join.why,
        line,
        repetitions: REPETITIONS,
        seconds: repeated(desk, REPETITIONS, before.length - start + end),
    })
}

fn write_circuits(desk: &mut Desk, circuits: &Circuits) -> Vec<CircuitDrill> {
    let single = circuits.circuits.len() == 1;
    let mut drills = Vec::new();
    for (index, circuit) in circuits.circuits.iter().enumerate() {
        let Some(cuts) = desk.walk(&circuit.stops, true) else {
            continue;
        };
        let mut members = circuit.stops.clone();
        members.sort_unstable();
        members.dedup();
        let names: Vec<&str> = members.iter().map(|version| desk.name(*version)).collect();
        let key = if single { "title-circuit" } else { "title-circuit-of" };
        let title = desk.words.say(key, &[("names", &names.join(", "))]);
        let seconds = walked(desk, &circuit.stops);
        drills.push(CircuitDrill {
            line: desk.write(format!("circuit-{}", index + 1), title, cuts),
            stops: circuit.stops.clone(),
            length: circuit.length,
            seconds,
        });
    }
    drills
}

/// How long a walk takes once round at the starting tempo.
fn walked(desk: &Desk, stops: &[usize]) -> u32 {
    let lengths = stops
        .iter()
        .filter_map(|stop| desk.placed.get(*stop))
        .map(|placed| placed.version.length);
    let length = lengths.fold(Pulses::from_integer(0), |sum, length| sum + length);
    u32::try_from(ladder::seconds(&desk.book.tempo, desk.book.tempo.start, length)).unwrap_or(u32::MAX)
}

fn remark(desk: &Desk, circuits: &Circuits) -> Vec<String> {
    let words = desk.words;
    let mut remarks = Vec::new();
    if let [circuit] = circuits.circuits.as_slice()
        && circuits.one_way.is_empty()
    {
        remarks.push(words.count("circuit-whole", circuit.length));
        if circuit.repeated > 0 {
            remarks.push(words.count("circuit-repeats", circuit.repeated));
        }
    } else if circuits.circuits.len() > 1 {
        remarks.push(words.say("circuit-split", &[]));
    }
    for way in &circuits.one_way {
        let holes = [("before", desk.name(way.from)), ("after", desk.name(way.to))];
        remarks.push(words.say("circuit-one-way", &holes));
    }
    if !circuits.circuits.is_empty() || !circuits.one_way.is_empty() {
        let apart = circuits
            .apart
            .iter()
            .map(|version| words.say("circuit-apart", &[("name", desk.name(*version))]));
        remarks.extend(apart);
    }
    remarks
}

/// One mix for each seed, beginning with the core; what was taught last weighs the most.
fn write_mixes(desk: &mut Desk, remarks: &mut Vec<String>) -> Vec<MixDrill> {
    let ways = desk.joins.ways(&desk.placed);
    let first = desk
        .placed
        .iter()
        .position(|placed| placed.version.role == Role::Core)
        .unwrap_or(0);
    if desk.placed.len() < 2 || ways.is_empty() {
        return Vec::new();
    }
    let weights = newness(desk.placed.len(), first);
    let mut drills = Vec::new();
    for seed in SEEDS {
        let mix = mix::mix(seed, first, &weights, &ways, MIX_LENGTH);
        let Some(cuts) = desk.walk(&mix.stops, mix.closed).filter(|_| mix.closed) else {
            continue;
        };
        let title = desk.words.say("title-mix", &[("n", &seed.to_string())]);
        let seconds = walked(desk, &mix.stops);
        drills.push(MixDrill {
            line: desk.write(format!("mix-{seed}"), title, cuts),
            mix,
            seconds,
        });
    }
    let missing = drills
        .first()
        .map(|drill| drill.mix.missing.clone())
        .unwrap_or_default();
    remarks.extend(
        missing
            .iter()
            .map(|version| desk.words.say("mix-missing", &[("name", desk.name(*version))])),
    );
    drills
}

/// How often each version should come: the core 4, the others 3, the one taught last but one 4, the last 6.
pub fn newness(versions: usize, first: usize) -> Vec<u32> {
    let weight = |version: usize| match versions.saturating_sub(version) {
        _ if version == first => 4,
        1 => 6,
        2 => 4,
        _ => 3,
    };
    (0..versions).map(weight).collect()
}

fn left_out(desk: &Desk) -> Vec<String> {
    let named = desk.unplaced.iter().filter_map(|unplaced| {
        let pattern = desk.lessons.get(unplaced.lesson)?.patterns.get(unplaced.pattern)?;
        Some(desk.words.say(unplaced.why, &[("name", &pattern.name)]))
    });
    named.collect()
}
