use super::super::lexicon::Concept;
use super::super::moments::moment_at;
use super::Reader;
use super::fingers::right_fingers;
use super::is_count::is_count;
use crate::music::stroke::Action;

impl Reader<'_> {
    /// What stands behind a finger says that it strikes: "index down", "index goes up", "index on the third string".
    fn strikes(&self, behind: usize) -> bool {
        (behind..behind + 2).any(|at| {
            self.here(at)
                .is_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Tap, Concept::Play])
        }) || self.note_follows(behind.saturating_sub(1))
    }

    /// "and" ends a clause when a new stroke follows it.
    pub(super) fn and(&mut self, index: usize) {
        if self.here(index).is(Concept::With) && !self.here(index).is(Concept::And) {
            self.with();
            return;
        }
        let mut at = index + 1;
        while self.here(at).is(Concept::Article)
            || matches!(
                self.here(at).word.as_str(),
                "a" | "an" | "it" | "then" | "there's" | "with"
            )
        {
            at += 1;
        }
        // "you knock with the ring finger and go up with the index"
        let goes = matches!(
            self.here(at).word.as_str(),
            "go" | "goes" | "come" | "comes" | "going" | "coming"
        );
        if goes && self.here(at + 1).is_any(&[Concept::Down, Concept::Up]) && self.told.sounds() {
            self.close();
            return;
        }
        let next = self.here(at);
        if next.is(Concept::With) || self.here(index + 1).is(Concept::With) {
            return;
        }
        let finger = right_fingers(self.tokens, at, self.context);
        let finger_follows = finger.is_some();
        let plucks = self.told.actions.is_empty() || self.told.actions.first() == Some(&Action::Pluck);
        // "a rasgueado with little, ring, middle and index": the last of its fingers, unless that finger strikes by itself.
        let opens = self.told.actions.first() == Some(&Action::Rasgueado)
            && finger.is_some_and(|(_, _, end)| !self.strikes(end));
        let lists_fingers =
            !self.told.fingers.is_empty() && !self.told.golpe && !self.told.has_note() && (plucks || opens);
        // "the ring finger goes down on s4 f3 and p plays it": one note, told for both hands.
        let both_hands = finger_follows
            && self.told.left.is_some()
            && !self.told.frets.is_empty()
            && self.told.fingers.is_empty()
            && self.told.actions.is_empty();
        if both_hands {
            return;
        }
        // "la sexta en el 1 y la quinta en el 3": behind a count that stands behind its note comes another note.
        let counted_behind =
            self.told.when.is_some() && self.told.when_at > self.told.start + 3 && self.told.has_note();
        let begins_stroke = finger_follows && !lists_fingers
            || counted_behind && (next.ordinal.is_some() || next.is(Concept::StringWord))
            || next.is_any(&[
                Concept::On,
                Concept::Down,
                Concept::Up,
                Concept::Rasgueado,
                Concept::PullOff,
                Concept::HammerOn,
                Concept::Damp,
            ]) && at == index + 1
            || next.is_any(&[Concept::Negation, Concept::Condition])
            // "the finger falls and the right hand does not pluck again": the other hand's is told.
            || next.is(Concept::RightHand) && self.here(at + 1).is(Concept::Negation)
            || next.is(Concept::Is) && self.negated
            || moment_at(self.tokens, at, self.context).is_some()
            || next.number.is_some()
                && is_count(self.tokens, at, self.context, true)
                && !(self.here(at + 1).joined && self.here(at + 1).is_mark('ª'));
        if begins_stroke && (self.has_event() || !self.told.is_blank()) {
            self.close();
        }
    }
}
