//! Everything that a practice page shows and its player plays: exercises, each naming a line of the book.

use serde::{Deserialize, Serialize};

use super::circuit::{self, Circuits};
use super::desk::Desk;
use super::drills::{self, Drill, Question};
use super::joins::Join;
use super::ladder::{self, Rung};
use super::learning::{self, REPETITIONS, around, repeated};
use super::mix::{self, Mix};
use super::score::{Book, Cut, Line, Pulses, Score};
use super::versions::{Version, capo};
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
    /// Of an entry or exit: what it costs the left hand, and why.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cost: Option<u32>,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub why: Vec<String>,
    /// The teacher's own cautions about it.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub cautions: Vec<String>,
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
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub cautions: Vec<String>,
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

impl PageData {
    /// Every version once, in the teacher's order: the lesson from front to back.
    pub fn everything(&self, title: &str) -> Score {
        let bars = self.book.bars.iter().enumerate().filter(|(_, bar)| bar.after.is_none());
        let cuts = bars.filter_map(|(index, bar)| {
            Some(Cut {
                bar: index,
                from: Pulses::from_integer(0),
                to: self.book.grounds.get(bar.ground)?.length,
            })
        });
        let line = Line {
            id: "lesson".to_owned(),
            title: title.to_owned(),
            cuts: cuts.collect(),
        };
        let laid = self.book.lay_out(&line);
        laid.unwrap_or_else(|| Score::empty(&line.id, title, self.book.strings, self.book.tempo))
    }
}

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
        .map(|version| learning::learn(&mut desk, version))
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
        cautions: join.cautions,
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
    let mut remarks = capos(desk).into_iter().collect::<Vec<String>>();
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

/// Lessons with the capo at different frets cannot be mixed without moving it: what is done about it.
fn capos(desk: &Desk) -> Option<String> {
    let words = desk.words;
    let capos: Vec<u8> = desk.lessons.iter().map(|lesson| capo(lesson)).collect();
    if capos.iter().all(|capo| *capo == desk.book.strings.capo) {
        return None;
    }
    let at = |capo: u8| match capo {
        0 => words.say("capo-none", &[]),
        fret => words.say("capo-at", &[("fret", &fret.to_string())]),
    };
    let each = desk.lessons.iter().zip(&capos).map(|(lesson, capo)| {
        let title = lesson
            .title
            .as_ref()
            .map_or(lesson.id.as_str(), |title| title.value.as_str());
        format!("{title}: {}", at(*capo))
    });
    let each = each.collect::<Vec<String>>().join("; ");
    let holes = [("each", each.as_str()), ("here", &at(desk.book.strings.capo))];
    Some(words.say("capo-differs", &holes))
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
