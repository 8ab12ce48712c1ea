//! Which version may follow which, and what that costs the left hand.
//!
//! Inside one lesson `music::joins` judges, from the fingers it knows. Between lessons, and where a lesson has several
//! cores, the bars themselves are held against each other: strings for fingers, the same sum.

use super::hands::Held;
use super::joins::{self, Join, Joins};
use super::score::{Bar, Kind, Pulses};
use super::versions::{Placed, Version};
use super::words::Words;
use crate::music::joins::{self as told, JoinKind, Obstacle};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::Role;
use crate::music::round::{self, millis};

/// What a join asks of the left hand.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Work {
    pub cost: u32,
    /// In a teacher's words.
    pub why: Vec<String>,
    /// The teacher's own cautions about it.
    pub cautions: Vec<String>,
}

/// Judges the joins of some versions.
pub struct Judge<'a> {
    lessons: &'a [&'a Lesson],
    placed: &'a [Placed],
    words: Words,
    /// Pulses a minute at the top of the tempo.
    top: Pulses,
    /// The joins of each lesson.
    told: Vec<Vec<told::Join>>,
}

impl<'a> Judge<'a> {
    pub fn new(
        lessons: &'a [&'a Lesson],
        placed: &'a [Placed],
        words: Words,
        top: Pulses,
        palos: &PaloTable,
    ) -> Judge<'a> {
        Judge {
            lessons,
            placed,
            words,
            top,
            told: lessons.iter().map(|lesson| told::joins(lesson, palos)).collect(),
        }
    }

    /// Every pair of counted versions; the phrases of a free palo have no joins. `bar` gives the bar of a version
    /// after another.
    pub fn vueltas(&self, bar: impl Fn(usize, Option<usize>) -> Option<Bar>) -> Joins {
        let counted = |version: &usize| self.placed.get(*version).is_some_and(|placed| placed.turn.is_some());
        let versions: Vec<usize> = (0..self.placed.len()).filter(counted).collect();
        let mut all = Vec::new();
        for from in &versions {
            for to in &versions {
                all.extend(self.pair(&bar, *from, *to));
            }
        }
        Joins { all }
    }

    fn pair(&self, bar: &impl Fn(usize, Option<usize>) -> Option<Bar>, from: usize, to: usize) -> Option<Join> {
        let (before, after) = (&self.placed.get(from)?.version, &self.placed.get(to)?.version);
        let refused = |key: &str| Join {
            from,
            to,
            allowed: false,
            cost: 0,
            why: vec![self.words.say(key, &[("before", &before.name), ("after", &after.name)])],
            cautions: Vec::new(),
        };
        if !joins::counts_go_on(self.placed, from, to) {
            return Some(refused("join-counts"));
        }
        if before.runs_on.is_some_and(|taken| begins_by(after, taken)) {
            return Some(refused("join-taken"));
        }
        let told = self.told(before, after);
        if told.is_some_and(|join| !join.is_allowed()) {
            return Some(refused("join-held"));
        }
        let work = match told {
            Some(join) => self.work(before.lesson, join),
            None => self.work_of_bars(&bar(from, None)?, &bar(to, Some(from))?, before.length),
        };
        let runs_on = before
            .runs_on
            .map(|_| self.words.say("join-runs-on", &[("before", &before.name)]));
        Some(Join {
            from,
            to,
            allowed: true,
            cost: work.cost,
            why: work.why.into_iter().chain(runs_on).collect(),
            cautions: work.cautions,
        })
    }

    /// What the lesson tells of a join between two of its own versions that stand in its first core.
    fn told(&self, before: &Version, after: &Version) -> Option<&told::Join> {
        if before.lesson != after.lesson {
            return None;
        }
        let lesson = *self.lessons.get(before.lesson)?;
        let joins = self.told.get(before.lesson)?;
        // Its seam is where the core is said to begin; a vuelta cut elsewhere has another.
        let core = round::core(lesson)?.span.map(|span| span.first);
        let turn = self
            .placed
            .iter()
            .find(|placed| &placed.version == before)?
            .turn
            .as_ref()?;
        if core != Some(turn.first) {
            return None;
        }
        let (from, to) = (variations(lesson, before)?, variations(lesson, after)?);
        let is = |join: &&told::Join| join.from.variations == from && join.to.variations == to;
        joins.iter().filter(|join| join.kind == JoinKind::Vueltas).find(is)
    }

    /// The work of going into a variation inside its compás, or out of it.
    pub fn inside(&self, version: &Version, entry: bool) -> Option<Work> {
        let lesson = *self.lessons.get(version.lesson)?;
        let own = variations(lesson, version).filter(|own| !own.is_empty())?;
        let is = |join: &&told::Join| match join.kind {
            JoinKind::Entry => entry && join.to.variations == own,
            JoinKind::Exit => !entry && join.from.variations == own,
            JoinKind::Vueltas => false,
        };
        let join = self.told.get(version.lesson)?.iter().find(is)?;
        Some(self.work(version.lesson, join))
    }

    fn work(&self, lesson: usize, join: &told::Join) -> Work {
        let left = &join.left;
        let mut why = Vec::new();
        if !left.presses.is_empty() {
            why.push(self.words.count("join-presses", left.presses.len() as u64));
        }
        for hold in &left.in_the_way {
            let holes = [("string", hold.string.to_string()), ("fret", hold.fret.to_string())];
            why.push(self.words.say(
                "join-lift",
                &holes.each_ref().map(|(name, text)| (*name, text.as_str())),
            ));
        }
        let moving = left.presses.len() + left.lifts.len() > 0;
        why.extend(left.millis.filter(|_| moving).and_then(|millis| self.time(millis)));
        if join
            .obstacles
            .iter()
            .any(|obstacle| matches!(obstacle, Obstacle::Held(_)))
        {
            why.push(self.words.say("join-kept", &[]));
        }
        let cautions = self
            .lessons
            .get(lesson)
            .map(|lesson| lesson.cautions.as_slice())
            .unwrap_or_default();
        let about = join.cautions.iter().filter_map(|index| cautions.get(*index));
        Work {
            cost: join.cost(),
            why,
            cautions: about.map(|caution| caution.about.clone()).collect(),
        }
    }

    fn work_of_bars(&self, left: &Bar, right: &Bar, length: Pulses) -> Work {
        let (presses, lifts) = strings_moved(held_last(left), right.hand);
        let gap = seam(left, right, length).map(|gap| millis(gap, self.top));
        let mut why = Vec::new();
        if presses > 0 {
            why.push(self.words.count("join-strings", presses.into()));
        }
        let moving = presses + lifts > 0;
        why.extend(gap.filter(|_| moving).and_then(|millis| self.time(millis)));
        // The sum of `music::joins`, with a string for a finger.
        let time = gap.map_or(1_000, |millis| millis.to_integer()).clamp(50, 2_000);
        let cost = i64::from(2 * presses + lifts) * 1_000 / time;
        Work {
            cost: u32::try_from(cost).unwrap_or(u32::MAX),
            why,
            cautions: Vec::new(),
        }
    }

    /// Said only where it is short: less than half a second.
    fn time(&self, millis: Pulses) -> Option<String> {
        let millis = millis.to_integer();
        (millis < 500).then(|| self.words.say("join-time", &[("ms", &millis.to_string())]))
    }
}

/// The pattern that stands in the first core, as `music` knows the version; none for that core itself. None for a
/// version that `music` does not know: another core.
fn variations(lesson: &Lesson, version: &Version) -> Option<Vec<usize>> {
    if version.role != Role::Core {
        return Some(vec![version.pattern]);
    }
    let core = round::core(lesson)?;
    let first = lesson.patterns.get(version.pattern)?;
    std::ptr::eq(core, first).then(Vec::new)
}

/// True when the version has something of its own in the counts that are taken from it. A core gives way.
fn begins_by(version: &Version, taken: Pulses) -> bool {
    version.role != Role::Core && version.from < taken
}

fn held_last(bar: &Bar) -> Held {
    bar.events.iter().rev().find_map(|event| event.hand).unwrap_or(bar.hand)
}

/// Strings on which a finger has to go down somewhere else, and strings that are let go.
fn strings_moved(before: Held, after: Held) -> (u32, u32) {
    let fretted = |held: Option<u8>| held.filter(|fret| *fret > 0);
    let pairs = || before.into_iter().map(fretted).zip(after.into_iter().map(fretted));
    let pressed = pairs()
        .filter(|(before, after)| after.is_some() && before != after)
        .count();
    let lifted = pairs()
        .filter(|(before, after)| before.is_some() && before != after)
        .count();
    (pressed as u32, lifted as u32)
}

/// Pulses from the last stroke of one bar that sounds to the first of the next.
fn seam(left: &Bar, right: &Bar, length: Pulses) -> Option<Pulses> {
    let struck = |kind: Kind| !matches!(kind, Kind::Hand | Kind::Rest | Kind::Golpe | Kind::Damp);
    let last = left.events.iter().rfind(|event| struck(event.kind))?;
    let first = right.events.iter().find(|event| struck(event.kind))?;
    Some(length - last.at + first.at)
}
