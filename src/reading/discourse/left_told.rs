use num_rational::Ratio;

use super::Discourse;
use crate::music::hand::LeftFinger;
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::pattern::{ClaimAbout, CountSpan, Role};
use crate::music::position::Position;
use crate::reading::lexicon::Concept;
use crate::reading::moments::{before, token};
use crate::reading::one_finger::one_finger;
use crate::reading::placed::place_at;
use crate::reading::says::Says;
use crate::reading::statement::Told;
use crate::reading::stays::{Stays, Until, stays};
use crate::reading::tokens::Tokens;
use crate::text::Place;

/// Words that tell of a finger over a stretch of counts: it stays, or plays all of them.
const OF_HANDS: Says = Says::NOTHING.meaning(&[
    Concept::Keep,
    Concept::All,
    Concept::Alone,
    Concept::Alternating,
    Concept::FingerWord,
    Concept::SameFinger,
    Concept::LeftHand,
]);

impl Discourse {
    /// "LH 1 on s3 f1": a finger goes down; nothing sounds.
    pub(super) fn finger_put(&mut self, told: &Told, place: Place) {
        self.taken += 1;
        let ([string], [fret]) = (told.strings.as_slice(), told.frets.as_slice()) else {
            return;
        };
        let at = told.when.and_then(|when| self.resolve(when)).or(self.last_moment());
        let Some(at) = at.filter(|_| self.in_pattern()) else {
            return;
        };
        self.left_event(LeftEvent {
            at,
            action: LeftAction::Put,
            finger: told.left,
            string: Some(*string),
            fret: Some(*fret),
            place,
            implied: None,
        });
    }

    /// "Hold that finger down for 5, 6 and 7", "5-6 all on s1, with the m alone" behind the notes: the counts only say how long.
    pub fn only_says_how_long(&self, tokens: &Tokens) -> bool {
        if !tokens.says.any_of(OF_HANDS) {
            return false;
        }
        const PLAYED: [Concept; 10] = [
            Concept::FingerP,
            Concept::FingerI,
            Concept::FingerM,
            Concept::FingerA,
            Concept::Up,
            Concept::Golpe,
            Concept::Rasgueado,
            Concept::Play,
            Concept::StringWord,
            Concept::FretWord,
        ];
        // "does not leave the string": no string that is played.
        let of_no_string = |at: usize| {
            let (here, next) = (token(tokens, at), token(tokens, at + 1));
            here.is(Concept::StringWord) && before(tokens, at).ordinal.is_none() && next.number.is_none()
        };
        // "1 p 5ª t3 con el dedo 3: se queda pisado hasta el 3": a note is played first.
        let note = |at: usize| place_at(tokens, at).is_some_and(|(string, ..)| string.is_some());
        let strikes = |at: usize| token(tokens, at).is_any(&PLAYED) && !of_no_string(at) || note(at);
        let plays = || (0..tokens.len()).any(strikes);
        let held = stays(tokens).is_some_and(|stays| stays.place.is_none() && stays.until.is_counted());
        let told = one_finger(tokens).and_then(|(_, counts)| counts);
        held && !plays() || told.is_some_and(|(first, last)| (first..=last).all(|count| self.has_told(count)))
    }

    /// What a sentence says of a hand's fingers over a stretch of counts.
    pub fn hands_told(&mut self, tokens: &Tokens, place: Place) {
        if !tokens.says.any_of(OF_HANDS) {
            return;
        }
        if let Some(stays) = stays(tokens) {
            self.finger_stays(stays, place);
        }
        if let Some((finger, counts)) = one_finger(tokens).filter(|_| self.in_pattern()) {
            let own = self.building().and_then(|building| building.span);
            let own = own.filter(|_| self.building().is_some_and(|building| building.role != Role::Core));
            if let Some(span) = counts.map(|(first, last)| CountSpan { first, last }).or(own) {
                let fingers = vec![finger];
                self.claim(ClaimAbout::Passage { span, fingers }, place);
            }
        }
    }

    /// A finger stays until the end that is said.
    fn finger_stays(&mut self, stays: Stays, place: Place) {
        let (Some(at), true) = (self.last_moment(), self.in_pattern()) else {
            return;
        };
        let Some(finger) = stays.finger.or_else(|| self.last_left_finger()) else {
            return;
        };
        let put = stays.place.or_else(|| self.place_of_finger(finger));
        let event = |at: Position, action: LeftAction| LeftEvent {
            at,
            action,
            finger: Some(finger),
            string: put.map(|(string, _)| string),
            fret: put.map(|(_, fret)| fret),
            place,
            implied: None,
        };
        let beats = self.beats();
        let lift = match stays.until {
            Until::NextRound => None,
            Until::Through(count) => Some(Position::count(count + 1)),
            Until::Before(count) => Some(Position::count(count)),
            Until::Lasting(counts) => Some(at.plus(Ratio::from_integer(counts))),
        };
        // Until a count of the next round: it stays past the end of this one.
        let lift = lift.filter(|lift| *lift > at && beats.is_none_or(|beats| lift.whole() <= beats.max(at.whole())));
        self.left_event(event(at, LeftAction::Keep));
        if let Some(lift) = lift {
            self.left_event(event(lift, LeftAction::Lift));
        }
        self.taken += 1;
        self.note(format!("finger {finger} of the left hand stays"), place);
    }

    pub(super) fn left_event(&mut self, event: LeftEvent) {
        let index = self.pattern_for_stroke(event.place);
        if let Some(pattern) = self.patterns.get_mut(index) {
            pattern.left.push(event);
            pattern.left.sort_by_key(|event| event.at);
        }
    }

    /// The moment that the talk is at: the stroke told last, or the count.
    pub(super) fn last_moment(&self) -> Option<Position> {
        let count = self.cursor.map(Position::count);
        match (self.last, count) {
            (Some(last), Some(count)) if last.whole() == count.whole() => Some(last),
            (_, Some(count)) => Some(count),
            (last, None) => last,
        }
    }

    fn last_left_finger(&self) -> Option<LeftFinger> {
        let pattern = self.pattern()?;
        let put = pattern
            .left
            .iter()
            .rev()
            .find_map(|event| Some((event.at, event.finger?)));
        let played = pattern
            .strokes
            .iter()
            .rev()
            .find_map(|placed| Some((placed.stroke.at, placed.stroke.left?)));
        [put, played]
            .into_iter()
            .flatten()
            .max_by_key(|(at, _)| *at)
            .map(|(_, finger)| finger)
    }

    fn place_of_finger(&self, finger: LeftFinger) -> Option<(u8, u8)> {
        let pattern = self.pattern()?;
        let put = pattern.left.iter().rev().filter(|event| event.finger == Some(finger));
        let played = pattern
            .strokes
            .iter()
            .rev()
            .filter(|placed| placed.stroke.left == Some(finger));
        put.map(|event| Some((event.string?, event.fret?)))
            .chain(played.map(|placed| Some((*placed.stroke.strings.first()?, placed.stroke.fret?))))
            .flatten()
            .next()
    }
}
