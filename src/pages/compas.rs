//! The compás that a picture is drawn on: a round of counts, or the events of a free palo.

use crate::music::lesson::Lesson;
use crate::music::palo::{AccentSet, Compas as Attested, PaloTable};
use crate::music::position::Position;
use crate::music::round::{Given, Round, palo_of};

/// What a picture needs to know of the compás.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Compas {
    /// No counts at all: moments are events in order.
    pub free: bool,
    /// Counts in one compás; 0 when nobody says.
    pub counts: i64,
    /// The count that a round begins on.
    pub first: i64,
    /// Sorted.
    pub accents: Vec<Position>,
    /// False when the accents are the palo's own: the lesson says nothing of them.
    pub accents_said: bool,
    round: Option<Round>,
}

impl Compas {
    pub fn of(lesson: &Lesson, palos: &PaloTable) -> Self {
        match Round::of(lesson, palos) {
            Some(round) => Self::of_round(round),
            None => Self {
                free: palo_of(lesson, palos).is_some_and(|palo| palo.free),
                first: 1,
                ..Self::default()
            },
        }
    }

    /// A way to count a palo, leaning on one of its sets of accents.
    pub fn attested(compas: &Attested, accents: Option<&AccentSet>) -> Self {
        Self::of_round(Round {
            counts: compas.counts,
            counts_given: Given::Palo,
            first: compas.first(),
            lengths: compas.lengths.clone(),
            accents: accents.map(AccentSet::sorted).unwrap_or_default(),
            accents_given: Given::Palo,
        })
    }

    fn of_round(round: Round) -> Self {
        Self {
            free: false,
            counts: round.counts,
            first: round.first,
            accents: round.accents.clone(),
            accents_said: round.accents_given == Given::Said,
            round: Some(round),
        }
    }

    /// The count as numbered within its round: 13 of 12 is 1.
    pub fn in_round(&self, count: i64) -> i64 {
        if self.counts > 0 {
            (count - 1).rem_euclid(self.counts) + 1
        } else {
            count
        }
    }

    /// Pulses in a count; 1 where nothing is known, and where counts are even: their length makes no picture.
    pub fn length(&self, count: i64) -> i64 {
        let uneven = self.round.as_ref().filter(|_| self.is_uneven());
        uneven.map_or(1, |round| round.length_of(count)).max(1)
    }

    pub fn lengths(&self) -> Vec<i64> {
        self.round
            .as_ref()
            .map(|round| round.lengths.clone())
            .unwrap_or_default()
    }

    pub fn is_accent(&self, at: Position) -> bool {
        self.round.as_ref().is_some_and(|round| round.is_accent(at))
    }

    /// True when counts differ in length.
    pub fn is_uneven(&self) -> bool {
        self.round
            .as_ref()
            .is_some_and(|round| round.lengths.windows(2).any(|pair| pair.first() != pair.last()))
    }

    /// The counts of one round in the order they are played.
    pub fn round(&self) -> Vec<i64> {
        let first = if (1..=self.counts).contains(&self.first) {
            self.first
        } else {
            1
        };
        (first..=self.counts).chain(1..first).collect()
    }
}
