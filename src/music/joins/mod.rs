//! Joins: one version of the compás followed by another, and the core into a variation and back inside the compás.
//!
//! A join says whether it can be played (who plays the counts that both claim, what is still held), what the left hand
//! has to lift and to press, in how many milliseconds at the top of the lesson's tempo, and which of the teacher's
//! cautions are about it. It is a value: checks make findings of it, practice ranks by it.

use num_rational::Ratio;

use super::chord::ChordName;
use super::hand::Finger;
use super::held::{Clash, ClashKind, Hold};
use super::lesson::Lesson;
use super::palo::PaloTable;
use super::position::Position;
use super::round::Round;
use super::version::{Version, versions};
use crate::text::Place;

/// The two sides of a join, laid end to end and looked at.
mod desk;

use desk::Desk;

/// Shorter than a hand's quickest tap and tap again: 5 to 7 a second is where one hand's tapping ends (FUJ), so a
/// finger that has to leave a string and be down elsewhere wants 150 ms or more.
pub const BRISK_MS: i64 = 150;

/// Shorter than the quickest tapping ever measured, ten a second (FUJ): no finger leaves and lands in that.
pub const HUMANLY_POSSIBLE_MS: i64 = 100;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JoinKind {
    /// One vuelta after another.
    Vueltas,
    /// From the core into a variation, inside the compás.
    Entry,
    /// From a variation back into the core, inside the compás.
    Exit,
}

/// One version, or the core, passing into another.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    pub kind: JoinKind,
    pub from: Version,
    pub to: Version,
    /// The count on which the second one takes over.
    pub count: i64,
    pub obstacles: Vec<Obstacle>,
    pub left: LeftWork,
    /// The right-hand finger that plays the last single note of the one and the first of the other, and the time between.
    pub same_finger: Option<(Finger, Ratio<i64>)>,
    /// Indices into the lesson's cautions: those that are about this join.
    pub cautions: Vec<usize>,
    /// It asks more of the left hand than the core does by itself at the same moment.
    pub harder_than_core: bool,
}

/// Why a join cannot be played as it is told.
#[derive(Debug, Clone, PartialEq)]
pub enum Obstacle {
    /// The one runs on into counts that the other replaces: which of the two plays them?
    CountsTakenTwice { first: i64, last: i64 },
    /// What was said to stay down stands in the way.
    Held(Box<Clash>),
}

/// What the left hand does at a join. Only what is known: an unknown shape needs nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeftWork {
    pub stays: Vec<Hold>,
    pub lifts: Vec<Hold>,
    pub presses: Vec<Hold>,
    /// Of the lifts: those that would spoil the first sound if they came late.
    pub in_the_way: Vec<Hold>,
    /// From the last stroke that sounds the old grip to the first that sounds the new one, at the top of the tempo;
    /// None where the tempo or one of the two is not known.
    pub millis: Option<Ratio<i64>>,
}

impl Join {
    /// False when it cannot be played as told: a count belongs to both, or one finger would be in two places.
    pub fn is_allowed(&self) -> bool {
        let hinders = |obstacle: &Obstacle| match obstacle {
            Obstacle::CountsTakenTwice { .. } => true,
            Obstacle::Held(clash) => clash.kind == ClashKind::FingerElsewhere,
        };
        !self.obstacles.iter().any(hinders)
    }

    /// What it costs the left hand, for ranking: fingers to move, weighed by how little time there is. 0 is nothing.
    pub fn cost(&self) -> u32 {
        let fingers = 2 * self.left.presses.len() + self.left.lifts.len() + 4 * self.obstacles.len();
        let time = self
            .left
            .millis
            .map_or(1_000, |millis| millis.to_integer())
            .clamp(50, 2_000);
        u32::try_from(fingers as i64 * 1_000 / time).unwrap_or(u32::MAX)
    }

    /// A finger that leaves late spoils the sound, there is little time, more is asked than of the core by itself, and
    /// the teacher says no word about it.
    pub fn wants_caution(&self) -> bool {
        if !self.harder_than_core {
            return false;
        }
        let brisk = self
            .left
            .millis
            .is_some_and(|millis| millis < Ratio::from_integer(BRISK_MS));
        self.cautions.is_empty() && brisk && !self.left.in_the_way.is_empty()
    }
}

/// All joins of a lesson: every version after every version, then each variation's entry and exit.
/// Empty for a free palo and for a lesson without a compás.
pub fn joins(lesson: &Lesson, palos: &PaloTable) -> Vec<Join> {
    let Some(round) = Round::of(lesson, palos) else {
        return Vec::new();
    };
    let versions = versions(lesson, &round);
    let desk = Desk::new(lesson, round, palos);
    let mut all = Vec::new();
    for from in &versions {
        for to in &versions {
            all.push(desk.vueltas(from, to));
        }
    }
    for version in &versions {
        all.extend(desk.entry(version));
        all.extend(desk.exit(version));
    }
    all
}

/// A change of chord inside a version: what the hand has to do, and in what time.
#[derive(Debug, Clone, PartialEq)]
pub struct HandChange {
    pub place: Place,
    pub at: Position,
    pub chord: ChordName,
    pub left: LeftWork,
}

/// The changes of chord inside the versions of a lesson, each once: where versions differ, with the least time.
pub fn changes(lesson: &Lesson, palos: &PaloTable) -> Vec<HandChange> {
    let Some(round) = Round::of(lesson, palos) else {
        return Vec::new();
    };
    let versions = versions(lesson, &round);
    let desk = Desk::new(lesson, round, palos);
    let mut all: Vec<HandChange> = Vec::new();
    for change in versions.iter().flat_map(|version| desk.changes(version)) {
        let same = |other: &&mut HandChange| (other.place, other.at) == (change.place, change.at);
        match all.iter_mut().find(same) {
            Some(other) if change.left.millis < other.left.millis => *other = change,
            Some(_) => {}
            None => all.push(change),
        }
    }
    all
}

#[cfg(test)]
mod tests;
