//! A vuelta: once through what a core covers, and where its moments fall.
//!
//! Mostly that is one round of the compás. A core may also cover several ("1 to 8" over two rounds of four), or half
//! of one (a six).

use num_rational::Ratio;

use super::score::{Clap, CountMark, Ground, Layer, Pulses};
use crate::music::palo::{self, ClapSound, Palo};
use crate::music::pattern::CountSpan;
use crate::music::position::Position;
use crate::music::round::Round;

/// Once through what a core covers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    pub round: Round,
    /// The count that it begins on.
    pub first: i64,
    pub counts: i64,
    pub length: Pulses,
}

/// From and up to a moment of a vuelta, in pulses from its start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stretch {
    pub from: Pulses,
    pub to: Pulses,
}

const ZERO: Pulses = Ratio::new_raw(0, 1);

impl Turn {
    /// The vuelta of a core with this span. A whole round may be cut at another count than its own first, so that it
    /// can be joined with what begins there. None for an absurd span.
    pub fn of(round: &Round, span: CountSpan, cut: Option<i64>) -> Option<Turn> {
        let counts = round.counts_in(span);
        if !(1..=256).contains(&counts) {
            return None;
        }
        let first = cut.filter(|_| counts == round.counts).unwrap_or(span.first);
        let lengths = (0..counts).map(|step| round.length_of(first + step));
        Some(Turn {
            first,
            counts,
            length: Ratio::from_integer(lengths.sum()),
            round: round.clone(),
        })
    }

    /// Where a count of a core begins; counts of the core's own span come round to the start where it begins inside.
    pub fn of_core(&self, span: CountSpan, moment: Position) -> Pulses {
        let at = self.start_of(span.first) + self.round.after(span.first, moment);
        let inside = self.round.holds(span, moment) && self.counts == self.round.counts;
        if inside && at >= self.length {
            at - self.length
        } else {
            at
        }
    }

    /// Where a moment of a pattern lies that begins with this span; past the vuelta's end when it runs on.
    pub fn of_pattern(&self, span: CountSpan, moment: Position) -> Pulses {
        self.start_of(span.first) + self.round.after(span.first, moment)
    }

    /// Up to where a pattern claims the vuelta, and what comes after it, when this is its last moment: whole counts.
    pub fn claimed(&self, span: CountSpan, last: Position) -> Pulses {
        let count = last.whole();
        self.of_pattern(span, Position::count(count)) + Ratio::from_integer(self.round.length_of(count))
    }

    /// The same for a core.
    pub fn claimed_by_core(&self, span: CountSpan, last: Position) -> Pulses {
        let count = last.whole();
        self.of_core(span, Position::count(count)) + Ratio::from_integer(self.round.length_of(count))
    }

    /// What a span takes up; its end lies past the vuelta's end where it crosses the seam.
    pub fn stretch(&self, span: CountSpan) -> Stretch {
        let from = self.start_of(span.first);
        Stretch {
            from,
            to: from + self.round.pulses_in(span),
        }
    }

    /// True when the vuelta has this count.
    pub fn has(&self, count: i64) -> bool {
        let steps = if self.counts == self.round.counts {
            self.round.steps(self.first, count)
        } else {
            count - self.first
        };
        (0..self.counts).contains(&steps)
    }

    /// Pulses from the vuelta's start to the start of a count.
    fn start_of(&self, count: i64) -> Pulses {
        self.round.after(self.first, Position::count(count))
    }

    /// What is said on the count at this many counts from the start.
    pub fn label(&self, step: i64) -> i64 {
        if self.counts == self.round.counts {
            (self.first + step - 1).rem_euclid(self.round.counts.max(1)) + 1
        } else {
            self.first + step
        }
    }

    /// The counts, accents and palmas that stand under a bar.
    pub fn ground(&self, palo: Option<&Palo>) -> Ground {
        let mut ground = Ground {
            length: self.length,
            counts: Vec::new(),
            accents: Vec::new(),
            palmas: Vec::new(),
        };
        let claps = palo.map(|palo| clapped(palo, &self.round)).unwrap_or_default();
        let mut at = ZERO;
        for step in 0..self.counts {
            let label = self.label(step);
            let length = Ratio::from_integer(self.round.length_of(label));
            let folded = (label - 1).rem_euclid(self.round.counts.max(1)) + 1;
            ground.counts.push(CountMark {
                at,
                length,
                count: label,
                accent: self.round.is_accent(Position::count(label)),
                first: folded == self.round.first,
            });
            let here = |moment: &Position| moment.whole() == folded;
            let accents = self.round.accents.iter().filter(|moment| here(moment));
            ground
                .accents
                .extend(accents.map(|moment| at + moment.fraction() * length));
            ground.palmas.extend(
                claps
                    .iter()
                    .filter(|(moment, _)| here(moment))
                    .map(|(moment, clap)| Clap {
                        at: at + moment.fraction() * length,
                        ..clap.clone()
                    }),
            );
            at += length;
        }
        ground.palmas.sort_by_key(|clap| (clap.at, clap.layer));
        ground
    }
}

impl Turn {
    /// Moments at which a group of counts begins: the palo's usual grouping, else each accent begins one.
    pub fn groups(&self, palo: Option<&Palo>) -> Vec<Pulses> {
        let counts = self.round.counts.max(1);
        let folded = |count: i64| (count - 1).rem_euclid(counts) + 1;
        let way = palo.and_then(|palo| way_of_counting(palo, &self.round));
        let mut begins: Vec<i64> = Vec::new();
        if let Some((way, grouping)) = way.and_then(|way| Some((way, way.groupings.first()?))) {
            let mut count = way.first();
            for group in &grouping.groups {
                begins.push(folded(count));
                count += group;
            }
        }
        let leant = |step: &i64| self.round.is_accent(Position::count(self.label(*step)));
        let begins_group = |step: &i64| begins.contains(&folded(self.label(*step)));
        let starts = (0..self.counts).filter(|step| {
            if begins.is_empty() {
                leant(step)
            } else {
                begins_group(step)
            }
        });
        let before = |step: i64| {
            (0..step)
                .map(|step| self.round.length_of(self.label(step)))
                .sum::<i64>()
        };
        starts
            .into_iter()
            .map(|step| Ratio::from_integer(before(step)))
            .collect()
    }
}

/// The palo's way of counting so many counts, the one that begins where the round begins.
fn way_of_counting<'a>(palo: &'a Palo, round: &Round) -> Option<&'a palo::Compas> {
    let ways: Vec<&palo::Compas> = palo.counted_in(round.counts).collect();
    let begins = |way: &&&palo::Compas| way.starts.iter().any(|start| start.count == round.first);
    ways.iter().find(begins).or(ways.first()).copied()
}

/// The claps of the palo's usual palmas for this way of counting, each with its moment in the round.
fn clapped(palo: &Palo, round: &Round) -> Vec<(Position, Clap)> {
    let Some(way) = way_of_counting(palo, round) else {
        return Vec::new();
    };
    let mut claps = Vec::new();
    for part in &way.palmas {
        let layer = match part.layer {
            palo::Layer::Base => Layer::Base,
            palo::Layer::Contra => Layer::Contra,
        };
        for moment in &part.claps {
            // A clap that is not leant on sounds at two thirds of the part's level: a figure of ours.
            let leant = part.strong.contains(moment);
            let level = if leant { part.level } else { part.level / 3 * 2 };
            let clap = Clap {
                at: ZERO,
                layer,
                muffled: part.sound == ClapSound::Sordas,
                level,
            };
            claps.push((*moment, clap));
        }
    }
    claps
}
