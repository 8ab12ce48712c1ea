//! Which counts stand on one line: a drawing breaks like text, always between counts.

use std::ops::Range;

use super::axis::Axis;

/// Something that needs room to its right: where it begins, in pulses, and the room in units of the drawing.
#[derive(Debug, Clone, Copy)]
pub struct Need {
    pub start: f64,
    pub room: f64,
    /// Where the next thing in the same row begins, or the end of the axis.
    pub next: f64,
}

/// Columns on each line, and the width of a pulse, the same on all lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Systems {
    pub lines: Vec<Range<usize>>,
    pub pulse: f64,
}

/// The widest a pulse is drawn: two counts of a variation need not fill the page.
const WIDEST: f64 = 112.0;

pub fn systems(axis: &Axis, needs: &[Need], inner: f64) -> Systems {
    let least = needs
        .iter()
        .filter(|need| need.next > need.start)
        .map(|need| need.room / (need.next - need.start))
        .fold(14.0, f64::max);
    let longest = axis.columns.iter().map(|column| column.length).fold(1.0, f64::max);
    // A single count must always fit on a line, however much is in it.
    let least = least.min(inner / longest);
    let lines = break_lines(axis, inner / least);
    let widest_line = lines.iter().map(|line| pulses(axis, line)).fold(1.0, f64::max);
    let shortest = axis
        .columns
        .iter()
        .map(|column| column.length)
        .fold(f64::INFINITY, f64::min);
    let pulse = (inner / widest_line).min((WIDEST / shortest.max(1.0)).max(least));
    Systems { lines, pulse }
}

fn pulses(axis: &Axis, line: &Range<usize>) -> f64 {
    axis.columns
        .get(line.clone())
        .map_or(0.0, |columns| columns.iter().map(|column| column.length).sum())
}

/// Breaks into lines of at most `most` pulses: even shares first (twelve as 6+6 or 3+3+3+3), then as full as they go.
fn break_lines(axis: &Axis, most: f64) -> Vec<Range<usize>> {
    let count = axis.columns.len();
    if count == 0 {
        return Vec::new();
    }
    let threes = count.is_multiple_of(6);
    let shares = (1..=count).rev().filter(|share| count.is_multiple_of(*share));
    let shares = shares.filter(|share| !threes || share.is_multiple_of(3) || *share < 3);
    let fits = |share: &usize| {
        (0..count)
            .step_by(*share)
            .all(|at| pulses(axis, &(at..at + share)) <= most + 1e-6)
    };
    let even = shares.clone().find(fits);
    let full = fill(axis, most);
    match even {
        Some(share) if count / share <= full.len() + usize::from(full.len() > 1) => {
            (0..count).step_by(share).map(|at| at..at + share).collect()
        }
        _ => full,
    }
}

/// As few lines as will do, none much shorter than the others.
fn fill(axis: &Axis, most: f64) -> Vec<Range<usize>> {
    let greedy = |limit: f64| {
        let mut lines: Vec<Range<usize>> = Vec::new();
        let mut at = 0;
        let mut length = 0.0;
        for (index, column) in axis.columns.iter().enumerate() {
            if index > at && length + column.length > limit + 1e-6 {
                lines.push(at..index);
                at = index;
                length = 0.0;
            }
            length += column.length;
        }
        lines.push(at..axis.columns.len());
        lines
    };
    let fewest = greedy(most).len();
    let mut limit = axis.end() / fewest as f64;
    while greedy(limit).len() > fewest && limit < most {
        limit += 0.5;
    }
    greedy(limit.min(most))
}
