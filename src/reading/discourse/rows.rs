use super::Discourse;
use crate::music::pattern::{CountSpan, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::rows::{Listed, Row, chord, fret, note, place, row, strings, stroke};
use crate::reading::statement::Told;
use crate::reading::tokens::Token;
use crate::text::Place;

impl Discourse {
    /// Keeps a list that stands under another one. False when the sentence is none.
    pub fn row(&mut self, tokens: &[Token], text: &str, place: Place) -> bool {
        if !self.context.typed {
            return false;
        }
        let Some(row) = row(tokens, text, &self.context) else {
            return false;
        };
        if row.what == Listed::Notes && self.rows.is_empty() && self.row_of_names(tokens, place) {
            return true;
        }
        if row.what == Listed::Counts && self.rows.iter().any(|(known, _)| known.what == Listed::Counts) {
            self.lay_rows();
        }
        self.taken += 1;
        self.rows.push((row, place));
        true
    }

    /// The lists of one block.
    pub fn take_rows(&mut self, rows: Vec<Row>, place: Place) {
        self.lay_rows();
        self.taken += rows.len();
        self.rows = rows.into_iter().map(|row| (row, place)).collect();
        self.lay_rows();
    }

    /// The lists kept are laid under their counts.
    pub fn lay_rows(&mut self) {
        let rows = std::mem::take(&mut self.rows);
        let counts = rows
            .iter()
            .find(|(row, _)| row.what == Listed::Counts)
            .map(|(row, _)| row.clone());
        let Some((counts, moments)) = counts.and_then(|row| row.counts().map(|moments| (row, moments))) else {
            return;
        };
        if rows.len() < 2 {
            return;
        }
        let place = rows.last().map_or(self.sentence_place, |(_, place)| *place);
        let index = self.pattern_for_stroke(place);
        self.span_of_rows(&moments);
        for (nth, at) in moments.iter().enumerate() {
            self.lay_item(index, &rows, &counts, nth, *at);
        }
        self.cursor = moments.last().map(|at| at.whole());
        self.last = moments.last().copied();
    }

    /// A variation whose counts were not told covers those of its rows.
    fn span_of_rows(&mut self, counts: &[Position]) {
        let whole = || counts.iter().map(|at| at.whole());
        let (Some(first), Some(last)) = (whole().min(), whole().max()) else {
            return;
        };
        let spanless = self
            .building()
            .filter(|building| building.role != Role::Core && building.span.is_none());
        if let Some(building) = spanless {
            building.span = Some(CountSpan { first, last });
        }
    }

    fn lay_item(&mut self, index: usize, rows: &[(Row, Place)], counts: &Row, nth: usize, at: Position) {
        let mut told = Told::default();
        let mut laid = Stroke::new(at, Action::Pluck, self.sentence_place);
        let mut noted = false;
        for (row, at_place) in rows {
            let Some(item) = row.under(counts, nth).filter(|item| !item.is_blank()) else {
                continue;
            };
            if row.what != Listed::Counts {
                laid.place = *at_place;
            }
            match row.what {
                Listed::Counts => {}
                Listed::Hand => take_over(&mut told, stroke(item, &self.context)),
                Listed::Strings => laid.strings = strings(item),
                Listed::Frets => laid.fret = fret(item),
                Listed::Places => {
                    laid.strings.extend(place(item).map(|(string, _)| string));
                    laid.fret = place(item).map(|(_, fret)| fret);
                }
                Listed::Notes => laid.note = note(item, &self.context),
                Listed::Chords => {}
            }
            noted |= matches!(
                row.what,
                Listed::Strings | Listed::Frets | Listed::Places | Listed::Notes
            );
            let chord = chord(item, &self.context).filter(|_| matches!(row.what, Listed::Chords | Listed::Strings));
            if let Some(chord) = chord {
                noted &= row.what == Listed::Chords;
                let place = laid.place;
                self.change(index, at, &chord, place);
            }
        }
        self.lay_stroke(index, &told, laid, noted);
    }

    fn lay_stroke(&mut self, index: usize, told: &Told, mut laid: Stroke, noted: bool) {
        let plucked = noted || !told.fingers.is_empty() && !told.golpe;
        let silent = (told.silence && !told.golpe).then_some(Action::Rest);
        let action = told
            .actions
            .first()
            .copied()
            .or(silent)
            .or(plucked.then_some(Action::Pluck));
        let (at, place) = (laid.at, laid.place);
        if let Some(action) = action {
            laid.action = action;
            laid.fingers.clone_from(&told.fingers);
            if let (Some(string), true) = (laid.strings.first().copied(), laid.strings.len() == 1) {
                self.string = Some(string);
            }
            self.add(index, laid, false, false);
        }
        if told.golpe {
            let mut golpe = Stroke::new(at, Action::Golpe, place);
            golpe.fingers.clone_from(&told.golpe_fingers);
            if golpe.fingers.is_empty() && action.is_none() {
                golpe.fingers.clone_from(&told.fingers);
            }
            if golpe.fingers.is_empty() {
                golpe.fingers.clone_from(&self.golpe_fingers);
            }
            self.add(index, golpe, false, false);
        }
    }
}

/// Two lists of the hand tell one stroke: the fingers of the one, the stroke of the other.
fn take_over(told: &mut Told, further: Option<Told>) {
    let Some(further) = further else { return };
    told.actions.extend(further.actions);
    told.fingers.extend(further.fingers);
    told.golpe |= further.golpe;
    told.golpe_fingers.extend(further.golpe_fingers);
    told.silence |= further.silence;
}
