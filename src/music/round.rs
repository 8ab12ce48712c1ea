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
            (None, None) => (counts_of_core(lesson)?, Given::Core),
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
        .unwrap_or_else(|| (0..counts.min(10_000)).map(|_| 1).collect())
}

/// A lesson that gives lengths which do not fit has its own idea of the counts; the palo's are not forced on it.
fn lesson_says_even(lesson: &Lesson) -> bool {
    let lengths = lesson.meter.lengths.as_ref().map(|said| said.value.as_slice());
    lengths.is_some_and(|lengths| lengths.windows(2).all(|pair| pair.first() == pair.last()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::key::Tempo;
    use crate::music::lesson::Said;
    use crate::text::Place;

    fn lesson(palo: &str, beats: Option<i64>) -> Lesson {
        let place = Place::default();
        let mut lesson = Lesson {
            palo: Some(Said::new(palo.to_owned(), place)),
            ..Lesson::default()
        };
        lesson.meter.beats = beats.map(|beats| Said::new(beats, place));
        lesson
    }

    fn round(palo: &str, beats: Option<i64>) -> Round {
        Round::of(&lesson(palo, beats), PaloTable::ours()).expect("a compás")
    }

    fn at(text: &str) -> Position {
        Position::parse(text).expect("a position")
    }

    #[test]
    fn where_moments_fall() {
        // palo, counts said, moment, pulses into the round
        let table = [
            ("solea", None, "1", (0, 1)),
            ("solea", None, "4+1/2", (7, 2)),
            ("solea", None, "13", (12, 1)),
            ("buleria", None, "12", (0, 1)),
            ("buleria", None, "1", (1, 1)),
            ("buleria", None, "11+1/2", (23, 2)),
            ("siguiriya", Some(5), "3", (4, 1)),
            ("siguiriya", Some(5), "3+2/3", (6, 1)),
            ("siguiriya", Some(5), "5+1/2", (11, 1)),
            ("siguiriya", Some(5), "6", (12, 1)),
            ("siguiriya", Some(5), "8", (16, 1)),
            ("siguiriya", Some(12), "11", (10, 1)),
            ("tangos", Some(8), "8+1/2", (15, 2)),
        ];
        for (palo, counts, moment, (over, under)) in table {
            let pulses = round(palo, counts).into_round(at(moment));
            assert_eq!(pulses, Ratio::new(over, under), "{palo} {counts:?} {moment}");
        }
    }

    #[test]
    fn spans_wrap_where_a_round_begins_on_twelve() {
        let buleria = round("buleria", None);
        let whole = CountSpan { first: 12, last: 11 };
        let turn = CountSpan { first: 11, last: 1 };
        assert_eq!((buleria.counts_in(whole), buleria.counts_in(turn)), (12, 3));
        assert!(buleria.holds(turn, at("12+1/2")) && buleria.holds(turn, at("1")) && !buleria.holds(turn, at("2")));
    }

    #[test]
    fn pulses_of_a_round_are_those_of_its_counts() {
        for palo in crate::music::palo::table() {
            for compas in &palo.compas {
                let round = round(&palo.slug, Some(compas.counts));
                let span = CountSpan {
                    first: 1,
                    last: round.counts,
                };
                assert_eq!(
                    round.pulses_in(span),
                    round.pulses(),
                    "{} in {}",
                    palo.slug,
                    compas.counts
                );
            }
        }
    }

    #[test]
    fn a_free_palo_has_no_round_unless_the_lesson_counts() {
        assert_eq!(Round::of(&lesson("taranta", None), PaloTable::ours()), None);
        assert_eq!(round("malaguena", Some(3)).counts, 3);
    }

    #[test]
    fn the_way_of_counting_is_the_one_whose_accents_the_lesson_says() {
        let mut eight = lesson("siguiriya", Some(12));
        let place = Place::default();
        eight.meter.accents = [8, 10, 12, 3, 6]
            .map(|count| Said::new(Position::count(count), place))
            .to_vec();
        assert_eq!(Round::of(&eight, PaloTable::ours()).map(|round| round.first), Some(8));
        assert_eq!(round("siguiriya", Some(12)).first, 1);
    }

    #[test]
    fn seconds_of_a_compas_are_as_published() {
        // Seconds per twelve-beat compás = 720 / BPM, computed: 60 -> 12, 90 -> 8, 120 -> 6, 240 -> 3.
        for (tempo, seconds) in [(60, 12), (90, 8), (120, 6), (240, 3)] {
            let mut solea = lesson("solea", None);
            solea.tempo = Some(Said::new(
                Tempo {
                    low: tempo,
                    high: tempo,
                },
                Place::default(),
            ));
            let round = Round::of(&solea, PaloTable::ours()).expect("a compás");
            let pace = Pace::of(&solea, &round, PaloTable::ours()).expect("a tempo");
            assert_eq!(
                millis(round.pulses(), pace.top(&round)),
                Ratio::from_integer(seconds * 1000)
            );
        }
    }

    #[test]
    fn a_tempo_that_is_not_said_is_the_palos() {
        let siguiriya = lesson("siguiriya", None);
        let round = Round::of(&siguiriya, PaloTable::ours()).expect("a compás");
        let pace = Pace::of(&siguiriya, &round, PaloTable::ours()).expect("a tempo");
        assert_eq!((pace.per, pace.given), (TempoUnit::Pulse, Given::Palo));
    }
}
