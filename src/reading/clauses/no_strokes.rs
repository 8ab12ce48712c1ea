use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, moment_at};
use super::super::sayings::{among, any_among, sayings};
use super::super::statement::ChordSaid;
use super::Reader;
use super::fingers::right_fingers;
use crate::music::stroke::Action;

impl Reader<'_> {
    /// "bajas al segundo traste", "subimos una cuerda", "las notas bajan": no stroke, where no finger of the right hand plays it.
    pub(super) fn goes_elsewhere(&self, index: usize) -> bool {
        let word = self.here(index).word.as_str();
        // "on seven we come down hard": the players, not a finger.
        let comes = matches!(before(self.tokens, index).word.as_str(), "come" | "came" | "coming");
        let player = before(self.tokens, index.saturating_sub(1));
        if comes && matches!(player.word.as_str(), "we" | "you" | "i" | "they") && self.told.fingers.is_empty() {
            return true;
        }
        // "on 8 we go down a string"
        let a_string = self.here(index + 2).is(Concept::StringWord)
            && (matches!(self.here(index + 1).word.as_str(), "a" | "one") || self.here(index + 1).number == Some(1));
        if a_string && self.told.fingers.is_empty() {
            return true;
        }
        // "it wakes the room up"
        let with_up = |at: usize| among(&sayings().words.with_up, &self.here(at).word);
        let untold = self.told.fingers.is_empty() && self.told.when.is_none();
        if untold && self.here(index).is(Concept::Up) && (index.saturating_sub(4)..index).any(with_up) {
            return true;
        }
        // "you can feel the foot go down"
        let limb = |at: usize| among(&sayings().words.no_hands, &self.here(at).word);
        if self.told.fingers.is_empty() && (index.saturating_sub(3)..index).any(limb) {
            return true;
        }
        // "tal como la tenéis arriba": where it stands on the page.
        let written = any_among(&sayings().words.standing_written, &before(self.tokens, index).word);
        let likened = (index.saturating_sub(6)..index)
            .any(|at| self.here(at).is(Concept::Same) || self.here(at).word.contains("como"));
        if written && likened && matches!(word, "arriba" | "abajo") {
            return true;
        }
        let verb = word.starts_with("baj") || word.starts_with("sub");
        if !verb || self.context.language != Language::Spanish {
            return false;
        }
        let next = self.here(index + 1);
        let other = matches!(next.word.as_str(), "hasta" | "una" | "medio" | "dos" | "tres" | "al")
            && (index + 2..index + 5).any(|at| {
                self.here(at)
                    .is_any(&[Concept::StringWord, Concept::FretWord, Concept::Unit])
                    || self.here(at).word == "tono"
            });
        let lone = matches!(word, "baja" | "bajando" | "sube" | "subiendo");
        let finger = |at: usize| right_fingers(self.tokens, at, self.context).is_some();
        let played = !self.told.fingers.is_empty()
            || (index + 1..index + 6).any(finger)
            || self.told.chord == Some(ChordSaid::This);
        other || !lone && !played && !self.strums_on_a_count(index)
    }

    /// "en el 7 subes", "bajas en el tres": the hand's, where a count is all that stands beside the verb.
    pub(super) fn strums_on_a_count(&self, index: usize) -> bool {
        let person = matches!(
            self.here(index).word.as_str(),
            "bajas" | "subes" | "bajais" | "subis" | "bajamos" | "subimos"
        );
        let next = self.here(index + 1);
        let ends = next.mark.is_some() || next.word.is_empty() || next.is_any(&[Concept::And, Concept::Then]);
        let count = index + 2 + usize::from(self.here(index + 2).is(Concept::Article));
        let counted = self.here(count).number.is_some() && !self.here(count + 1).is(Concept::FretWord);
        let behind = next.is(Concept::On) && (counted || moment_at(self.tokens, count, self.context).is_some());
        person && (behind || self.told.when.is_some() && (ends || next.is(Concept::On)))
    }

    /// "it is not heavy", "no es fuerte": up to the next mark nothing is named that could be played.
    pub(super) fn only_describes(&self, index: usize) -> bool {
        let lead = before(self.tokens, index);
        let pronoun = before(self.tokens, index.saturating_sub(1));
        let of_it = lead.is(Concept::Is) && matches!(pronoun.word.as_str(), "it" | "that" | "and" | "eso" | "y")
            || matches!(lead.word.as_str(), "it's" | "that's");
        let played = |at: &usize| {
            let here = self.here(*at);
            here.is_any(&[
                Concept::Down,
                Concept::Up,
                Concept::Golpe,
                Concept::Rasgueado,
                Concept::StringWord,
                Concept::ChordWord,
                Concept::Silence,
            ]) || here.number.is_some()
                || right_fingers(self.tokens, *at, self.context).is_some()
        };
        let part = (index + 1..self.tokens.len()).take_while(|at| self.here(*at).mark.is_none());
        of_it && !part.into_iter().any(|at| played(&at))
    }

    /// "just the index, coming up, one up": the stroke of the clause, said once more.
    pub(super) fn says_it_again(&self, index: usize) -> bool {
        let down = self.here(index).is(Concept::Down);
        let same = self.told.actions.as_slice() == [if down { Action::Down } else { Action::Up }];
        let lead = before(self.tokens, index);
        let one = lead.spelled && lead.number == Some(1);
        let only = matches!(
            before(self.tokens, index.saturating_sub(1)).word.as_str(),
            "only" | "just"
        );
        if same && only && matches!(lead.word.as_str(), "a" | "an") && !self.context.typed {
            return true;
        }
        let behind_comma = before(self.tokens, index.saturating_sub(1)).mark.is_some();
        same && one && behind_comma && !self.context.typed
    }

    /// "el que tira", "the one that pulls off".
    pub(super) fn says_who(&self, index: usize) -> bool {
        let (lead, one) = (before(self.tokens, index), before(self.tokens, index.saturating_sub(1)));
        let spanish = lead.word == "que" && matches!(one.word.as_str(), "el" | "la");
        spanish || matches!(lead.word.as_str(), "that" | "who") && one.word == "one"
    }

    /// "cae el tres en el tercer traste": a finger of the left hand falls on its fret.
    pub(super) fn finger_falls(&self, index: usize) -> bool {
        let finger = self
            .here(index + 2)
            .number
            .is_some_and(|finger| (1..=4).contains(&finger));
        let article = self.here(index + 1).word == "el";
        let fret = (index + 3..index + 8).any(|at| self.here(at).is(Concept::FretWord));
        finger && article && fret && !self.here(index + 3).is_any(&[Concept::BeatWord, Concept::And])
    }

    pub(super) fn falls(&mut self, index: usize) -> usize {
        let finger = self.here(index + 2).number;
        self.action(index, Action::HammerOn);
        self.told.left = finger.and_then(|finger| u8::try_from(finger).ok());
        index + 3
    }

    /// "hold that finger down", "keep your third finger down": the left hand's, and no stroke.
    pub(super) fn holds_a_finger(&self, index: usize) -> bool {
        let Some(verb) = (index.saturating_sub(6)..index).rfind(|at| self.here(*at).is(Concept::Keep)) else {
            return false;
        };
        let finger = |at: usize| {
            self.here(at)
                .is_any(&[Concept::FingerWord, Concept::SameFinger, Concept::LeftHand])
        };
        let plays = |at: usize| right_fingers(self.tokens, at, self.context).is_some();
        (verb + 1..index).any(finger) && !(verb + 1..index).any(plays)
    }

    pub(super) fn arrives_home(&self) -> bool {
        let arriving = &sayings().words.arriving;
        self.tokens.iter().take(3).any(|token| among(arriving, &token.word))
    }

    /// What is replaced is a stroke, not a span of counts.
    pub(super) fn replaced_stroke(&self, index: usize) -> bool {
        let strokes = [
            Concept::Down,
            Concept::Up,
            Concept::Golpe,
            Concept::Rasgueado,
            Concept::Strum,
        ];
        (index + 1..index + 6)
            .take_while(|at| self.here(*at).number.is_none())
            .any(|at| self.here(at).is_any(&strokes))
    }

    pub(super) fn of_the_past(&self, index: usize) -> bool {
        (index + 1..index + 8).any(|at| {
            matches!(
                self.here(at).word.as_str(),
                "used" | "estaba" | "estaban" | "iba" | "iban" | "habia"
            ) || self.here(at).word == "was" && self.here(at + 1).word != "the"
        })
    }
}
