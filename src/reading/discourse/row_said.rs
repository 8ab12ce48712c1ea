use super::Discourse;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

const RULE: &str = "told by the row that is said over";

impl Discourse {
    /// "On 2 the index … One and two: knock, down": what was told without its stroke is what the row says of that moment.
    pub fn resolve_by_row(&mut self, row: &[(Option<Position>, Action)], place: Place) {
        for (at, action) in row {
            let Some(at) = at.filter(|_| matches!(action, Action::Down | Action::Up)) else {
                continue;
            };
            if !self.told_as_a_finger(at, *action) {
                self.finger_that_waits(at, *action, place);
            }
        }
    }

    /// A finger under a count, no stroke named. True when there was one, or a stroke stands there already.
    fn told_as_a_finger(&mut self, at: Position, action: Action) -> bool {
        let Some(building) = self.building() else { return true };
        let here = building
            .strokes
            .iter_mut()
            .find(|placed| placed.stroke.at == at && placed.stroke.action != Action::Golpe);
        let Some(placed) = here else { return false };
        let stroke = &mut placed.stroke;
        let bare = stroke.action == Action::Pluck
            && stroke.strings.is_empty()
            && stroke.fret.is_none()
            && stroke.note.is_none();
        if bare && stroke.implied.is_some() {
            stroke.action = action;
            stroke.implied = Some(RULE.to_owned());
        }
        true
    }

    fn finger_that_waits(&mut self, at: Position, action: Action, place: Place) {
        let waits = self.finger_waits.take_if(|(count, ..)| at == Position::count(*count));
        let (Some((_, fingers, _)), Some(index)) = (waits, self.current) else {
            return;
        };
        let mut stroke = Stroke::new(at, action, place);
        stroke.fingers = fingers;
        stroke.implied = Some(RULE.to_owned());
        self.add(index, stroke, false, false);
    }
}
