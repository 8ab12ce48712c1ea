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
    /// Units of the score's pace (counts, pulses or moves) a minute.
    pub per_minute: u32,
    /// Pulses in one of these units.
    pub unit_pulses: i64,
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
            unit_pulses: score.tempo.unit_pulses,
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
        60.0 / (f64::from(self.per_minute.max(1)) * self.unit_pulses.max(1) as f64)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::book::{Bar, Cut, Ground, Line};
    use crate::practice::score::{Pace, PaceGiven, Strings};

    /// A book of one bar of so many even counts, and a line that begins on one of them.
    fn book(counts: i64, from: i64) -> Book {
        let whole = Pulses::from_integer;
        let mark = |count| CountMark {
            at: whole(count - 1),
            length: whole(1),
            count,
            accent: false,
            first: count == 1,
        };
        let cut = Cut {
            bar: 0,
            from: whole(from - 1),
            to: whole(counts),
        };
        Book {
            strings: Strings {
                tuning: crate::music::pitch::STANDARD_TUNING,
                capo: 0,
            },
            tempo: Pace {
                unit: PaceUnit::Count,
                unit_pulses: 1,
                start: 60,
                goal: 90,
                top: 90,
                given: PaceGiven::Said,
            },
            versions: vec!["core".to_owned()],
            grounds: vec![Ground {
                length: whole(counts),
                counts: (1..=counts).map(mark).collect(),
                accents: Vec::new(),
                palmas: Vec::new(),
            }],
            bars: vec![Bar {
                ground: 0,
                version: 0,
                after: None,
                events: Vec::new(),
                chords: Vec::new(),
                hand: [None; 6],
            }],
            lines: vec![Line {
                id: "core".to_owned(),
                title: String::new(),
                cuts: vec![cut],
            }],
        }
    }

    fn led_in(counts: i64, from: i64) -> Vec<i64> {
        let lead = count_in(&book(counts, from), "core");
        lead.map(|lead| lead.counts.iter().map(|mark| mark.count).collect())
            .unwrap_or_default()
    }

    #[test]
    fn the_count_of_entry_leads_to_the_first_count_played() {
        assert_eq!(led_in(4, 1), [1, 2, 3, 4]);
        assert_eq!(led_in(4, 3), [3, 4, 1, 2]);
        assert_eq!(led_in(12, 1), [7, 8, 9, 10, 11, 12], "half a long compás is enough");
        assert_eq!(led_in(12, 10), [4, 5, 6, 7, 8, 9]);
        assert!(count_in(&book(4, 1), "nowhere").is_none());
    }

    #[test]
    fn a_tempo_counts_units_and_a_unit_may_be_several_pulses() {
        let score = Score::empty("core", "", book(4, 1).strings, book(4, 1).tempo);
        let choice = Choice {
            unit_pulses: 2,
            per_minute: 60,
            ..Choice::of(&score)
        };
        assert!((choice.seconds_per_pulse() - 0.5).abs() < 1e-12);
    }
}
