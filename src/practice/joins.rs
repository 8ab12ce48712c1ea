//! Joins: one version followed by another, and the core into a variation and back inside the compás.
//!
//! Which joins are allowed and what they cost the hands is judged elsewhere and handed in; here they are ranked and
//! cut out to be drilled alone.

use serde::{Deserialize, Serialize};

use super::circuit::Way;
use super::score::Pulses;
use super::versions::Placed;

/// One version right after another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Join {
    pub from: usize,
    pub to: usize,
    pub allowed: bool,
    /// What it costs the hands: 0 is nothing, more is harder. Comparable only inside one book.
    pub cost: u32,
    /// In a teacher's words: why it is forbidden, or what makes it dear.
    pub why: Vec<String>,
    /// The teacher's own cautions about it.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub cautions: Vec<String>,
}

/// All joins of some versions.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Joins {
    /// By `from`, then `to`.
    pub all: Vec<Join>,
}

impl Joins {
    /// The allowed ones, the dearest first; of equals the earlier pair.
    pub fn ranked(&self) -> Vec<&Join> {
        let mut allowed: Vec<&Join> = self.all.iter().filter(|join| join.allowed).collect();
        allowed.sort_by_key(|join| (std::cmp::Reverse(join.cost), join.from, join.to));
        allowed
    }

    pub fn get(&self, from: usize, to: usize) -> Option<&Join> {
        self.all.iter().find(|join| (join.from, join.to) == (from, to))
    }

    pub fn is_allowed(&self, from: usize, to: usize) -> bool {
        self.get(from, to).is_some_and(|join| join.allowed)
    }

    /// The allowed joins as ways over the versions.
    pub fn ways(&self, placed: &[Placed]) -> Vec<Way> {
        let way = |join: &Join| {
            let length = placed.get(join.to)?.version.vueltas;
            join.allowed.then_some(Way {
                from: join.from,
                to: join.to,
                length,
            })
        };
        self.all.iter().filter_map(way).collect()
    }
}

/// True when the counts go on without a gap where a vuelta of `from` is followed by one of `to`.
///
/// A core of half a compás that has no other half is followed by itself.
pub fn counts_go_on(placed: &[Placed], from: usize, to: usize) -> bool {
    let turn = |index: usize| placed.get(index).and_then(|placed| placed.turn.as_ref());
    let (Some(before), Some(after)) = (turn(from), turn(to)) else {
        return false;
    };
    if (before.round.counts, &before.round.lengths) != (after.round.counts, &after.round.lengths) {
        return false;
    }
    let counts = before.round.counts.max(1);
    let folded = |count: i64| (count - 1).rem_euclid(counts) + 1;
    let next = folded(before.first + before.counts);
    if folded(after.first) == next {
        return true;
    }
    let someone_goes_on = placed
        .iter()
        .filter_map(|placed| placed.turn.as_ref())
        .any(|turn| folded(turn.first) == next && turn.round.counts == before.round.counts);
    !someone_goes_on && after.first == before.first && after.counts == before.counts
}

/// How much of each side of a seam is drilled: about a quarter of the vuelta, three pulses at most and one count at
/// least. A figure of ours.
pub fn drilled(length: Pulses, count: Pulses) -> Pulses {
    let quarter = (length / Pulses::from_integer(4)).ceil();
    quarter.min(Pulses::from_integer(3)).max(count).min(length)
}
