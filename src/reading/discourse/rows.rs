use super::Discourse;
use crate::music::pattern::{CountSpan, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::rows::{Row, row};
use crate::reading::statement::Told;
use crate::reading::tokens::Token;
use crate::text::Place;

impl Discourse {
    /// Keeps a list that stands under another one. False when the sentence is none.
    pub fn row(&mut self, tokens: &[Token], text: &str, place: Place) -> bool {
        let Some(row) = row(tokens, text, &self.context).filter(|_| self.context.typed) else {
            return false;
        };
        let names_alone = matches!(row, Row::Notes(_)) && self.rows.is_empty();
        if names_alone && self.row_of_names(tokens, place) {
            return true;
        }
        if self.rows.iter().any(|(known, _)| known.len() != row.len()) {
            self.lay_rows();
        }
        self.taken += 1;
        self.rows.push((row, place));
        true
    }

    /// The lists kept are laid under their counts, item for item.
    pub fn lay_rows(&mut self) {
        let rows = std::mem::take(&mut self.rows);
        let counts = rows.iter().find_map(|(row, _)| match row {
            Row::Counts(counts) => Some(counts.clone()),
            _ => None,
        });
        let (Some(counts), true) = (counts, rows.len() >= 2) else {
            return;
        };
        let place = rows.last().map_or(self.sentence_place, |(_, place)| *place);
        let index = self.pattern_for_stroke(place);
        self.span_of_rows(&counts);
        for (nth, at) in counts.iter().enumerate() {
            self.lay_item(index, &rows, nth, *at);
        }
        self.cursor = counts.last().map(|at| at.whole());
        self.last = counts.last().copied();
    }

    /// A variation whose counts were not told covers those of its rows.
    fn span_of_rows(&mut self, counts: &[Position]) {
        let whole = || counts.iter().map(|at| at.whole());
        let (Some(first), Some(last)) = (whole().min(), whole().max()) else {
            return;
        };
        if let Some(building) = self
            .building()
            .filter(|building| building.role != Role::Core && building.span.is_none())
        {
            building.span = Some(CountSpan { first, last });
        }
    }

    fn lay_item(&mut self, index: usize, rows: &[(Row, Place)], nth: usize, at: Position) {
        let told = rows.iter().find_map(|(row, place)| match row {
            Row::Hand(strokes) => strokes.get(nth).map(|told| (told.clone(), *place)),
            _ => None,
        });
        let place = told
            .as_ref()
            .map(|(_, place)| *place)
            .or(rows.last().map(|(_, place)| *place));
        let (told, place) = (told.map(|(told, _)| told), place.unwrap_or(self.sentence_place));
        let Some(action) = action_of(told.as_ref(), rows) else {
            return self.lay_golpe(index, told.as_ref(), at, place);
        };
        let mut stroke = Stroke::new(at, action, place);
        stroke.fingers = told.as_ref().map(|told| told.fingers.clone()).unwrap_or_default();
        for (row, _) in rows {
            match row {
                Row::Strings(strings) => stroke.strings.extend(strings.get(nth)),
                Row::Places(places) => {
                    stroke.strings.extend(places.get(nth).map(|(string, _)| *string));
                    stroke.fret = places.get(nth).map(|(_, fret)| *fret);
                }
                Row::Notes(notes) => stroke.note = notes.get(nth).copied(),
                Row::Counts(_) | Row::Hand(_) => {}
            }
        }
        self.add(index, stroke, false, false);
        self.lay_golpe(index, told.as_ref(), at, place);
    }

    fn lay_golpe(&mut self, index: usize, told: Option<&Told>, at: Position, place: Place) {
        let Some(told) = told.filter(|told| told.golpe) else {
            return;
        };
        let mut golpe = Stroke::new(at, Action::Golpe, place);
        golpe.fingers.clone_from(&told.golpe_fingers);
        if golpe.fingers.is_empty() {
            golpe.fingers.clone_from(&self.golpe_fingers);
        }
        self.add(index, golpe, false, false);
    }
}

/// What is played: as told, or plucked where strings or notes are listed.
fn action_of(told: Option<&Told>, rows: &[(Row, Place)]) -> Option<Action> {
    let told_action = told.and_then(|told| told.actions.first().copied());
    let notes = rows
        .iter()
        .any(|(row, _)| matches!(row, Row::Strings(_) | Row::Places(_) | Row::Notes(_)));
    let fingered = told.is_some_and(|told| !told.fingers.is_empty());
    told_action.or((notes || fingered).then_some(Action::Pluck))
}
