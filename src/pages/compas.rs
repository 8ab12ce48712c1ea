//! The compás a lesson is drawn on: what the lesson says, and where it says nothing, what its palo's table says.

use num_rational::Ratio;

use crate::music::lesson::Lesson;
use crate::music::palo::Palo;
use crate::music::position::Position;

/// Counts with their lengths and accents.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Compas {
    /// No counts at all: moments are events in order.
    pub free: bool,
    /// Counts in one compás; 0 when neither lesson nor palo says.
    pub counts: i64,
    /// The count that a round begins on.
    pub first: i64,
    /// Pulses in each of the counts 1, 2, 3, …
    pub lengths: Vec<i64>,
    /// Sorted.
    pub accents: Vec<Position>,
    /// False when the accents are the palo's own: the lesson says nothing of them.
    pub accents_said: bool,
    /// False when the number of counts is the palo's own.
    pub counts_said: bool,
}

impl Compas {
    pub fn of(lesson: &Lesson, palo: Option<&Palo>) -> Self {
        let meter = &lesson.meter;
        let said = meter.beats.as_ref().map(|beats| beats.value).filter(|counts| (1..=64).contains(counts));
        let free = said.is_none() && palo.is_some_and(|palo| palo.free);
        let table = palo.and_then(|palo| match said {
            Some(counts) => palo.counted_in(counts).next(),
            None => palo.usual(),
        });
        let counts = said.or(table.map(|table| table.counts)).unwrap_or(0);
        let lengths = meter.lengths.as_ref().map(|lengths| lengths.value.clone());
        let lengths = lengths.or(table.map(|table| table.lengths.clone())).unwrap_or_default();
        let mut accents: Vec<Position> = meter.accents.iter().map(|accent| accent.value).collect();
        let accents_said = !accents.is_empty();
        if !accents_said {
            accents = table.and_then(|table| table.accents.first()).map(|set| set.sorted()).unwrap_or_default();
        }
        accents.sort();
        Self {
            free,
            counts,
            first: meter.first.as_ref().map_or(1, |first| first.value),
            lengths: whole_lengths(lengths, counts),
            accents,
            accents_said,
            counts_said: said.is_some(),
        }
    }

    /// The count as numbered within its round: 13 of 12 is 1.
    pub fn in_round(&self, count: i64) -> i64 {
        if self.counts > 0 { (count - 1).rem_euclid(self.counts) + 1 } else { count }
    }

    /// Pulses in a count; 1 where nothing is known.
    pub fn length(&self, count: i64) -> i64 {
        let index = usize::try_from(self.in_round(count) - 1).ok();
        index.and_then(|index| self.lengths.get(index)).copied().unwrap_or(1).max(1)
    }

    pub fn is_accent(&self, at: Position) -> bool {
        let whole = self.in_round(at.whole());
        let here = Position(Ratio::from_integer(whole) + at.fraction());
        self.accents.binary_search(&here).is_ok()
    }

    /// True when counts differ in length.
    pub fn is_uneven(&self) -> bool {
        self.lengths.windows(2).any(|pair| pair.first() != pair.last())
    }

    /// The counts of one round in the order they are played.
    pub fn round(&self) -> Vec<i64> {
        let first = if (1..=self.counts).contains(&self.first) { self.first } else { 1 };
        (first..=self.counts).chain(1..first).collect()
    }
}

/// One length for each count; all 1 where the list does not fit or makes no difference.
fn whole_lengths(lengths: Vec<i64>, counts: i64) -> Vec<i64> {
    let fits = lengths.len() as i64 == counts && lengths.iter().all(|length| (1..=24).contains(length));
    let even = lengths.windows(2).all(|pair| pair.first() == pair.last());
    if fits && !even { lengths } else { vec![1; usize::try_from(counts).unwrap_or(0)] }
}
