use super::Discourse;
use crate::music::fretboard::Guitar;
use crate::music::hand::Finger;
use crate::music::pattern::{Claim, ClaimAbout};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::moments::{Part, When};
use crate::reading::statement::Told;
use crate::text::Place;

impl Discourse {
    pub(super) fn silence(&mut self, told: &Told, place: Place) {
        // "The left hand does nothing on 2": the other one may play.
        // "El 4 se deja sonando, no se hace nada": what was played there sounds on.
        if told.left.is_some() || told.let_ring {
            return;
        }
        // "7. … It's a rest.": the count that the talk has come to.
        let come_to = self
            .cursor
            .filter(|_| told.when.is_none() && told.short && told.leads && !self.context.typed);
        let when = told.when.or(come_to.map(When::count));
        let Some(when) = when.filter(|when| when.part == Part::Whole) else {
            return;
        };
        let Some(at) = self.resolve(when) else { return };
        let index = self.pattern_for_stroke(place);
        let empty = self.patterns.get(index).is_some_and(|pattern| {
            !pattern
                .strokes
                .iter()
                .any(|placed| placed.stroke.at.whole() == at.whole() && !placed.copied)
        });
        self.take_back_the_lent(at);
        if empty && self.inside(at) {
            self.add(index, Stroke::new(at, Action::Rest, place), false, false);
        }
    }

    /// Something sounds: where, and with what.
    pub(super) fn event(&mut self, told: &Told, place: Place) {
        if self.is_recital(told) {
            // Before a variation has a stroke there is nothing to say over.
            self.taken += usize::from(self.in_pattern() && self.announced().is_none());
            return;
        }
        let heads_a_list = told.actions == [Action::Picado] && !told.has_note() && !told.golpe;
        if heads_a_list || self.changes_the_copy(told) {
            self.taken += 1;
            return;
        }
        if self.names_its_finger(told) {
            self.taken += 1;
            return;
        }
        let Some((at, implied)) = self.moment_of(told, place) else {
            return;
        };
        if !self.inside(at) && !self.may_stand_outside(told, at, place) {
            return;
        }
        if told.when.is_some_and(|when| when.part == Part::Whole) {
            self.take_back_the_lent(at);
        }
        let index = self.pattern_for_stroke(place);
        if told.has_note() && told.frets.len() > 1 && told.strings.len() <= 1 && told.actions.is_empty() {
            self.row_of_frets(told, index, at, place);
            return;
        }
        if self.arpeggio(told, index, at, place) {
            return;
        }
        let waiting = told.actions.is_empty()
            && !told.has_note()
            && !told.fingers.is_empty()
            && (!told.golpe || !told.golpe_fingers.is_empty())
            && (self.context.typed && told.short || self.each_has_its_string(&told.fingers));
        let action = told
            .actions
            .first()
            .copied()
            .or_else(|| self.slur_to_come(told))
            .or(
                (told.golpe && told.fingers == [Finger::P] && !told.has_note() && !self.context.typed)
                    .then_some(Action::Down),
            )
            .or((told.has_note() || waiting).then_some(Action::Pluck));
        if let Some(count) = told.how_many.filter(|count| *count > 1) {
            self.slurs_to_come = action.map(|action| (action, count - 1));
        }
        if let Some(action) = action {
            let action = if told.slur { self.slur_direction(told) } else { action };
            let mut stroke = Stroke::new(at, action, place);
            stroke.fingers = if matches!(action, Action::PullOff | Action::HammerOn | Action::Damp) {
                Vec::new()
            } else if action == Action::Alzapua && told.fingers.is_empty() {
                // An alzapúa is the thumb's. Common practice, no source.
                vec![Finger::P]
            } else {
                told.fingers.clone()
            };
            let waits = self.finger_waits.as_ref().filter(|(count, fingers, told)| {
                let near = self.sentence - told <= 2 && fingers.as_slice() != [Finger::X];
                near && at == Position::count(*count)
            });
            if let (Some((_, fingers, _)), true) = (
                waits,
                matches!(action, Action::Down | Action::Up) && stroke.fingers.is_empty(),
            ) {
                stroke.fingers.clone_from(fingers);
                self.finger_waits = None;
            }
            if stroke.fingers.is_empty()
                && matches!(action, Action::Down | Action::Up)
                && let Some(finger) = self.finger_of_the_strum_before()
            {
                stroke.fingers = vec![finger];
            }
            if stroke.fingers.is_empty() && action == Action::Rasgueado && told.same.is_some() {
                stroke.fingers = self.fingers_rolled_before();
            }
            stroke.strings = self.strings_of(told, action);
            stroke.fret = told.frets.first().copied();
            stroke.note = if matches!(action, Action::PullOff | Action::HammerOn) {
                told.notes.last()
            } else {
                told.notes.first()
            }
            .copied();
            stroke.left = told.left.filter(|left| *left > 0);
            stroke.rest_stroke = told
                .rest_stroke
                .filter(|_| matches!(action, Action::Pluck | Action::Picado));
            stroke.little_finger_as.clone_from(&told.little_finger_as);
            stroke.implied = implied;
            let tentative = told.actions.is_empty() && told.fingers.is_empty();
            self.add(index, stroke, false, tentative);
        }
        if told.golpe {
            let mut golpe = Stroke::new(at, Action::Golpe, place);
            golpe.fingers = if told.golpe_fingers.is_empty() && action.is_none() {
                told.fingers.clone()
            } else {
                told.golpe_fingers.clone()
            };
            if golpe.fingers.is_empty() {
                golpe.fingers.clone_from(&self.golpe_fingers);
            } else {
                self.golpe_fingers.clone_from(&golpe.fingers);
            }
            self.add(index, golpe, false, false);
        }
        self.last = Some(at);
        self.placed_in_sentence = true;
    }

    /// "the rasgueado again, same fingers": those of the last one told.
    fn fingers_rolled_before(&self) -> Vec<Finger> {
        let strokes = self.patterns.iter().flat_map(|pattern| &pattern.strokes);
        strokes
            .map(|placed| &placed.stroke)
            .rfind(|stroke| stroke.action == Action::Rasgueado && !stroke.fingers.is_empty())
            .map(|stroke| stroke.fingers.clone())
            .unwrap_or_default()
    }

    /// Each of the fingers has a string of its own, so that the finger alone is a note.
    pub(super) fn each_has_its_string(&self, fingers: &[Finger]) -> bool {
        let own = |finger: &Finger| self.context.string_of(*finger).is_some();
        !fingers.is_empty() && fingers.iter().all(own)
    }

    pub(super) fn strings_of(&mut self, told: &Told, action: Action) -> Vec<u8> {
        let slur = matches!(action, Action::PullOff | Action::HammerOn);
        let mut strings = told.strings.clone();
        if strings.is_empty() && (told.same_string || slur || !told.frets.is_empty()) {
            strings.extend(self.string.filter(|string| self.may_be_on(*string, told)));
        }
        if strings.is_empty() && action == Action::Pluck && told.notes.is_empty() {
            let own = |finger: &Finger| self.context.string_of(*finger);
            strings.extend(told.fingers.iter().filter_map(own));
        }
        if matches!(
            action,
            Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
        ) {
            if let [only] = strings.as_slice() {
                self.string = Some(*only);
            }
            strings
        } else {
            told.strings.clone()
        }
    }

    /// Whether the string of the note before can be this note's: in speech a name that it does not sound there speaks against it.
    fn may_be_on(&self, string: u8, told: &Told) -> bool {
        let (Some(fret), Some(name)) = (told.frets.first(), told.notes.first()) else {
            return true;
        };
        let guitar = Guitar::of(&self.lesson);
        let gives = |fret: u8| guitar.gives(string, fret, *name) == Some(true);
        // A name a semitone off is a slip of the tongue on this string, and no other string.
        // Of a ligado the name may be that of the note it comes from.
        let plucked = !told.slur
            && !told
                .actions
                .iter()
                .any(|action| matches!(action, Action::PullOff | Action::HammerOn));
        let slip = plucked && (gives(fret + 1) || *fret > 0 && gives(fret - 1));
        let sounds = guitar.gives(string, *fret, *name);
        self.context.typed || told.same_string || sounds != Some(false) || slip
    }

    /// A finger said for a down goes on for the up of the same sentence.
    pub(super) fn finger_of_the_strum_before(&self) -> Option<Finger> {
        let last = self.last.filter(|_| self.placed_in_sentence)?;
        let pattern = self.pattern()?;
        let before = pattern.strokes.iter().rev().find(|placed| {
            placed.stroke.at == last
                && placed.sentence == self.sentence
                && matches!(placed.stroke.action, Action::Down | Action::Up)
        })?;
        match before.stroke.fingers.as_slice() {
            [finger] => Some(*finger),
            _ => None,
        }
    }

    /// "El anular es el que cae en el 3", "a on the 2 itself": the finger of a strum that an earlier sentence told there.
    fn names_its_finger(&self, told: &Told) -> bool {
        let bare = told.actions.is_empty() && !told.golpe && !told.has_note() && told.chord.is_none() && !told.silence;
        let at = told.when.and_then(|when| self.resolve(when));
        let ([finger], Some(at), true) = (told.fingers.as_slice(), at, bare) else {
            return false;
        };
        let pattern = self.pattern();
        pattern.is_some_and(|pattern| {
            let here = pattern
                .strokes
                .iter()
                .filter(|placed| placed.stroke.at == at && !placed.copied);
            here.clone().any(|placed| {
                let strum = matches!(placed.stroke.action, Action::Down | Action::Up);
                strum && placed.stroke.fingers == [*finger] && placed.sentence != self.sentence
            })
        })
    }

    /// Of "two pull-offs" the second is told by its fret alone.
    pub(super) fn slur_to_come(&mut self, told: &Told) -> Option<Action> {
        let (action, left) = self
            .slurs_to_come
            .filter(|(_, left)| *left > 0 && told.has_note() && told.fingers.is_empty())?;
        self.slurs_to_come = Some((action, left - 1));
        Some(action)
    }

    /// A ligado goes down to a lower fret and up to a higher one.
    pub(super) fn slur_direction(&self, told: &Told) -> Action {
        let before = self.last.and_then(|last| {
            let pattern = self.pattern()?;
            pattern
                .strokes
                .iter()
                .rev()
                .find(|placed| placed.stroke.at == last)?
                .stroke
                .fret
        });
        match (before, told.frets.first()) {
            (Some(before), Some(fret)) if *fret < before => Action::PullOff,
            (None, Some(0)) => Action::PullOff,
            _ => Action::HammerOn,
        }
    }

    /// A moment outside of what a variation replaces: kept where the text says that it runs on, otherwise a claim.
    pub(super) fn may_stand_outside(&mut self, told: &Told, at: Position, place: Place) -> bool {
        let typed = self.context.typed;
        // Further in, a number is a fret, a part of the count, a finger: a count stands in front.
        let count_at = (place.span.start + told.when_at).saturating_sub(told.start);
        let in_front = count_at <= self.sentence_place.span.start + 2 && !told.left_leads;
        let Some(building) = self.building() else { return true };
        let Some(span) = building.span else { return true };
        if building.runs_on && at.whole() > span.last {
            return true;
        }
        if told.as_usual {
            return false;
        }
        if !typed {
            return self.is_elsewhere(told, at, place);
        }
        let told_note = told.has_note() || !told.fingers.is_empty();
        if told_note && in_front && self.is_another(told, at, place) {
            return true;
        }
        if let Some(building) = self.building().filter(|_| told_note && in_front) {
            let about = ClaimAbout::Outside { at, span };
            building.claims.push(Claim { place, about });
            self.taken += 1;
        }
        false
    }
}
