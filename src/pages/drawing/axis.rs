//! The one time axis of a drawing: counts as columns, each as wide as it is long.

use num_rational::Ratio;

use crate::music::pattern::Pattern;
use crate::music::position::Position;
use crate::pages::compas::Compas;

/// More columns than any compás needs; a slip of the pen ("count 9000") must not make a picture of 9000 columns.
const MOST_COLUMNS: usize = 96;

/// One count (or, in a free palo, one event).
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// As said: 13 for count 1 of the next twelve.
    pub count: i64,
    /// As numbered in its round: 1.
    pub in_round: i64,
    /// The number drawn: as said, but for a count that the pattern runs on into, which has its number in its round.
    pub shown: i64,
    /// Where it begins, in pulses from the start of the drawing.
    pub start: f64,
    /// In pulses.
    pub length: f64,
    /// It belongs to the round after: the pattern runs on into it.
    pub beyond: bool,
    /// A new compás begins here, inside the pattern.
    pub new_round: bool,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Axis {
    pub columns: Vec<Column>,
    /// Moments are events in order, not counts.
    pub free: bool,
}

impl Axis {
    pub fn of(pattern: &Pattern, compas: &Compas) -> Self {
        let covered = covered(pattern, compas);
        let mut counts = covered.clone();
        for at in moments(pattern) {
            if counts.len() < MOST_COLUMNS && place(&counts, compas, at.whole()).is_none() {
                counts.push(at.whole());
            }
        }
        if let Some(until) = pattern.runs_on
            && let Some(last) = covered.last()
        {
            counts.extend(
                (last + 1..=until.whole())
                    .take(12)
                    .filter(|count| !covered.contains(count)),
            );
        }
        // A round that begins on another count than 1 keeps its own order; all else stands in the order of the numbers.
        let mut more: Vec<i64> = counts.split_off(covered.len());
        more.sort_unstable();
        more.dedup();
        let before = more.partition_point(|count| covered.first().is_some_and(|first| count < first));
        let after = more.split_off(before);
        let all: Vec<i64> = more.into_iter().chain(covered.iter().copied()).chain(after).collect();
        let mut start = 0.0;
        let mut columns: Vec<Column> = Vec::new();
        for count in all {
            let length = if compas.free {
                event_length(pattern, count)
            } else {
                compas.length(count) as f64
            };
            let in_round = if compas.free { count } else { compas.in_round(count) };
            let beyond = !compas.free && !covered.contains(&count) && covered.last().is_some_and(|last| *last < count);
            columns.push(Column {
                count,
                in_round,
                shown: if beyond { in_round } else { count },
                start,
                length,
                beyond,
                new_round: !compas.free && compas.counts > 1 && !columns.is_empty() && in_round == compas.first.max(1),
            });
            start += length;
        }
        Self {
            columns,
            free: compas.free,
        }
    }

    /// The column that a moment lies in, and how far into it (0 up to 1).
    pub fn column(&self, compas: &Compas, at: Position) -> Option<(usize, f64)> {
        let counts: Vec<i64> = self.columns.iter().map(|column| column.count).collect();
        place(&counts, compas, at.whole()).map(|index| (index, ratio(at.fraction())))
    }

    /// A moment in pulses from the start of the drawing.
    pub fn pulses(&self, compas: &Compas, at: Position) -> Option<f64> {
        let (index, fraction) = self.column(compas, at)?;
        self.columns
            .get(index)
            .map(|column| column.start + fraction * column.length)
    }

    pub fn end(&self) -> f64 {
        self.columns.last().map_or(0.0, |column| column.start + column.length)
    }
}

pub fn ratio(value: Ratio<i64>) -> f64 {
    *value.numer() as f64 / (*value.denom()).max(1) as f64
}

/// The counts that the pattern says it covers, in the order played; for a free palo, its events.
fn covered(pattern: &Pattern, compas: &Compas) -> Vec<i64> {
    let Some(span) = pattern.span else { return Vec::new() };
    let whole_round = span.first == 1 && span.last == compas.counts;
    let counts: Vec<i64> = if whole_round && !compas.free {
        compas.round()
    } else if span.first <= span.last {
        (span.first..=span.last).take(MOST_COLUMNS).collect()
    } else {
        (span.first..=compas.counts.max(span.first))
            .chain(1..=span.last)
            .take(MOST_COLUMNS)
            .collect()
    };
    counts
}

fn moments(pattern: &Pattern) -> impl Iterator<Item = Position> {
    let strokes = pattern.strokes.iter().map(|stroke| stroke.at);
    let changes = pattern.changes.iter().map(|change| change.at);
    strokes.chain(changes).chain(pattern.left.iter().map(|event| event.at))
}

/// Where a count stands among the columns. In a span that goes over the end of the round, 13 of 12 may be its 1.
fn place(counts: &[i64], compas: &Compas, count: i64) -> Option<usize> {
    let exact = counts.iter().position(|known| *known == count);
    let over_the_end = counts.windows(2).any(|pair| pair.first() > pair.last());
    exact.or_else(|| {
        let in_round = compas.in_round(count);
        (over_the_end && !compas.free)
            .then(|| counts.iter().position(|known| *known == in_round))
            .flatten()
    })
}

/// How long an event of a free palo is against the others, where it is said; 1 otherwise.
fn event_length(pattern: &Pattern, event: i64) -> f64 {
    let said = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.at.whole() == event)
        .find_map(|stroke| stroke.length);
    said.map(ratio)
        .filter(|length| *length > 0.0)
        .unwrap_or(1.0)
        .clamp(0.5, 8.0)
}
