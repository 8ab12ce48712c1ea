//! What is to be drawn, gathered by moment, before any line is.

use crate::music::chord::{Chord, ChordName, ChordShape};
use crate::music::hand::Finger;
use crate::music::left_hand::{Change, LeftEvent};
use crate::music::pattern::Pattern;
use crate::music::pitch::STANDARD_TUNING;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::pages::compas::Compas;
use crate::pages::labels::Labels;

use super::axis::Axis;

/// All that happens at one moment.
#[derive(Debug)]
pub struct Moment<'a> {
    pub at: Position,
    /// In pulses from the start of the drawing.
    pub pulses: f64,
    /// With the stroke's index in the pattern.
    pub strokes: Vec<(usize, &'a Stroke)>,
    pub change: Option<&'a Change>,
    pub left: Vec<&'a LeftEvent>,
}

/// A pattern ready to be drawn.
#[derive(Debug)]
pub struct Scene<'a> {
    pub pattern: &'a Pattern,
    pub compas: &'a Compas,
    pub chords: &'a [Chord],
    /// Open strings, string 1 to string 6, as MIDI numbers.
    pub tuning: [u8; 6],
    pub labels: &'a Labels,
    pub axis: Axis,
    /// In the order of time.
    pub moments: Vec<Moment<'a>>,
}

/// A fret on a string: as said, or worked out from what was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnownFret {
    Said(u8),
    WorkedOut(u8),
    Open,
}

impl<'a> Scene<'a> {
    pub fn new(
        pattern: &'a Pattern,
        compas: &'a Compas,
        lesson: &'a crate::music::lesson::Lesson,
        labels: &'a Labels,
    ) -> Self {
        let axis = Axis::of(pattern, compas);
        let mut scene = Self {
            pattern,
            compas,
            chords: &lesson.chords,
            tuning: lesson.tuning.as_ref().map_or(STANDARD_TUNING, |tuning| tuning.value),
            labels,
            axis,
            moments: Vec::new(),
        };
        scene.gather();
        scene
    }

    fn gather(&mut self) {
        let pattern = self.pattern;
        let mut ats: Vec<Position> = pattern.strokes.iter().map(|stroke| stroke.at).collect();
        ats.extend(pattern.changes.iter().map(|change| change.at));
        ats.extend(pattern.left.iter().map(|event| event.at));
        ats.sort();
        ats.dedup();
        for at in ats {
            let Some(pulses) = self.axis.pulses(self.compas, at) else {
                continue;
            };
            self.moments.push(Moment {
                at,
                pulses,
                strokes: pattern
                    .strokes
                    .iter()
                    .enumerate()
                    .filter(|(_, stroke)| stroke.at == at)
                    .collect(),
                change: pattern.changes.iter().find(|change| change.at == at),
                left: pattern.left.iter().filter(|event| event.at == at).collect(),
            });
        }
        self.moments
            .sort_by(|a, b| a.pulses.total_cmp(&b.pulses).then(a.at.cmp(&b.at)));
    }

    /// The chord said to be held at a moment of this pattern; none before the first change.
    pub fn chord_at(&self, pulses: f64) -> Option<&'a ChordName> {
        let before = self.moments.iter().filter(|moment| moment.pulses <= pulses + 1e-9);
        before
            .filter_map(|moment| moment.change)
            .next_back()
            .map(|change| &change.chord)
    }

    pub fn shape(&self, name: &ChordName) -> Option<ChordShape> {
        self.chords
            .iter()
            .find(|chord| chord.name == *name)
            .and_then(|chord| chord.shape)
    }

    /// The fret of a stroke on one of its strings.
    pub fn fret(&self, stroke: &Stroke, string: u8, pulses: f64) -> KnownFret {
        let single = stroke.strings.len() == 1;
        if let (Some(fret), true) = (stroke.fret, single) {
            return KnownFret::Said(fret);
        }
        if let (Some(note), true) = (stroke.note, single) {
            let open = string
                .checked_sub(1)
                .and_then(|index| self.tuning.get(usize::from(index)));
            return open.map_or(KnownFret::Open, |open| {
                KnownFret::WorkedOut((i16::from(note.pitch_class()) - i16::from(*open)).rem_euclid(12) as u8)
            });
        }
        // Ligados leave the shape, so the chord says nothing of where they go.
        let ligado = matches!(stroke.action, Action::HammerOn | Action::PullOff);
        let shape = self
            .chord_at(pulses)
            .and_then(|name| self.shape(name))
            .filter(|_| !ligado);
        shape
            .and_then(|shape| shape.fret(string))
            .map_or(KnownFret::Open, KnownFret::WorkedOut)
    }

    /// How the little finger of the right hand is written, where it plays.
    pub fn little_finger(&self) -> Option<String> {
        let mut strokes = self.moments.iter().flat_map(|moment| &moment.strokes);
        strokes.find_map(|(_, stroke)| {
            let place = stroke.fingers.iter().position(|finger| *finger == Finger::X)?;
            letters(stroke).into_iter().nth(place)
        })
    }

    /// A chord goes on being held where a line begins.
    pub fn carries_on(&self, pulses: f64) -> bool {
        let here = |moment: &Moment| moment.change.is_some() && (moment.pulses - pulses).abs() < 1e-9;
        self.chord_at(pulses).is_some() && !self.moments.iter().any(here)
    }

    pub fn has(&self, wanted: impl Fn(&Stroke) -> bool) -> bool {
        self.moments
            .iter()
            .any(|moment| moment.strokes.iter().any(|(_, stroke)| wanted(stroke)))
    }

    /// Strokes that get a sign in the right hand's row at this moment: all but golpes and ligados.
    pub fn right_hand(moment: &Moment<'a>) -> Vec<(usize, &'a Stroke)> {
        moment
            .strokes
            .iter()
            .copied()
            .filter(|(_, stroke)| in_right_row(stroke.action))
            .collect()
    }

    pub fn lanes(&self) -> usize {
        self.moments
            .iter()
            .map(|moment| Self::right_hand(moment).len())
            .max()
            .unwrap_or(0)
    }

    pub fn has_golpe(&self) -> bool {
        self.has(|stroke| stroke.action == Action::Golpe)
    }

    pub fn has_left(&self) -> bool {
        self.has(|stroke| stroke.left.is_some() || is_ligado(stroke.action))
            || self.moments.iter().any(|moment| !moment.left.is_empty())
    }

    /// Something to put on the six lines: a stroke on a string, a note, or a chord whose shape is known.
    pub fn has_strings(&self) -> bool {
        self.has(is_note)
            || self
                .moments
                .iter()
                .any(|moment| moment.change.is_some_and(|change| self.shape(&change.chord).is_some()))
    }

    pub fn has_names(&self) -> bool {
        self.has(|stroke| stroke.note.is_some())
    }
}

pub fn is_ligado(action: Action) -> bool {
    matches!(action, Action::HammerOn | Action::PullOff)
}

pub fn in_right_row(action: Action) -> bool {
    !matches!(action, Action::Golpe | Action::HammerOn | Action::PullOff)
}

/// A strum goes over the shape that is held: its strings need not be said.
pub fn is_strum(action: Action) -> bool {
    matches!(action, Action::Down | Action::Up | Action::Rasgueado)
}

/// Something that belongs on the six lines: a note, or a stroke whose strings are said.
pub fn is_note(stroke: &Stroke) -> bool {
    let silent = matches!(stroke.action, Action::Golpe | Action::Damp | Action::Rest);
    let single = matches!(
        stroke.action,
        Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn | Action::Tremolo
    );
    !silent && (single || !stroke.strings.is_empty() || stroke.note.is_some() || stroke.fret.is_some())
}

/// Whether a finger is part of what has to be known about the stroke.
pub fn wants_finger(action: Action) -> bool {
    matches!(
        action,
        Action::Down
            | Action::Up
            | Action::Golpe
            | Action::Pluck
            | Action::Rasgueado
            | Action::Roll
            | Action::Picado
            | Action::Tremolo
    )
}

/// The right-hand letters of a stroke; the little finger's as the writer wrote it.
pub fn letters(stroke: &Stroke) -> Vec<String> {
    let little = stroke.little_finger_as.as_deref();
    let letter = |finger: &Finger| match (finger, little) {
        (Finger::X, Some(written)) => written.to_owned(),
        (finger, _) => finger.letter().to_string(),
    };
    stroke.fingers.iter().map(letter).collect()
}
