use super::touch::number;
use crate::practice::score::{Book, CountMark, PaceUnit, Pulses, Score};

/// Which claps are heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Palmas {
    None,
    Base,
    Contra,
    Both,
}

/// Where the click falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Click {
    None,
    Counts,
    Accents,
    /// Off the beat: halfway through an even count, on each further pulse of a long one.
    Between,
    /// On the first count of each compás.
    Once,
}

/// Which hands are heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hands {
    Both,
    /// The right hand on damped strings.
    Right,
    /// What the left hand puts down and slurs.
    Left,
}

/// What is heard of a score.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// In the unit of the score's pace: counts, pulses or moves a minute.
    pub per_minute: u32,
    /// Hz of A4.
    pub a4: f64,
    pub guitar: bool,
    pub golpe: bool,
    pub palmas: Palmas,
    pub click: Click,
    pub hands: Hands,
    /// How many times it is played.
    pub times: u32,
}

impl Choice {
    /// The guitar with the golpe, the base of the palmas, once, at the tempo where practice is going.
    pub fn of(score: &Score) -> Self {
        Self {
            per_minute: score.tempo.goal,
            a4: 440.0,
            guitar: true,
            golpe: true,
            palmas: Palmas::Base,
            click: Click::None,
            hands: Hands::Both,
            times: 1,
        }
    }

    pub fn seconds_per_pulse(&self) -> f64 {
        60.0 / f64::from(self.per_minute.max(1))
    }

    /// How long the score lasts so, without what rings on.
    pub fn seconds(&self, score: &Score) -> f64 {
        number(score.length) * self.seconds_per_pulse() * f64::from(self.times)
    }
}

/// A compás of more counts than this is led into by the second half of it.
const LEAD_COUNTS: usize = 8;

/// The counting that leads to the first moment of a line of a book: a compás, or the second half of a long one.
///
/// None in a free palo, which is not counted, and where the book has no such line.
pub fn count_in(book: &Book, id: &str) -> Option<Score> {
    let line = book.lines.iter().find(|line| line.id == id)?;
    let cut = line.cuts.first()?;
    let ground = book.grounds.get(book.bars.get(cut.bar)?.ground)?;
    if ground.counts.is_empty() || book.tempo.unit == PaceUnit::Move {
        return None;
    }
    let turned = |at| {
        if at >= cut.from {
            at - cut.from
        } else {
            at - cut.from + ground.length
        }
    };
    let mut counts: Vec<CountMark> = ground
        .counts
        .iter()
        .map(|mark| CountMark {
            at: turned(mark.at),
            ..mark.clone()
        })
        .collect();
    counts.sort_by_key(|mark| mark.at);
    let half = if counts.len() > LEAD_COUNTS {
        counts.len() / 2
    } else {
        0
    };
    let none = Pulses::from_integer(0);
    let skipped = counts.get(half).filter(|_| half > 0).map_or(none, |mark| mark.at);
    counts.retain(|mark| mark.at >= skipped);
    for mark in &mut counts {
        mark.at -= skipped;
    }
    Some(Score {
        length: ground.length - skipped,
        counts,
        ..Score::empty("count-in", "", book.strings, book.tempo)
    })
}
