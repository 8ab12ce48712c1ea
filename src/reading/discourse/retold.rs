use super::add::note_like;
use super::{Building, Discourse, Placed};
use crate::music::hand::Finger;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::statement::Told;

impl Discourse {
    /// What was placed for this count in this sentence is taken back.
    pub(super) fn take_back(&mut self, leads: bool) {
        let (sentence, cursor) = (self.sentence, self.cursor);
        let said_here = |building: &Building| building.strokes.iter().any(|placed| placed.sentence == sentence);
        // "No: …" behind a stop takes back what the sentence before put on this count.
        let before = (self.context.typed || leads) && !self.building().is_some_and(|building| said_here(building));
        let sentence = if before { sentence.saturating_sub(1) } else { sentence };
        let Some(building) = self.building() else { return };
        let told_last = building.strokes.iter().rev().find(|placed| placed.sentence == sentence);
        if let Some(at) = told_last.map(|placed| placed.stroke.at).or(cursor.map(Position::count)) {
            let goes = |placed: &mut Placed| placed.sentence == sentence && placed.stroke.at == at;
            let gone: Vec<Placed> = building.strokes.extract_if(.., goes).collect();
            if !gone.is_empty() {
                self.taken_back = gone.into_iter().map(|placed| placed.stroke).collect();
            }
        }
        self.loose = 0;
    }

    /// "up, no, sorry, down": the strum's finger holds for what is said instead.
    pub(super) fn strum_taken_back(&self) -> Vec<Finger> {
        let strum = |stroke: &&Stroke| matches!(stroke.action, Action::Down | Action::Up);
        let strum = self.taken_back.iter().find(strum);
        strum.map(|stroke| stroke.fingers.clone()).unwrap_or_default()
    }

    /// "the fourth string, sorry, I mean the third", "digo, con el anular": what was taken back, with the detail that is
    /// said instead.
    pub(super) fn put_back_with(&mut self, told: &Told) -> bool {
        let alone = !told.sounds() && told.when.is_none() && told.chord.is_none() && told.same.is_none();
        let fingers = if told.fingers.is_empty() {
            &told.golpe_fingers
        } else {
            &told.fingers
        };
        let places = !told.strings.is_empty() || !told.frets.is_empty() || !told.notes.is_empty();
        if !alone || fingers.is_empty() && !places {
            return false;
        }
        let meant = |stroke: &Stroke| {
            let fingered = fingers.is_empty() || !stroke.fingers.is_empty();
            fingered && (!places || note_like(stroke.action))
        };
        let Some(at) = self.taken_back.iter().rposition(meant) else {
            return false;
        };
        let mut strokes = std::mem::take(&mut self.taken_back);
        if let Some(stroke) = strokes.get_mut(at) {
            say_instead(stroke, told, fingers);
        }
        let Some(index) = self.current else { return false };
        for stroke in strokes {
            if let [string] = stroke.strings.as_slice() {
                self.string = Some(*string);
            }
            if stroke.action == Action::Golpe {
                self.golpe_fingers.clone_from(&stroke.fingers);
            }
            self.last = Some(stroke.at);
            self.add(index, stroke, false, false);
        }
        true
    }

    /// "no perdón abajo abajo, el índice abajo": what was said instead is said once more.
    pub(super) fn says_the_correction_again(&self, told: &Told) -> bool {
        let action = self.corrected.filter(|_| told.when.is_none() && told.span.is_none());
        let Some(action) = action.filter(|action| told.actions == [*action]) else {
            return false;
        };
        let pattern = self.pattern();
        let said = pattern.and_then(|pattern| {
            let before = pattern.strokes.iter().rev().map(|placed| &placed.stroke);
            before
                .filter(|stroke| Some(stroke.at) == self.last)
                .find(|stroke| stroke.action == action)
        });
        let same = |stroke: &Stroke| told.fingers.is_empty() || told.fingers == stroke.fingers;
        said.is_some_and(same) && !told.has_note() && !told.golpe
    }
}

fn say_instead(stroke: &mut Stroke, told: &Told, fingers: &[Finger]) {
    if !fingers.is_empty() {
        stroke.fingers = fingers.to_vec();
    }
    if !told.strings.is_empty() {
        stroke.strings.clone_from(&told.strings);
        stroke.note = None;
    }
    if let Some(fret) = told.frets.first() {
        stroke.fret = Some(*fret);
        stroke.note = None;
    }
    stroke.note = told.notes.first().copied().or(stroke.note);
}
