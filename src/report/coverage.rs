use std::collections::BTreeSet;

use serde::Serialize;

use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::pattern::{Pattern, Role};
use crate::music::round::{Given, Round};
use crate::music::stroke::Action;

/// Which counts of the compás a lesson fills.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Coverage {
    /// No count to fill: a free palo, or nothing tells the compás.
    pub uncounted: bool,
    /// The counts of a round, from the one it begins on.
    pub counts: Vec<Counted>,
    /// The compás is the palo's: the lesson does not say it.
    pub of_palo: bool,
    pub rows: Vec<Row>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Counted {
    pub count: i64,
    pub accent: bool,
}

/// One time through the compás of one pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    pub name: String,
    pub cells: Vec<Cell>,
    /// Counts for which nothing is said: neither a stroke, nor silence, nor the core's.
    pub open: Vec<i64>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    pub count: i64,
    pub state: CellState,
    pub strokes: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CellState {
    Struck,
    Silent,
    /// As the core has it.
    Core,
    /// Nothing is said.
    Open,
}

pub(super) fn coverage(lesson: &Lesson, palos: &PaloTable) -> Coverage {
    let Some(round) = Round::of(lesson, palos) else {
        return Coverage {
            uncounted: true,
            ..Coverage::default()
        };
    };
    let order: Vec<i64> = (round.first..=round.counts).chain(1..round.first).collect();
    let accents: BTreeSet<i64> = round.accents.iter().map(|accent| accent.whole()).collect();
    let counted = |count: &i64| Counted {
        count: *count,
        accent: accents.contains(count),
    };
    Coverage {
        uncounted: false,
        counts: order.iter().map(counted).collect(),
        of_palo: round.counts_given == Given::Palo,
        rows: lesson
            .patterns
            .iter()
            .flat_map(|pattern| rows(pattern, &round, &order))
            .collect(),
    }
}

/// A core of several compases has a row for each; what a pattern gives past its last count belongs to the next round.
fn rows(pattern: &Pattern, round: &Round, order: &[i64]) -> Vec<Row> {
    let counts = round.counts.max(1);
    let span = pattern.span.filter(|span| span.first <= span.last);
    let last = span.map_or(counts, |span| span.last);
    let compases = ((last - 1).div_euclid(counts) + 1).clamp(1, 16);
    let first = if pattern.role == Role::Core {
        0
    } else {
        span.map_or(0, |span| (span.first - 1).div_euclid(counts).max(0))
    };
    (first..compases)
        .map(|compas| {
            let cells: Vec<Cell> = order
                .iter()
                .map(|count| cell(pattern, *count + compas * counts, *count))
                .collect();
            let open = cells.iter().filter(|cell| cell.state == CellState::Open);
            let name = if compases > 1 && pattern.role == Role::Core {
                format!("{} ({})", pattern.name, compas + 1)
            } else {
                pattern.name.clone()
            };
            Row {
                name,
                open: open.map(|cell| cell.count).collect(),
                cells,
            }
        })
        .collect()
}

fn cell(pattern: &Pattern, told_as: i64, count: i64) -> Cell {
    let here = || pattern.strokes.iter().filter(|stroke| stroke.at.whole() == told_as);
    let strokes = here().filter(|stroke| stroke.action != Action::Rest).count();
    let replaced = pattern.span.is_none_or(|span| {
        if span.first <= span.last {
            (span.first..=span.last).contains(&told_as)
        } else {
            told_as >= span.first || told_as <= span.last
        }
    });
    let state = if strokes > 0 {
        CellState::Struck
    } else if here().count() > 0 {
        CellState::Silent
    } else if pattern.role != Role::Core && !replaced {
        CellState::Core
    } else {
        CellState::Open
    };
    Cell { count, state, strokes }
}
