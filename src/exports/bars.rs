//! Where bar lines fall: at the start of a compás and of each passage, never guessed.
//!
//! Even counts are quarter notes. Uneven counts are made of eighths: a siguiriya is 2+2+3+3+2 of them.

use crate::practice::score::{CountMark, PaceUnit, Pulses, Score};

/// From one bar line to the next.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Measure {
    pub from: Pulses,
    pub to: Pulses,
    pub counts: Vec<CountMark>,
    /// What begins here, where a passage of the score does.
    pub name: Option<String>,
}

/// The metre of a bar: its parts (one where nothing tells them apart) and the note value that they count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Metre {
    pub parts: Vec<i64>,
    pub value: i64,
}

/// Pulses in a quarter note.
pub(super) fn pulses_in_quarter(score: &Score) -> i64 {
    let uneven = score.counts.iter().any(|mark| mark.length != Pulses::from_integer(1));
    if uneven && score.tempo.unit != PaceUnit::Move {
        2
    } else {
        1
    }
}

pub(super) fn measures(score: &Score) -> Vec<Measure> {
    let passages = score.passages.iter().flat_map(|passage| [passage.from, passage.to]);
    let rounds = score.counts.iter().filter(|mark| mark.first).map(|mark| mark.at);
    let mut lines: Vec<Pulses> = passages.chain(rounds).chain([score.length]).collect();
    lines.sort_unstable();
    lines.dedup();
    let measure = |pair: &[Pulses]| match pair {
        [from, to] => Some(Measure {
            from: *from,
            to: *to,
            counts: score
                .counts
                .iter()
                .filter(|mark| mark.at >= *from && mark.at < *to)
                .cloned()
                .collect(),
            name: score
                .passages
                .iter()
                .find(|passage| passage.from == *from)
                .map(|passage| passage.name.clone()),
        }),
        _ => None,
    };
    lines.windows(2).filter_map(measure).collect()
}

impl Measure {
    pub fn length(&self) -> Pulses {
        self.to - self.from
    }

    /// None where nothing is counted, and where no note value measures the bar.
    pub fn metre(&self, pulses_in_quarter: i64) -> Option<Metre> {
        if self.counts.is_empty() {
            return None;
        }
        let length = self.length();
        let value = 4 * pulses_in_quarter * length.denom();
        let whole: Pulses = self.counts.iter().map(|mark| mark.length).sum();
        let uneven = self.counts.windows(2).any(|pair| match pair {
            [one, other] => one.length != other.length,
            _ => false,
        });
        let integral = self.counts.iter().all(|mark| mark.length.is_integer());
        let parts = if uneven && integral && whole == length {
            self.counts.iter().map(|mark| mark.length.to_integer()).collect()
        } else {
            vec![*length.numer()]
        };
        (value.count_ones() == 1 && value <= 64).then_some(Metre { parts, value })
    }
}
