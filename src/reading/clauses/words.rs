use super::super::context::OwnSign;
use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::sayings::{among, sayings};
use super::super::statement::{ChordSaid, Told};
use super::Reader;
use super::fingers::{named_finger, right_fingers};
use super::names::is_sign;
use super::together::is_together;
use crate::music::hand::Finger;
use crate::music::stroke::Action;

impl Reader<'_> {
    pub(super) fn word(&mut self, index: usize) -> usize {
        let here = token(self.tokens, index);
        self.told.arrives |= here.is(Concept::Arrives);
        self.told.begins |= here.is(Concept::Begins);
        if matches!(here.word.as_str(), "cae" | "caen") && self.finger_falls(index) {
            return self.falls(index);
        }
        let Some(concept) = here.concepts.first() else {
            return self.plain_word(index);
        };
        match concept {
            Concept::Plain => {}
            Concept::On if here.word == "from" => {
                return self.taken_from(index).unwrap_or(index + 1);
            }
            Concept::Down
                if self.told.left.is_some_and(|left| left > 0)
                    && self.told.fingers.is_empty()
                    && self.told.when.is_none() => {}
            Concept::Down if before(self.tokens, index).is(Concept::ChordWord) && !self.context.typed => {}
            Concept::Down if self.holds_a_finger(index) => {}
            Concept::Down | Concept::Up if self.goes_elsewhere(index) || self.points_at_it(index) => {}
            // "the index, coming up, one up"
            Concept::Down | Concept::Up if self.says_it_again(index) => {}
            Concept::Down | Concept::Up => {
                let down = concept == Concept::Down;
                self.action(index, if down { Action::Down } else { Action::Up });
                self.told.how_many = self.strokes_counted(index);
            }
            Concept::Rasgueado => self.action(index, Action::Rasgueado),
            Concept::Alzapua => self.action(index, Action::Alzapua),
            // "es el tercer dedo el que tira": whose slurs they were that have been told.
            Concept::PullOff | Concept::HammerOn if self.says_who(index) => self.inert = true,
            // "index, middle and ring finger pull the third, the second and the first string"
            Concept::PullOff if !self.context.typed && (self.told.fingers.len() >= 2 || self.pull_together(index)) => {
                self.action(index, Action::Pluck)
            }
            Concept::PullOff if !self.takes_as_verb(index) || self.another_slur(index) => {
                if self.another_slur(index) {
                    self.close();
                }
                let how_many = before(self.tokens, index)
                    .number
                    .filter(|number| (2..=4).contains(number));
                self.action(index, Action::PullOff);
                self.told.how_many = how_many;
            }
            Concept::HammerOn => self.action(index, Action::HammerOn),
            // "tiras del dedo, un ligado": the slur has been told.
            Concept::Slur
                if matches!(self.told.actions.first(), Some(Action::PullOff | Action::HammerOn))
                    && !self.told.has_note() => {}
            // "It's thumb and slurs": what is to come, and no slur by itself.
            Concept::Slur if here.word.ends_with('s') && self.told.when.is_none() && !self.context.typed => {}
            Concept::Slur => {
                self.action(index, Action::HammerOn);
                self.told.slur = true;
            }
            Concept::Damp if !self.told.actions.contains(&Action::Damp) => {
                self.action(index, Action::Damp);
            }
            Concept::Tremolo => self.action(index, Action::Tremolo),
            Concept::Picado => self.action(index, Action::Picado),
            Concept::Pluck => self.action(index, Action::Pluck),
            Concept::Golpe | Concept::Tap => self.golpe(index),
            Concept::Silence => self.told.silence = true,
            Concept::Strum => self.told.strum = true,
            // "en vez del tas hacen un rasgueado": what is played begins.
            Concept::Play if self.negated && self.in_place_of => {
                self.close();
                self.negated = false;
                self.told.plays = true;
            }
            Concept::Play => self.told.plays = true,
            Concept::SameFinger => self.told.same_finger = true,
            Concept::LetRing => self.told.let_ring = true,
            Concept::Keep => self.told.still = true,
            Concept::Triplet | Concept::Semiquavers | Concept::Quavers | Concept::Crotchets | Concept::Sextuplet
                if self.figure(index).is_some() =>
            {
                let (figure, end) = self.figure(index).unwrap_or_default();
                self.told.figure = figure;
                return end;
            }
            Concept::Triplet => self.told.division = Some(3),
            Concept::Semiquavers => self.told.division = Some(4),
            Concept::Quavers => self.told.division = Some(2),
            Concept::Crotchets => self.told.division = Some(1),
            Concept::Sextuplet => self.told.division = Some(6),
            Concept::RestStroke => self.told.rest_stroke = Some(true),
            Concept::FreeStroke => self.told.rest_stroke = Some(false),
            // "sin el golpe, sólo el pulgar para abajo": what is played begins.
            Concept::Alone if self.negated && !self.context.punctuated && self.finger_comes(index) => {
                self.close();
                self.told.alone = true;
            }
            Concept::Alone => self.told.alone = true,
            Concept::Lift => self.told.lifts = true,
            Concept::ThisChord => self.told.chord = Some(ChordSaid::This),
            // "instead of the plain down": what is not played.
            Concept::Replaces
                if matches!(
                    here.word.as_str(),
                    "instead of" | "en vez de" | "en vez del" | "en lugar de" | "en lugar del"
                ) =>
            {
                self.close();
                self.negated = true;
                self.in_place_of = true;
            }
            // "and you're on 12 again with the thumb"
            Concept::Is
                if here.word == "again" && self.told.when.is_some() && !self.told.sounds() && self.arrives_home() =>
            {
                self.told.as_usual = true;
            }
            // "exactly that again on eight and again on nine"
            Concept::Is if here.word == "again" && self.told.when.is_some() && self.comes_once_more(index) => {
                let same = self.told.same;
                self.close();
                self.told.same = same;
            }
            // "there's no strum it's a golpe"
            Concept::Is
                if self.negated
                    && !self.context.punctuated
                    && !self.told.is_blank()
                    && !matches!(here.word.as_str(), "again" | "hay") =>
            {
                self.close();
            }
            // "cambiamos a si bemol, índice abajo": where the hand goes.
            Concept::Replaces if matches!(self.here(index + 1).word.as_str(), "a" | "al" | "to") => {}
            // "replaces the p dn there"
            Concept::Replaces if self.replaced_stroke(index) => {
                self.close();
                self.negated = true;
            }
            // "only the golpe, no strings": it sounds by itself.
            Concept::Negation if self.told.golpe && self.here(index + 1).is(Concept::StringWord) => {
                self.told.alone = true;
                return index + 2;
            }
            // "todo con el pulgar, sin acorde, en el tres la quinta": what is not held says how it is played.
            Concept::Negation if self.here(index + 1).is(Concept::ChordWord) && !self.context.punctuated => {
                return index + 2;
            }
            Concept::Negation if self.takes_back(index) => {
                self.close();
                self.told.corrects = true;
            }
            Concept::Negation => {
                // "the thumb goes down, and it is not heavy": how it is played.
                if self.told.sounds() && !self.context.typed && self.only_describes(index) {
                    self.close();
                }
                let plays = self.told.sounds() || self.told.has_note() && !self.told.fingers.is_empty();
                let adds = plays
                    && matches!(here.word.as_str(), "sin" | "without" | "no" | "ni")
                    && (index + 1..index + 3).any(|at| self.names_a_stroke(at));
                let runs_on = !self.context.punctuated
                    && self.told.sounds()
                    && !self.told.fingers.is_empty()
                    && before(self.tokens, index).word != "ya";
                // "seven is D minor, that's sixth and fifth not played"
                let chord_told = !self.context.punctuated
                    && self.told.when.is_some()
                    && matches!(self.told.chord, Some(ChordSaid::Named(_)))
                    && !plays;
                if here.word == "rather than" || adds || runs_on || chord_told || self.soft && !self.told.is_blank() {
                    self.close();
                }
                self.negated = true;
                self.told.denies = !self.told.sounds();
            }
            Concept::Correction if self.only_excuses(index) => {}
            Concept::Correction => {
                self.close();
                self.told.corrects = true;
                self.negated = false;
            }
            Concept::So => {
                self.close();
                self.recap = true;
            }
            Concept::Then => self.close(),
            // "Empieza en el 3, clavado.": exactly there.
            Concept::Same if here.word.starts_with("clavado") && self.told.begins => {}
            Concept::Same => {
                // "bass, down, up and you do exactly that again on eight"
                let does = matches!(
                    before(self.tokens, index).word.as_str(),
                    "do" | "haces" | "hacemos" | "hace"
                );
                if does && !self.context.punctuated && self.told.sounds() {
                    self.close();
                }
                return self.same(index);
            }
            Concept::AsUsual => self.told.as_usual = true,
            // "el medio y el anular juntos": the fingers of one stroke, and not this stroke with the one before.
            Concept::With if is_together(self.here(index)) && self.told.fingers.len() >= 2 => {}
            Concept::With if self.note_sounds_with(index) => {
                self.close();
                self.told.with = true;
            }
            Concept::And | Concept::With => self.and(index),
            _ => {}
        }
        index + 1
    }

    /// "tiran a la vez índice, medio y anular": several fingers of the right hand stand behind.
    fn pull_together(&self, index: usize) -> bool {
        let together = (index + 1..index + 4).any(|at| is_together(self.here(at)));
        let fingers = (index + 1..index + 9)
            .filter(|at| named_finger(self.here(*at)).is_some())
            .count();
        together && fingers >= 2
    }

    /// "sorry about the echo", "perdona que lo hago sin pensar": nothing is taken back.
    fn only_excuses(&self, index: usize) -> bool {
        let begs = ["sorry", "perd", "disculp"]
            .iter()
            .any(|word| self.here(index).word.starts_with(word));
        begs && matches!(self.here(index + 1).word.as_str(), "about" | "for" | "que" | "por")
    }

    /// A stroke by a word of the trade or of the writer's own.
    fn names_a_stroke(&self, index: usize) -> bool {
        let own = |sign: &OwnSign| matches!(sign.words.as_slice(), [word] if is_sign(self.here(index), word));
        self.here(index)
            .is_any(&[Concept::Golpe, Concept::Tap, Concept::Down, Concept::Up])
            || self.context.aliases.iter().any(own)
    }

    /// A finger of the right hand, with or without an article.
    fn finger_comes(&self, index: usize) -> bool {
        let at = index + 1 + usize::from(self.here(index + 1).is(Concept::Article));
        right_fingers(self.tokens, at, self.context).is_some()
    }

    /// "roll, pinky a m i": a row of fingers without the thumb is a rasgueado's.
    fn rolls_fingers(&self, index: usize) -> bool {
        let mut fingers = Vec::new();
        let mut at = index + 1;
        while fingers.len() < 5 && at < index + 10 {
            match right_fingers(self.tokens, at, self.context) {
                Some((found, _, end)) => {
                    fingers.extend(found);
                    at = end;
                }
                None => at += 1,
            }
        }
        fingers.len() >= 3 && !fingers.contains(&Finger::P)
    }

    /// "index up, no, index down": a "no" that stands alone behind a stroke.
    pub(super) fn takes_back(&self, index: usize) -> bool {
        let alone = before(self.tokens, index).mark.is_some() && self.here(index + 1).mark.is_some();
        let word = matches!(self.here(index).word.as_str(), "no");
        let told = |told: &Told| told.sounds() || !told.strings.is_empty();
        alone && word && !self.context.typed && (told(&self.told) || self.out.last().is_some_and(Told::sounds))
    }

    pub(super) fn plain_word(&mut self, index: usize) -> usize {
        if let Some(end) = self.done_before(index) {
            return end;
        }
        match self.here(index).word.as_str() {
            // "that note sits where the th v used to be": what was there is not played.
            "where" | "donde" if self.of_the_past(index) => self.inert = true,
            "roll" | "rolls" | "roll it" if self.rolls_fingers(index) => self.action(index, Action::Rasgueado),
            "just" | "only" | "solo"
                if self.negated && !before(self.tokens, index).is(Concept::Negation) && !self.context.punctuated =>
            {
                self.close()
            }
            // "instead of the thumb you do ring finger down": what is played begins.
            word if self.negated && self.in_place_of && among(&sayings().words.players, word) => {
                self.close();
                self.negated = false;
            }
            // "the thumb goes down while the ring finger makes a golpe"
            "while" | "mientras" if self.told.sounds() && self.finger_comes(index) => self.with(),
            // "the one that used to go with 7 is gone"
            "used" if self.here(index + 1).word == "to" => self.inert = true,
            // "leave the golpe out on four"
            "leave" | "leaving" if (index + 2..index + 5).any(|at| self.here(at).word == "out") => {
                self.close();
                self.negated = true;
                self.told.denies = true;
            }
            // "anular en la segunda, pero al aire": its fret.
            "but" | "pero" if self.here(index + 1).is(Concept::Open) && self.told.has_note() => {}
            "but" | "pero" | "sino" | "except" => self.close(),
            // "exactly the same thing, only that on the 4 the thumb goes to the fourth string"
            "only" | "solo" if matches!(self.here(index + 1).word.as_str(), "that" | "que") => self.close(),
            "still" | "todavia" | "sigue" | "aun" => self.told.still = true,
            _ => {}
        }
        index + 1
    }

    /// "tiras" in a clause that already has an action stays part of it.
    pub(super) fn takes_as_verb(&self, _index: usize) -> bool {
        self.told.actions.contains(&Action::PullOff)
    }

    /// "un tirón al traste uno y otro tirón al aire".
    fn another_slur(&self, index: usize) -> bool {
        let led = matches!(
            before(self.tokens, index).word.as_str(),
            "otro" | "otra" | "another" | "un"
        );
        led && self.takes_as_verb(index) && !self.told.frets.is_empty()
    }
}
