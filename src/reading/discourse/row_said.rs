use super::{Building, Discourse};
use crate::music::hand::Finger;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::statement::Told;
use crate::text::Place;

const RULE: &str = "told by the row that is said over";

impl Discourse {
    /// "The index comes up. Thumb down, index up.": strokes without a count, all of which were told for the count the talk is
    /// at, are said over.
    pub fn tells_only_what_was_told(&self, told: &[Told]) -> bool {
        let open_run = self
            .run
            .as_ref()
            .is_some_and(|run| run.said && run.told < run.per_count * run.counts);
        let (Some(count), Some(pattern)) = (self.cursor, self.pattern()) else {
            return false;
        };
        let known = |action: Action, fingers: &[Finger]| {
            pattern.strokes.iter().any(|placed| {
                let stroke = &placed.stroke;
                let here = stroke.at.whole() == count && placed.since != self.sentence;
                here && stroke.action == action && !fingers.is_empty() && stroke.fingers == fingers
            })
        };
        let bare = |told: &Told| {
            told.when.is_none() && told.span.is_none() && told.same.is_none() && !told.negated && !told.corrects
        };
        if let ([only], false) = (told, self.context.typed) {
            return bare(only) && self.is_the_pinch_just_told(pattern, only);
        }
        let over = |told: &Told| {
            let again = told.actions.first().is_some_and(|action| known(*action, &told.fingers));
            bare(told) && told.is_one_strum() && again && !told.has_note() && !told.golpe && told.chord.is_none()
        };
        !self.context.typed && !open_run && told.len() >= 2 && told.iter().all(over)
    }

    /// "The index on the third and the middle on the second, both at once": the pinch of the sentence before.
    fn is_the_pinch_just_told(&self, pattern: &Building, told: &Told) -> bool {
        let pinched = told.fingers.len() >= 2 && told.strings.len() >= 2 && told.frets.is_empty() && !told.golpe;
        let last = pattern
            .strokes
            .iter()
            .rev()
            .find(|placed| Some(placed.stroke.at) == self.last);
        pinched
            && last.is_some_and(|placed| {
                let stroke = &placed.stroke;
                let same = stroke.fingers == told.fingers && stroke.strings == told.strings;
                same && placed.since + 1 == self.sentence
            })
    }

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
