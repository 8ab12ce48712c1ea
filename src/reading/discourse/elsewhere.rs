use super::Discourse;
use super::add::agree;
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::statement::Told;
use crate::text::Place;

impl Discourse {
    /// A stroke told aloud for a count that the variation does not cover: either the core told over again, or another
    /// variation that was announced in words of its own ("and the third, for the beginning"). True when it may stand.
    pub(super) fn is_elsewhere(&mut self, told: &Told, at: Position, place: Place) -> bool {
        if self.is_of_the_core(told, at) {
            self.taken += 1;
            return false;
        }
        let exact = told.when.is_some_and(|when| when.count.is_some())
            && !told.fingers.is_empty()
            && (!told.actions.is_empty() || !told.strings.is_empty());
        let back = self.finished().is_some_and(|span| at.whole() < span.first);
        let placed =
            told.when.is_some_and(|when| when.count.is_some()) && !told.strings.is_empty() && !told.frets.is_empty();
        if (exact && told.has_note() || placed) && self.spills(at) {
            if let Some(building) = self.building() {
                let span = building.span.unwrap_or(CountSpan { first: 1, last: 1 });
                let about = ClaimAbout::Outside { at, span };
                building.claims.push(Claim { place, about });
                self.taken += 1;
            }
            return false;
        }
        if !exact || !back {
            return false;
        }
        let name = super::role_name(Role::Variation, self.context.language).to_owned();
        self.start(Role::Variation, name, None, place);
        self.set_cursor(at.whole());
        true
    }

    /// In a typed note: a stroke for a count before a variation that has been told, or well past it, begins another one.
    pub(super) fn is_another(&mut self, told: &Told, at: Position, place: Place) -> bool {
        let exact = told.when.is_some_and(|when| when.count.is_some());
        let spilt = self.building().is_some_and(|building| {
            let outside = |claim: &Claim| matches!(claim.about, ClaimAbout::Outside { .. });
            building.claims.iter().any(outside)
        });
        let apart = |span: CountSpan| at.whole() < span.first || at.whole() > span.last + 1;
        if !exact || spilt || !self.finished().is_some_and(apart) {
            return false;
        }
        let name = super::role_name(Role::Variation, self.context.language).to_owned();
        self.start(Role::Variation, name, None, place);
        self.set_cursor(at.whole());
        true
    }

    /// The count next to the last one that the variation takes the place of.
    fn spills(&self, at: Position) -> bool {
        self.finished().is_some_and(|span| at.whole() == span.last + 1)
    }

    /// What a variation takes the place of, once its last count has been told.
    fn finished(&self) -> Option<CountSpan> {
        let pattern = self.pattern()?;
        let span = pattern.span.filter(|span| span.first <= span.last)?;
        let told = pattern
            .strokes
            .iter()
            .any(|placed| placed.stroke.at.whole() == span.last);
        (pattern.role != Role::Core && told).then_some(span)
    }

    /// The core has the stroke there, or, of "thumb and knock", the knock.
    fn is_of_the_core(&self, told: &Told, at: Position) -> bool {
        let Some(action) = told.actions.first().copied().or(told.golpe.then_some(Action::Golpe)) else {
            return false;
        };
        if told.has_note() {
            return false;
        }
        let fingers = if action == Action::Golpe {
            &[][..]
        } else {
            &told.fingers
        };
        let mut stroke = Stroke::new(at, action, Place::default());
        stroke.fingers = fingers.to_vec();
        self.core().is_some_and(|core| {
            core.strokes.iter().any(|placed| {
                placed.stroke.at == at
                    && agree(&placed.stroke, &stroke)
                    && (fingers.is_empty() || placed.stroke.fingers == fingers)
            })
        })
    }
}
