//! The compás that a lesson turns in, and where its moments fall: what the lesson says, and the palo where it is silent.
//!
//! Time is counted in *pulses*. Where counts are even a count is one pulse; a siguiriya's counts are 2 2 3 3 2.

use num_rational::Ratio;

use super::lesson::Lesson;
use super::palo::{Compas, Palo, PaloTable, TempoUnit};
use super::pattern::{CountSpan, Pattern, Role};
use super::position::Position;

/// An exact time or length in pulses.
pub type Pulses = Ratio<i64>;

/// Who says a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Given {
    /// The lesson.
    Said,
    /// The palo's table, where the lesson is silent.
    Palo,
    /// Nobody; told from what the core covers.
    Core,
}

/// One time through the compás, as this lesson counts it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    pub counts: i64,
    pub counts_given: Given,
    /// The count that a round begins on.
    pub first: i64,
    /// Pulses in each count, from count 1 on.
    pub lengths: Vec<i64>,
    /// Accented moments, sorted; empty when neither the lesson nor its palo has any.
    pub accents: Vec<Position>,
    pub accents_given: Given,
}

/// How fast, a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    pub low: u32,
    pub high: u32,
    pub per: TempoUnit,
    pub given: Given,
}

/// No compás is longer: what is read of a slip of the pen must not fill the memory.
const MOST_COUNTS: i64 = 10_000;

/// The palo that a lesson names, if the table knows it.
pub fn palo_of<'a>(lesson: &Lesson, palos: &'a PaloTable) -> Option<&'a Palo> {
    lesson.palo.as_ref().and_then(|said| palos.find(&said.value))
}

impl Round {
    /// The compás of a lesson. None for a free palo that the lesson does not count either, and where nothing tells.
    pub fn of(lesson: &Lesson, palos: &PaloTable) -> Option<Round> {
        let palo = palo_of(lesson, palos);
        let said = lesson
            .meter
            .beats
            .as_ref()
            .map(|beats| beats.value)
            .filter(|beats| (1..=64).contains(beats));
        let usual = palo.and_then(Palo::usual).map(|compas| compas.counts);
        let (counts, counts_given) = match (said, usual) {
            (Some(counts), _) => (counts, Given::Said),
            (None, Some(counts)) => (counts, Given::Palo),
            (None, None) if palo.is_some_and(|palo| palo.free) => return None,
            (None, None) => (counts_of_core(lesson)?.clamp(1, MOST_COUNTS), Given::Core),
        };
        let known = palo.and_then(|palo| fitting(palo, counts, lesson));
        let first = first_count(lesson, counts).or(known.map(Compas::first)).unwrap_or(1);
        let said_accents: Vec<Position> = lesson.meter.accents.iter().map(|said| said.value).collect();
        let (mut accents, accents_given) = if said_accents.is_empty() {
            let usual = known.and_then(|compas| compas.accents.first());
            (usual.map(|set| set.at.clone()).unwrap_or_default(), Given::Palo)
        } else {
            (said_accents, Given::Said)
        };
        accents.sort();
        Some(Round {
            counts,
            counts_given,
            first,
            lengths: lengths(lesson, counts, known),
            accents,
            accents_given,
        })
    }

    /// A stand-in for a lesson without a compás: its moments in order, a pulse each, long enough for all of them.
    pub fn uncounted(lesson: &Lesson) -> Round {
        let strokes = lesson.patterns.iter().flat_map(|pattern| &pattern.strokes);
        let counts = strokes
            .map(|stroke| stroke.at.whole())
            .max()
            .unwrap_or(1)
            .clamp(1, MOST_COUNTS)
            + 1;
        Round {
            counts,
            counts_given: Given::Core,
            first: 1,
            lengths: (0..counts).map(|_| 1).collect(),
            accents: Vec::new(),
            accents_given: Given::Core,
        }
    }

    /// Pulses in one round.
    pub fn pulses(&self) -> Pulses {
        Ratio::from_integer(self.lengths.iter().sum())
    }

    /// Pulses in a count; counts past the compás go on in the next round.
    pub fn length_of(&self, count: i64) -> i64 {
        let index = (count - 1).rem_euclid(self.counts.max(1));
        usize::try_from(index)
            .ok()
            .and_then(|index| self.lengths.get(index))
            .copied()
            .unwrap_or(1)
    }

    pub fn is_even(&self) -> bool {
        self.lengths.iter().all(|length| *length == 1)
    }

    /// How many counts a walk from count `from` to count `to` takes, going forward only: from 12 to 2 of twelve is 2,
    /// from 1 to 13 is 12.
    pub fn steps(&self, from: i64, to: i64) -> i64 {
        if to >= from {
            to - from
        } else {
            (to - from).rem_euclid(self.counts.max(1))
        }
    }

    /// Pulses from the start of count `from` to a moment after it, going forward only.
    pub fn after(&self, from: i64, to: Position) -> Pulses {
        let steps = self.steps(from, to.whole());
        let rounds = self.pulses() * Ratio::from_integer(steps / self.counts.max(1));
        let rest = steps % self.counts.max(1);
        let whole: i64 = (0..rest).map(|step| self.length_of(from + step)).sum();
        rounds + Ratio::from_integer(whole) + to.fraction() * Ratio::from_integer(self.length_of(to.whole()))
    }

    /// Pulses from the start of a round to a moment in it.
    pub fn into_round(&self, moment: Position) -> Pulses {
        self.after(self.first, moment)
    }

    /// Counts in a span, its first and last count included; `[12, 11]` of twelve is twelve.
    pub fn counts_in(&self, span: CountSpan) -> i64 {
        self.steps(span.first, span.last) + 1
    }

    /// Pulses in a span.
    pub fn pulses_in(&self, span: CountSpan) -> Pulses {
        self.after(span.first, Position::count(span.last)) + Ratio::from_integer(self.length_of(span.last))
    }

    /// True when the moment lies on a count of the span (or between it and the next).
    pub fn holds(&self, span: CountSpan, moment: Position) -> bool {
        self.steps(span.first, moment.whole()) < self.counts_in(span)
    }

    /// True when the compás leans on this moment; moments past the compás are those of the next round.
    pub fn is_accent(&self, moment: Position) -> bool {
        let whole = (moment.whole() - 1).rem_euclid(self.counts.max(1)) + 1;
        let folded = Position(Ratio::from_integer(whole) + moment.fraction());
        self.accents.contains(&folded)
    }
}

impl Pace {
    /// The tempo of a lesson, or its palo's usual one for this way of counting. None where nobody says one.
    pub fn of(lesson: &Lesson, round: &Round, palos: &PaloTable) -> Option<Pace> {
        if let Some(said) = &lesson.tempo {
            // Counts of unequal length have no counts a minute: a figure said for them is pulses.
            let per = if even_lengths(round) {
                TempoUnit::Count
            } else {
                TempoUnit::Pulse
            };
            let (low, high) = (said.value.low.max(1), said.value.high.max(1));
            return Some(Pace {
                low,
                high,
                per,
                given: Given::Said,
            });
        }
        let range = palo_of(lesson, palos)?.tempo_counted_in(round.counts).next()?;
        Some(Pace {
            low: range.low,
            high: range.high,
            per: range.per,
            given: Given::Palo,
        })
    }

    /// Pulses a minute at the top of the range.
    pub fn top(&self, round: &Round) -> Pulses {
        self.pulses_a_minute(self.high, round)
    }

    /// Pulses a minute at the bottom of the range.
    pub fn bottom(&self, round: &Round) -> Pulses {
        self.pulses_a_minute(self.low, round)
    }

    fn pulses_a_minute(&self, figure: u32, round: &Round) -> Pulses {
        let figure = Ratio::from_integer(i64::from(figure));
        match self.per {
            TempoUnit::Pulse => figure,
            TempoUnit::Count => figure * Ratio::from_integer(round.length_of(1)),
        }
    }
}

/// How long a stretch of pulses lasts, in milliseconds, at so many pulses a minute.
pub fn millis(stretch: Pulses, pulses_a_minute: Pulses) -> Ratio<i64> {
    if pulses_a_minute <= Ratio::from_integer(0) {
        return Ratio::from_integer(0);
    }
    stretch * Ratio::from_integer(60_000) / pulses_a_minute
}

/// The core pattern of a lesson, or the only pattern that covers a span.
pub fn core(lesson: &Lesson) -> Option<&Pattern> {
    lesson.patterns.iter().find(|pattern| pattern.role == Role::Core)
}

fn even_lengths(round: &Round) -> bool {
    round.lengths.windows(2).all(|pair| pair.first() == pair.last())
}

fn counts_of_core(lesson: &Lesson) -> Option<i64> {
    let span = core(lesson)?.span?;
    (span.last >= span.first).then(|| span.last - span.first + 1)
}

/// The way of counting the palo that fits what the lesson says best: its accents, then its first count.
fn fitting<'a>(palo: &'a Palo, counts: i64, lesson: &Lesson) -> Option<&'a Compas> {
    let accents: Vec<Position> = lesson.meter.accents.iter().map(|said| said.value).collect();
    let first = first_count(lesson, counts);
    let fit = |compas: &&Compas| {
        let leans = !accents.is_empty() && compas.holds_accents(&accents);
        let begins = first.is_some_and(|first| compas.starts.iter().any(|start| start.count == first));
        // Of equals the first of the file, the usual one: `max_by_key` takes the last, so go backwards.
        (leans, begins)
    };
    let ways: Vec<&Compas> = palo.counted_in(counts).collect();
    ways.into_iter().rev().max_by_key(fit)
}

/// The count that a round begins on, as far as the lesson tells.
fn first_count(lesson: &Lesson, counts: i64) -> Option<i64> {
    if let Some(said) = &lesson.meter.first {
        return Some(said.value);
    }
    let span = core(lesson)?.span?;
    let whole = span.last == span.first - 1 || span.last - span.first + 1 == counts;
    (whole && (1..=counts).contains(&span.first)).then_some(span.first)
}

fn lengths(lesson: &Lesson, counts: i64, known: Option<&Compas>) -> Vec<i64> {
    let said = lesson.meter.lengths.as_ref().map(|said| &said.value);
    let fits = |lengths: &&Vec<i64>| {
        i64::try_from(lengths.len()) == Ok(counts) && lengths.iter().all(|length| (1..=16).contains(length))
    };
    let uneven = known
        .map(|compas| &compas.lengths)
        .filter(|_| !lesson_says_even(lesson));
    said.filter(fits)
        .or(uneven)
        .filter(fits)
        .cloned()
        .unwrap_or_else(|| (0..counts.min(MOST_COUNTS)).map(|_| 1).collect())
}

/// A lesson that gives lengths which do not fit has its own idea of the counts; the palo's are not forced on it.
fn lesson_says_even(lesson: &Lesson) -> bool {
    let lengths = lesson.meter.lengths.as_ref().map(|said| said.value.as_slice());
    lengths.is_some_and(|lengths| lengths.windows(2).all(|pair| pair.first() == pair.last()))
}

#[cfg(test)]
mod tests;
