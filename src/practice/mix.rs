//! Free mixes: versions in an order that chance chose, the same for the same seed.
//!
//! Only allowed joins; every version appears; what is new comes more often; the end may be followed by the beginning.

use serde::{Deserialize, Serialize};

use super::circuit::Way;
use super::dice::Dice;

/// Versions one after another; after the last comes the first again where `closed`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mix {
    pub seed: u64,
    pub stops: Vec<usize>,
    pub closed: bool,
    /// Versions that no way through the others reaches.
    pub missing: Vec<usize>,
}

/// A mix of at least `wanted` vueltas, beginning with version `first`.
///
/// `weights` say how often a version should come against the others; one that is missing weighs 1.
pub fn mix(seed: u64, first: usize, weights: &[u32], ways: &[Way], wanted: usize) -> Mix {
    let places = ways
        .iter()
        .map(|way| way.from.max(way.to) + 1)
        .max()
        .unwrap_or(0)
        .max(first + 1)
        .max(weights.len());
    let leads = Paths::of(places, ways);
    let mut members: Vec<usize> = (0..places).filter(|place| leads.both(first, *place)).collect();
    if !members.contains(&first) {
        members.push(first);
    }
    let missing = (0..places).filter(|place| !members.contains(place)).collect();
    let inside: Vec<Way> = ways
        .iter()
        .copied()
        .filter(|way| members.contains(&way.from) && members.contains(&way.to))
        .collect();
    if inside.is_empty() {
        return Mix {
            seed,
            stops: vec![first],
            closed: false,
            missing,
        };
    }
    let mut walk = Walk {
        dice: Dice::new(seed),
        ways: &inside,
        leads: &leads,
        stops: vec![first],
        unheard: members.iter().copied().filter(|place| *place != first).collect(),
    };
    walk.stroll(weights, wanted);
    walk.go_home(first);
    Mix {
        seed,
        stops: walk.stops,
        closed: true,
        missing,
    }
}

struct Walk<'a> {
    dice: Dice,
    ways: &'a [Way],
    leads: &'a Paths,
    stops: Vec<usize>,
    unheard: Vec<usize>,
}

impl Walk<'_> {
    fn step_to(&mut self, place: usize) {
        self.stops.push(place);
        self.unheard.retain(|unheard| *unheard != place);
    }

    fn here(&self) -> usize {
        self.stops.last().copied().unwrap_or(0)
    }

    /// On by chance, until there are just enough vueltas left for what has not been heard.
    fn stroll(&mut self, weights: &[u32], wanted: usize) {
        while self.stops.len() < wanted || !self.unheard.is_empty() {
            let here = self.here();
            let nearest = self
                .unheard
                .iter()
                .copied()
                .min_by_key(|place| (self.leads.steps(here, *place), *place));
            let left = wanted.saturating_sub(self.stops.len());
            if let Some(nearest) = nearest.filter(|_| left <= self.unheard.len() * 2) {
                let Some(next) = self.leads.next(here, nearest) else {
                    self.unheard.retain(|place| *place != nearest);
                    continue;
                };
                self.step_to(next);
                continue;
            }
            let Some(next) = self.by_chance(here, weights) else {
                return;
            };
            self.step_to(next);
        }
    }

    fn by_chance(&mut self, here: usize, weights: &[u32]) -> Option<usize> {
        let mut next: Vec<usize> = self
            .ways
            .iter()
            .filter(|way| way.from == here)
            .map(|way| way.to)
            .collect();
        // Twice the same is a join as well; three times is standing still.
        let twice = self.stops.iter().rev().take_while(|stop| **stop == here).count() >= 2;
        if twice && next.iter().any(|place| *place != here) {
            next.retain(|place| *place != here);
        }
        let heavy = |place: &usize| {
            let weight = weights.get(*place).copied().unwrap_or(1).clamp(1, 1000) * 4;
            let weight = if *place == here { weight / 4 } else { weight };
            if self.unheard.contains(place) {
                weight * 2
            } else {
                weight
            }
        };
        let weights: Vec<u32> = next.iter().map(heavy).collect();
        let chosen = self.dice.weighted(&weights)?;
        next.get(chosen).copied()
    }

    /// On to a version that may be followed by the first one.
    fn go_home(&mut self, first: usize) {
        let mut guard = self.leads.places + 1;
        while guard > 0 && !self.ways.iter().any(|way| way.from == self.here() && way.to == first) {
            let Some(next) = self.leads.next(self.here(), first) else {
                return;
            };
            self.step_to(next);
            guard -= 1;
        }
    }
}

/// The shortest ways between all versions, in vueltas.
struct Paths {
    places: usize,
    steps: Vec<Option<u32>>,
    first_step: Vec<Option<usize>>,
}

impl Paths {
    /// Floyd and Warshall's table.
    fn of(places: usize, ways: &[Way]) -> Self {
        let mut paths = Self {
            places,
            steps: vec![None; places * places],
            first_step: vec![None; places * places],
        };
        for place in 0..places {
            paths.better(place, place, 0, None);
        }
        for way in ways {
            paths.better(way.from, way.to, 1, Some(way.to));
        }
        for middle in 0..places {
            for from in 0..places {
                for to in 0..places {
                    if let (Some(before), Some(after)) = (paths.steps(from, middle), paths.steps(middle, to)) {
                        let first = paths.next(from, middle);
                        paths.better(from, to, before + after, first);
                    }
                }
            }
        }
        paths
    }

    fn better(&mut self, from: usize, to: usize, steps: u32, first: Option<usize>) {
        let index = from * self.places + to;
        if let (Some(known), Some(known_first)) = (self.steps.get_mut(index), self.first_step.get_mut(index))
            && known.is_none_or(|known| steps < known)
        {
            *known = Some(steps);
            *known_first = first;
        }
    }

    fn steps(&self, from: usize, to: usize) -> Option<u32> {
        self.steps.get(from * self.places + to).copied().flatten()
    }

    /// The first stop on the way; None when there is no way, or one is there already.
    fn next(&self, from: usize, to: usize) -> Option<usize> {
        self.first_step.get(from * self.places + to).copied().flatten()
    }

    fn both(&self, one: usize, other: usize) -> bool {
        self.steps(one, other).is_some() && self.steps(other, one).is_some()
    }
}
