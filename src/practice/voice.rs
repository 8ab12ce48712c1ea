//! A pattern in its place in a vuelta: its strokes, chords and left-hand events, each at its moment in pulses.

use super::hands::InForce;
use super::score::{Drawn, Pulses};
use super::turn::Turn;
use super::versions::Placed;
use super::words::Words;
use crate::music::chord::ChordName;
use crate::music::left_hand::LeftEvent;
use crate::music::lesson::Lesson;
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::music::stroke::Stroke;

/// A pattern in its place.
pub struct Voice<'a> {
    lesson: &'a Lesson,
    pattern: &'a Pattern,
    drawn: (usize, usize),
    span: CountSpan,
    turn: Option<&'a Turn>,
}

/// A stroke at its moment.
#[derive(Clone)]
pub struct Laid<'a> {
    pub at: Pulses,
    pub stroke: &'a Stroke,
    pub drawn: Drawn,
    /// Pulses in its count.
    pub count: Pulses,
    /// The compás leans on it.
    pub accent: bool,
    /// Pulses from the stroke to where it arrives, where said.
    pub arrival: Option<Pulses>,
}

/// A chord at its moment.
#[derive(Clone)]
pub struct Change {
    pub at: Pulses,
    pub to: InForce,
}

impl<'a> Voice<'a> {
    /// A pattern of the lesson that a version stands in, in that version's vuelta.
    pub fn of(lessons: &[&'a Lesson], placed: &'a Placed, pattern: usize) -> Option<Voice<'a>> {
        let lesson = *lessons.get(placed.version.lesson)?;
        let found = lesson.patterns.get(pattern)?;
        let turn = placed.turn.as_ref();
        let earliest = found.strokes.iter().map(|stroke| stroke.at.whole()).min();
        let whole = match turn {
            Some(turn) => CountSpan {
                first: turn.first,
                last: turn.label(turn.counts - 1),
            },
            None => CountSpan {
                first: earliest.unwrap_or(1),
                last: earliest.unwrap_or(1),
            },
        };
        Some(Voice {
            lesson,
            pattern: found,
            drawn: (placed.version.lesson, pattern),
            span: found.span.unwrap_or(whole),
            turn,
        })
    }

    fn at(&self, moment: Position) -> Pulses {
        match self.turn {
            Some(turn) if self.pattern.role == Role::Core => turn.of_core(self.span, moment),
            Some(turn) => turn.of_pattern(self.span, moment),
            None => moment.0 - Pulses::from_integer(self.span.first),
        }
    }

    /// Sorted by moment.
    pub fn strokes(&self) -> Vec<Laid<'a>> {
        let laid = |(index, stroke): (usize, &'a Stroke)| {
            let at = self.at(stroke.at);
            let round = self.turn.map(|turn| &turn.round);
            let length = round.map_or(1, |round| round.length_of(stroke.at.whole()));
            Laid {
                at,
                stroke,
                drawn: Drawn {
                    lesson: self.drawn.0,
                    pattern: self.drawn.1,
                    stroke: index,
                    at: stroke.at,
                },
                count: Pulses::from_integer(length),
                accent: round.is_some_and(|round| round.is_accent(stroke.at)),
                arrival: stroke.arrival.map(|arrival| self.at(arrival) - at),
            }
        };
        let mut strokes: Vec<Laid<'a>> = self.pattern.strokes.iter().enumerate().map(laid).collect();
        strokes.sort_by_key(|laid| laid.at);
        strokes
    }

    /// Sorted by moment.
    pub fn changes(&self) -> Vec<Change> {
        let change = |change: &crate::music::left_hand::Change| Change {
            at: self.at(change.at),
            to: InForce {
                name: change.chord.clone(),
                shape: self.shape(&change.chord),
                because: None,
            },
        };
        let mut changes: Vec<Change> = self.pattern.changes.iter().map(change).collect();
        changes.sort_by_key(|change| change.at);
        changes
    }

    fn shape(&self, name: &ChordName) -> Option<crate::music::chord::ChordShape> {
        let chords = self.lesson.chords.iter().filter(|chord| chord.name == *name);
        chords.filter_map(|chord| chord.shape).next()
    }

    /// Sorted by moment.
    pub fn lefts(&self) -> Vec<(Pulses, &'a LeftEvent)> {
        let mut lefts: Vec<(Pulses, &LeftEvent)> = self
            .pattern
            .left
            .iter()
            .map(|event| (self.at(event.at), event))
            .collect();
        lefts.sort_by_key(|(at, _)| *at);
        lefts
    }
}

impl Change {
    /// The same chord at a moment at which nobody says it.
    pub fn carried(&self, at: Pulses, words: Words, why: &str) -> Change {
        let name = self.to.name.to_string();
        Change {
            at,
            to: InForce {
                because: Some(words.say(why, &[("chord", &name)])),
                ..self.to.clone()
            },
        }
    }
}
