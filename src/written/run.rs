//! Where a line is while it is being read, and what was said once for its notes.

use crate::music::hand::{Finger, Fret, GuitarString};
use crate::music::pattern::CountSpan;
use crate::music::position::Position;
use crate::music::stroke::Action;

use super::strokes::Draft;

/// Where the line is, while it is being read.
#[derive(Debug, Clone)]
pub struct Run {
    pub at: Position,
    /// The counts that the line announced.
    pub span: Option<CountSpan>,
    /// Whether a stroke stands at `at` already: then only chords and the left hand may follow without a new count.
    pub struck: bool,
    pub passage: Passage,
    /// The last single note, for slurs.
    last_note: Option<(GuitarString, Fret)>,
}

/// What was said once for a list of notes: "picado i m i m:".
#[derive(Debug, Clone, Default)]
pub struct Passage {
    pub action: Option<Action>,
    pub fingers: Vec<Finger>,
    pub strings: Vec<GuitarString>,
    pub rest_stroke: Option<bool>,
    pub given: usize,
}

impl Run {
    pub fn new(at: Position, span: Option<CountSpan>) -> Self {
        Self {
            at,
            span,
            struck: false,
            passage: Passage::default(),
            last_note: None,
        }
    }
}

impl Run {
    /// Fills what the passage said for all its notes, and decides a slur by its two notes.
    pub fn apply_passage(&mut self, mut draft: Draft) -> Option<Draft> {
        let stroke = &mut draft.stroke;
        let passage = &mut self.passage;
        let slurred = draft.slur || matches!(stroke.action, Action::PullOff | Action::HammerOn);
        if let Some(action) = passage.action.filter(|_| !draft.acts && !draft.slur) {
            stroke.action = action;
        }
        if draft.same_string {
            stroke.strings = vec![self.last_note?.0];
        }
        if stroke.strings.is_empty() {
            stroke.strings.clone_from(&passage.strings);
        }
        if !slurred && stroke.fingers.is_empty() && !passage.fingers.is_empty() {
            let turn = passage.given % passage.fingers.len();
            stroke.fingers.extend(passage.fingers.get(turn));
        }
        if !slurred {
            stroke.rest_stroke = stroke.rest_stroke.or(passage.rest_stroke);
            passage.given += 1;
        }
        let string = match stroke.strings.as_slice() {
            [one] => Some(*one),
            _ => None,
        };
        if draft.slur {
            let (last_string, last_fret) = self.last_note?;
            let fret = stroke.fret?;
            if string.is_some_and(|string| string != last_string) || fret == last_fret {
                return None;
            }
            stroke.action = if fret < last_fret {
                Action::PullOff
            } else {
                Action::HammerOn
            };
        }
        if let (Some(string), Some(fret)) = (string.or(self.last_note.map(|(string, _)| string)), stroke.fret) {
            self.last_note = Some((string, fret));
        }
        Some(draft)
    }
}
