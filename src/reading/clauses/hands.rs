use super::super::lexicon::Concept;
use super::super::moments::before;
use super::Reader;
use super::fingers::{fingers_one_by_one, named_finger, right_fingers};
use crate::music::hand::Finger;
use crate::music::stroke::Action;

impl Reader<'_> {
    /// "first finger", "finger 2", "LH 2", "dedo uno".
    pub(super) fn left_finger(&mut self, index: usize) -> Option<usize> {
        // "i up, LH 1 on s3 f1": a strum is no note that a finger stops.
        let strum = matches!(self.told.actions.first(), Some(Action::Down | Action::Up)) && !self.told.has_note();
        if self.here(index).is(Concept::LeftHand) && self.here(index + 2).is(Concept::On) && self.soft && strum {
            self.close();
        }
        let leads = !self.told.sounds() && !self.told.has_note() && self.told.fingers.is_empty();
        let end = self.left_finger_named(index)?;
        self.told.left_leads = leads && self.told.left.is_some_and(|finger| finger > 0);
        Some(end)
    }

    /// `4ª t2 (Mi) con el 2`, "string 5, fret 3, with the 3": behind a stopped note its finger is a number alone.
    fn stopped_with(&mut self, index: usize) -> Option<usize> {
        if !matches!(self.here(index).word.as_str(), "con" | "with") {
            return None;
        }
        let article = usize::from(matches!(self.here(index + 1).word.as_str(), "el" | "the"));
        let at = index + 1 + article;
        let (number, next) = (self.here(at), self.here(at + 1));
        let of_something = next.joined && next.mark.is_none_or(|mark| matches!(mark, 'ª' | '-'))
            || next.is_any(&[
                Concept::StringWord,
                Concept::FretWord,
                Concept::BeatWord,
                Concept::Times,
            ])
            || next.is_any(&[
                Concept::Down,
                Concept::Up,
                Concept::Golpe,
                Concept::PartWord,
                Concept::ChordWord,
            ]);
        let finger = number
            .number
            .filter(|finger| (1..=4).contains(finger) && !of_something)?;
        let stopped = self.told.frets.last().is_some_and(|fret| *fret > 0) && self.told.left.is_none();
        let led = self.context.typed && !number.spelled || article > 0;
        let finger = u8::try_from(finger).ok().filter(|_| stopped && led)?;
        self.told.left = Some(finger);
        Some(at + 1)
    }

    fn left_finger_named(&mut self, index: usize) -> Option<usize> {
        if let Some(end) = self.stopped_with(index) {
            return Some(end);
        }
        let here = self.here(index);
        if here.is(Concept::LeftHand) {
            let number = self.here(index + 1).number.filter(|n| (1..=4).contains(n));
            let mut row = index + 1;
            while self.here(row).number.is_some_and(|n| n <= 4) && !self.here(row).joined
                || self.here(row).is_any(&[Concept::And]) && self.here(row + 1).number.is_some()
            {
                row += 1;
            }
            if row > index + 2 {
                self.told.left = Some(0);
                return Some(row);
            }
            self.told.left = number.and_then(|n| u8::try_from(n).ok()).or(Some(0));
            // "LH 3 or 4 on f4": the other one would do as well.
            let or = matches!(self.here(index + 2).word.as_str(), "or" | "o" | "u");
            let other = or && self.here(index + 3).number.is_some_and(|n| n <= 4);
            return Some(
                index
                    + if number.is_none() {
                        1
                    } else if other {
                        4
                    } else {
                        2
                    },
            );
        }
        if here.is(Concept::FingerWord) {
            let next = self.here(index + 1);
            let number = next.number.or(next.ordinal).filter(|n| (1..=4).contains(n))?;
            self.told.left = u8::try_from(number).ok();
            return Some(index + 2);
        }
        if before(self.tokens, index).word.ends_with(" dedo") {
            let number = here.number.or(here.ordinal).filter(|n| (1..=4).contains(n))?;
            self.told.left = u8::try_from(number).ok();
            return Some(index + 1);
        }
        if let Some((finger, end)) = self.stopping_finger(index) {
            self.told.left = Some(finger);
            self.fresh = false;
            return Some(end);
        }
        let number = here.ordinal.filter(|n| (1..=4).contains(n))?;
        if self.here(index + 1).is(Concept::FingerWord) {
            self.told.left = u8::try_from(number).ok();
            return Some(index + 2);
        }
        None
    }

    /// "the ring finger goes down on s4 f3", "el anular baja al tercer traste": a finger by name that stops a string is the
    /// left hand's.
    pub(super) fn stopping_finger(&self, index: usize) -> Option<(u8, usize)> {
        let finger = match named_finger(self.here(index))? {
            Finger::I => 1,
            Finger::M => 2,
            Finger::A => 3,
            Finger::X => 4,
            Finger::P => return None,
        };
        let mut at = index + 1;
        if self.here(at).is(Concept::FingerWord) {
            at += 1;
        }
        let verb = matches!(
            self.here(at).word.as_str(),
            "goes"
                | "comes"
                | "drops"
                | "sits"
                | "presses"
                | "stops"
                | "frets"
                | "holds"
                | "lands"
                | "stays"
                | "moves"
                | "jumps"
                | "pisa"
                | "va"
                | "baja"
                | "cae"
                | "aprieta"
                | "se queda"
                | "pasa"
                | "salta"
        );
        if !verb {
            return None;
        }
        at += 1;
        if self.here(at).is(Concept::Down) {
            at += 1;
        }
        while self.here(at).is_any(&[Concept::On, Concept::Article])
            || matches!(self.here(at).word.as_str(), "to" | "at" | "behind" | "over")
        {
            at += 1;
        }
        let stops = (at..at + 7)
            .take_while(|at| {
                let fret_follows = self.here(*at).is_mark(',') && self.here(at + 2).is(Concept::FretWord);
                fret_follows || self.here(*at).mark.is_none_or(|mark| mark == 'ª')
            })
            .any(|at| {
                let typed = matches!(self.here(at).word.as_str(), "f" | "t" | "tr") && self.here(at + 1).joined;
                typed && self.here(at + 1).number.is_some() || self.here(at).is(Concept::FretWord)
            });
        stops.then_some((finger, at))
    }

    /// In speech without marks a further finger on a string is a further note: "thumb on the fourth string at seven index …".
    fn run_on(&mut self, end: usize, fingers: usize) {
        let told = &self.told;
        let led_to_a_string =
            (end..end + 4).any(|at| self.here(at).is(Concept::StringWord) || self.here(at).ordinal.is_some());
        let placed = told.when.is_some() || led_to_a_string;
        let whole = told.has_note() && !told.fingers.is_empty() && placed && !told.with_pending;
        let knocks = (end..end + 5).any(|at| self.here(at).is_any(&[Concept::Golpe, Concept::Tap]));
        if !self.context.punctuated && whole && fingers == 1 && !knocks {
            self.close();
        }
    }

    /// "middle and index alternating", "starting with the middle": said of a passage, not of one stroke. The index behind.
    fn taking_turns(&self, index: usize) -> Option<usize> {
        let (fingers, _, mut end) = right_fingers(self.tokens, index, self.context)?;
        let led = before(self.tokens, index);
        if let Some(end) = self.fingers_by_turns(index) {
            return Some(end);
        }
        let begins = |word: &str| matches!(word, "starting" | "starting with" | "empezando" | "beginning");
        let starts = begins(&led.word)
            || (1..=3).any(|back| index.checked_sub(back).is_some_and(|at| begins(&self.here(at).word)));
        if starts && fingers.len() == 1 && self.tokens.iter().any(|token| token.is(Concept::Alternating)) {
            return Some(end);
        }
        if fingers.len() == 1 {
            let linked = self.here(end).is(Concept::And) || self.here(end).is_mark('/');
            let (second, _, behind) = linked
                .then(|| right_fingers(self.tokens, end + 1, self.context))
                .flatten()?;
            end = (second.len() == 1).then_some(behind)?;
        }
        self.here(end).is(Concept::Alternating).then_some(end)
    }

    /// "the down with the golpe again, index and ring": the first finger is the strum's, the second the golpe's.
    fn strum_and_golpe(&mut self, end: usize, fingers: &[Finger]) -> Option<usize> {
        let strums = self.told.is_one_strum() && self.told.golpe;
        let waits = self.told.fingers.is_empty() && self.told.golpe_fingers.is_empty() && !self.context.typed;
        let ([first], true) = (fingers, strums && waits && self.here(end).is(Concept::And)) else {
            return None;
        };
        let (second, _, behind) = right_fingers(self.tokens, end + 1, self.context)?;
        let strikes = self.here(behind).is_any(&[Concept::Down, Concept::Up, Concept::Golpe]);
        let ([other], false) = (second.as_slice(), strikes) else {
            return None;
        };
        self.told.fingers = vec![*first];
        self.told.golpe_fingers = vec![*other];
        self.soft = false;
        self.fresh = false;
        Some(behind)
    }

    /// `p s5, i, m, a`: where each finger has its string, fingers between commas are notes one after the other.
    fn each_on_its_string(&mut self, index: usize, end: usize, fingers: &[Finger]) -> Option<usize> {
        let parted = (index..end).any(|at| self.here(at).is_mark(',')) || fingers.len() == 1 && self.soft;
        let own = |finger: &Finger| self.context.string_of(*finger).is_some();
        if !parted || !fingers.iter().any(own) {
            return None;
        }
        for finger in fingers {
            if !self.told.fingers.is_empty() {
                self.close();
            }
            self.told.fingers = vec![*finger];
        }
        self.soft = false;
        self.fresh = false;
        Some(end)
    }

    /// "index middle index middle": two fingers by turns, said over and not told of any note. The index behind.
    fn fingers_by_turns(&self, index: usize) -> Option<usize> {
        let (row, end) = fingers_one_by_one(self.tokens, index, self.context);
        let turns = row
            .windows(3)
            .all(|three| matches!(three, [one, other, again] if one == again && one != other));
        let free = self.told.when.is_none() && !self.told.has_note() && !self.told.sounds();
        (row.len() >= 4 && turns && free && !self.context.typed).then_some(end)
    }

    pub(super) fn right_finger(&mut self, index: usize) -> Option<usize> {
        if let Some(end) = self.taking_turns(index) {
            return Some(end);
        }
        let (fingers, as_written, end) = right_fingers(self.tokens, index, self.context)?;
        if let Some(last) = self.each_on_its_string(index, end, &fingers) {
            return Some(last);
        }
        if let Some(last) = self.strum_and_golpe(end, &fingers) {
            return Some(last);
        }
        self.run_on(end, fingers.len());
        // "together with the thumb a golpe": the thumb has been told.
        let told_already = self.told.with && self.out.last().is_some_and(|last| last.fingers == fingers);
        let knocks_next = (end..end + 4).any(|at| self.here(at).is_any(&[Concept::Golpe, Concept::Tap]));
        if told_already && !self.told.sounds() && knocks_next {
            return Some(end);
        }
        let next = self.here(end);
        let leads =
            next.is_any(&[Concept::Down, Concept::Up, Concept::StringWord]) || matches!(next.word.as_str(), "s" | "c");
        let strum_follows =
            next.is_any(&[Concept::Down, Concept::Up]) && self.told.sounds() && !self.told.fingers.is_empty();
        if strum_follows {
            self.close();
        }
        // "and a tok on top of that one, ring finger as usual": the golpe's finger, which is known.
        if self.told.golpe && self.told.golpe_fingers == fingers && self.told.has_note() && !leads {
            self.soft = false;
            return Some(end);
        }
        let golpe_only = self.told.golpe && (self.told.golpe_fingers.is_empty()) && !leads;
        if self.told.frets.iter().any(|fret| *fret > 0) && fingers == [Finger::X] && self.context.alternating {
            self.told.left = Some(4);
            return Some(end);
        }
        let strum_waits = self.told.fingers.is_empty() && !self.told.golpe;
        let knocks = self.told.with_pending
            && self.told.sounds()
            && fingers.len() == 1
            && self.told.golpe_fingers.is_empty()
            && (end..end + 4)
                .take_while(|at| self.here(*at).mark.is_none())
                // "a down with the index and a golpe": the finger is the strum's as long as that has none.
                .take_while(|at| !strum_waits || !self.here(*at).is_any(&[Concept::And, Concept::With]))
                .any(|at| self.here(at).is_any(&[Concept::Golpe, Concept::Tap]));
        if golpe_only || knocks {
            self.told.golpe_fingers = fingers;
            self.soft = false;
        } else {
            let rolling =
                matches!(self.told.actions.first(), Some(Action::Rasgueado | Action::Pluck)) && !self.told.has_note();
            let taken = !self.told.fingers.is_empty() && !rolling && (self.told.sounds() || self.told.has_note());
            self.part(taken);
            let before_new_note =
                self.context.typed && !self.told.fingers.is_empty() && self.has_event() && fingers.len() == 1 && leads;
            if before_new_note {
                self.close();
            }
            let row = fingers.len() > 1;
            for finger in fingers {
                if row || !self.told.fingers.contains(&finger) {
                    self.told.fingers.push(finger);
                }
            }
            if as_written.is_some() {
                self.told.little_finger_as = as_written;
            }
        }
        self.fresh = false;
        Some(end)
    }
}
