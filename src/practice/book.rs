//! Many scores of the same vueltas, kept small: each vuelta is written once as a [`Bar`], and a score is a list of
//! [`Cut`]s of bars, laid end to end by [`Book::score`].

use serde::{Deserialize, Serialize};

use super::score::{ChordMark, Clap, CountMark, Event, Kind, Pace, Passage, Pulses, Score, Strings};
use crate::music::hand::Fret;

/// Many scores made of the same vueltas, kept small.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Book {
    pub strings: Strings,
    pub tempo: Pace,
    /// Names of the versions, in the order of the lessons.
    pub versions: Vec<String>,
    /// The ways of counting that the bars refer to.
    pub grounds: Vec<Ground>,
    pub bars: Vec<Bar>,
    pub lines: Vec<Line>,
}

/// What stands under a bar: the count, the accents, the palmas, once round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ground {
    pub length: Pulses,
    pub counts: Vec<CountMark>,
    pub accents: Vec<Pulses>,
    pub palmas: Vec<Clap>,
}

/// One vuelta of one version (or a phrase of a free palo), as it is played after what came before it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bar {
    pub ground: usize,
    pub version: usize,
    /// The version before it, where that one runs on into this bar and so changes it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub after: Option<usize>,
    pub events: Vec<Event>,
    pub chords: Vec<ChordMark>,
    /// What the left hand holds at the bar's first moment; null throughout when it is not known.
    pub hand: [Option<Fret>; 6],
}

/// A score, written as the bars it consists of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Line {
    pub id: String,
    pub title: String,
    pub cuts: Vec<Cut>,
}

/// A bar, or a part of one: what happens from `from` on and before `to`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cut {
    pub bar: usize,
    pub from: Pulses,
    pub to: Pulses,
}

impl Book {
    /// A score of the book, laid out. None when there is no line of that id, or it names a bar that is not there.
    pub fn score(&self, id: &str) -> Option<Score> {
        self.lay_out(self.lines.iter().find(|line| line.id == id)?)
    }

    /// A line of this book's bars, laid out. None when it names a bar that is not there.
    pub fn lay_out(&self, line: &Line) -> Option<Score> {
        let mut score = Score::empty(&line.id, &line.title, self.strings, self.tempo);
        for cut in &line.cuts {
            self.lay(&mut score, cut)?;
        }
        Some(score)
    }

    fn lay(&self, score: &mut Score, cut: &Cut) -> Option<()> {
        let bar = self.bars.get(cut.bar)?;
        let ground = self.grounds.get(bar.ground)?;
        let inside = |at: Pulses| at >= cut.from && at < cut.to;
        let shift = score.length - cut.from;
        score.counts.extend(
            ground
                .counts
                .iter()
                .filter(|mark| inside(mark.at))
                .map(|mark| CountMark {
                    at: mark.at + shift,
                    ..mark.clone()
                }),
        );
        let accents = ground.accents.iter().copied().filter(|at| inside(*at));
        score.accents.extend(accents.map(|at| at + shift));
        score
            .palmas
            .extend(ground.palmas.iter().filter(|clap| inside(clap.at)).map(|clap| Clap {
                at: clap.at + shift,
                ..clap.clone()
            }));
        score
            .chords
            .extend(bar.chords_in(cut).into_iter().map(|chord| ChordMark {
                at: chord.at + shift,
                ..chord
            }));
        score.events.push(Event::hand_only(score.length, bar.hand_at(cut.from)));
        let already_there = |event: &&Event| event.kind == Kind::Hand && event.at == cut.from;
        for event in bar.events.iter().filter(|event| inside(event.at)) {
            if already_there(&event) {
                continue;
            }
            score.events.push(Event {
                at: event.at + shift,
                length: event.length.min(cut.to - event.at),
                ..event.clone()
            });
        }
        let name = self.versions.get(bar.version).cloned().unwrap_or_default();
        let end = cut.to + shift;
        score.passages.push(Passage {
            from: score.length,
            to: end,
            version: bar.version,
            name,
        });
        score.length = end;
        Some(())
    }
}

impl Bar {
    /// The chords of a part of the bar, the one in force at its start first.
    fn chords_in(&self, cut: &Cut) -> Vec<ChordMark> {
        let before = self.chords.iter().rfind(|chord| chord.at <= cut.from);
        let start = before.map(|chord| ChordMark {
            at: cut.from,
            ..chord.clone()
        });
        let later = self
            .chords
            .iter()
            .filter(|chord| chord.at > cut.from && chord.at < cut.to);
        start.into_iter().chain(later.cloned()).collect()
    }

    /// What the left hand holds just at a moment of the bar.
    pub fn hand_at(&self, at: Pulses) -> [Option<Fret>; 6] {
        let before = self.events.iter().filter(|event| event.at <= at);
        before.filter_map(|event| event.hand).next_back().unwrap_or(self.hand)
    }
}
