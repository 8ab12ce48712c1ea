use super::super::context::OwnSign;
use super::super::lexicon::{Concept, Language};
use super::super::moments::{Part, When, before};
use super::super::pitch_words::pitch_at;
use super::super::says::Kind;
use super::super::statement::{ChordSaid, Told};
use super::Reader;
use crate::music::fretboard::Guitar;
use crate::music::pitch::NoteName;
use crate::music::stroke::Action;

/// A sign in capitals is only that sign: `D` is not "d".
pub(super) fn is_sign(token: &super::super::tokens::Token, sign: &str) -> bool {
    if sign.chars().any(char::is_uppercase) {
        token.raw == sign
    } else {
        token.word == sign
    }
}

impl Reader<'_> {
    pub(super) fn alias(&mut self, index: usize) -> Option<usize> {
        if let Some(end) = self.gesture(index) {
            return Some(end);
        }
        if self.context.aliases.is_empty() || self.bracketed(index) && self.told.has_note() {
            return None;
        }
        let rest = self.tokens.get(index..)?;
        for OwnSign {
            words,
            action,
            fingers,
            strings,
        } in &self.context.aliases
        {
            let fits = words.len() <= rest.len() && words.iter().zip(rest).all(|(word, token)| is_sign(token, word));
            if !fits {
                continue;
            }
            match action {
                Some(Action::Golpe) => {
                    self.golpe(index);
                    self.told.golpe_fingers.extend(fingers.iter().copied());
                }
                Some(action) => {
                    self.action(index, *action);
                    self.told.fingers.extend(fingers.iter().copied());
                    self.told.strings.extend(strings.iter().copied());
                }
                None => {
                    self.part(self.told.sounds() && !self.told.fingers.is_empty());
                    self.told.fingers.extend(fingers.iter().copied());
                }
            }
            return Some(index + words.len());
        }
        None
    }

    /// "En el 1, chaca": the strokes that the word stands for, from the moment told on.
    fn gesture(&mut self, index: usize) -> Option<usize> {
        let context = self.context;
        let (word, end) = (&self.tokens.get(index)?.word, self.here(index).end);
        let gesture = context.gestures.iter().find(|gesture| gesture.word == **word)?;
        // "En el 7 no hay ni pum ni chaca"
        if self.negated {
            return Some(index + 1);
        }
        if self.told.sounds() || self.told.has_note() {
            self.close();
        }
        let base = std::mem::take(&mut self.told);
        let count = base.when.and_then(|when| when.count);
        for (nth, stroke) in gesture.strokes.iter().enumerate() {
            let own = stroke.when.map_or(Part::Whole, |when| when.part);
            let part = base.when.map(|when| when.part).filter(|_| nth == 0).unwrap_or(own);
            let when = When {
                count: count.filter(|_| nth == 0),
                part,
            };
            self.told = Told {
                when: (count.is_some() || nth > 0).then_some(when),
                when_at: base.when_at,
                start: base.start,
                end,
                chord: base.chord.clone().filter(|_| nth == 0),
                chord_cued: base.chord_cued && nth == 0,
                ..stroke.clone()
            };
            self.close();
        }
        Some(index + 1)
    }

    pub(super) fn pitch(&mut self, index: usize) -> Option<usize> {
        if let Some(note) = self.note_behind_comma(index) {
            self.told.notes.push(note);
            return Some(index + 1);
        }
        if let Some((note, end)) = self.note_that_sounds(index).or_else(|| self.name_in_front(index)) {
            self.told.notes.push(note);
            return Some(end);
        }
        let word = pitch_at(self.tokens, index, self.context.language, self.context.typed)?;
        if self.letters_a_heading(index) {
            return Some(index + word.length);
        }
        let end = index + word.length;
        if self.here(end).is(Concept::Phrygian) || self.here(end).is(Concept::StringWord) {
            return Some(end + 1);
        }
        // "ese salto del fa al sol sostenido", "the E is the quietest note": the talk is of notes.
        let of_notes = self.told.when.is_none() && (self.between_names(index, end) || self.is_called_a_note(end));
        if of_notes && word.quality.is_empty() {
            return Some(end);
        }
        let chordal = word.qualified && !word.quality.is_empty()
            || self.here(end).is(Concept::ChordWord)
            || self.here(end).is(Concept::Barre);
        let noted = before(self.tokens, index).is_any(&[])
            || matches!(before(self.tokens, index).word.as_str(), "note" | "nota");
        if !chordal
            && (self.told.has_note()
                || noted
                || self
                    .told
                    .actions
                    .iter()
                    .any(|action| matches!(action, Action::PullOff | Action::HammerOn | Action::Picado)))
        {
            let left_behind = matches!(
                before(self.tokens, index).word.as_str(),
                "from" | "that" | "de" | "del" | "desde"
            ) && self
                .told
                .actions
                .iter()
                .any(|action| matches!(action, Action::PullOff | Action::HammerOn));
            if !left_behind {
                self.told.notes.push(word.root);
            }
        } else {
            let previous = before(self.tokens, index);
            let (previous, next) = (previous.clone(), self.here(end).clone());
            let behind = next.word.as_str();
            // "pasas a si bemol" is where the hand goes.
            let article = match self.context.language {
                Language::English => matches!(previous.word.as_str(), "a" | "an"),
                Language::Spanish => matches!(previous.word.as_str(), "un" | "una"),
            };
            let a_note = article && !word.qualified
                || matches!(behind, "at the end" | "underneath" | "debajo" | "bajito" | "suelto")
                || matches!(behind, "at" | "in" | "on" | "en")
                    && (end + 1..end + 4)
                        .any(|at| matches!(self.here(at).word.as_str(), "bottom" | "bass" | "top" | "bajo" | "ear"));
            let low_or_high = matches!(behind, "grave" | "agudo");
            if (low_or_high || self.place_follows(index, word.root)) && !word.qualified {
                self.told.notes.push(word.root);
            } else if !a_note {
                // "la menor en el 1, mi siete en el 3"
                let anew = previous.is_mark(',');
                if anew && matches!(self.told.chord, Some(ChordSaid::Named(_))) && self.told.when.is_some() {
                    self.close();
                }
                self.told.chord = Some(ChordSaid::Named(word.chord()));
                self.told.bracketed = previous.is_mark('(')
                    || self.bracketed(index)
                        && (previous.is(Concept::Is)
                            || matches!(previous.word.as_str(), "on" | "en" | "sobre" | "over"));
                self.told.chord_cued = previous.is(Concept::On)
                    || previous.is_mark('(')
                    || previous.mark.is_some()
                    || previous.word.is_empty()
                    || matches!(behind, "now" | "ya" | "again" | "otra" | "chord");
            }
        }
        Some(end)
    }

    /// "from F to G sharp", "del fa al sol": one of two names that something goes between.
    fn between_names(&self, index: usize, end: usize) -> bool {
        let name = |at: usize| pitch_at(self.tokens, at, self.context.language, self.context.typed).is_some();
        let lead = before(self.tokens, index).word.as_str();
        let to = |at: usize| matches!(self.here(at).word.as_str(), "to" | "al" | "a");
        let goes = matches!(lead, "from" | "del" | "desde") && to(end) && name(end + 1);
        let comes = matches!(lead, "to" | "al")
            && (index.saturating_sub(6)..index)
                .any(|at| matches!(self.here(at).word.as_str(), "from" | "del") && name(at + 1));
        goes || comes
    }

    /// "the E is the quietest note of the compás"
    fn is_called_a_note(&self, end: usize) -> bool {
        let note = |at: usize| matches!(self.here(at).word.as_str(), "note" | "nota");
        self.here(end).is(Concept::Is)
            && (end + 1..end + 6)
                .take_while(|at| self.here(*at).mark.is_none())
                .any(note)
    }

    /// `C. Primera glosa`, `GRID A, replaces 7-10`: a letter that numbers what it stands beside.
    fn letters_a_heading(&self, index: usize) -> bool {
        let here = self.here(index);
        let next = self.here(index + 1);
        let parted = next.mark.is_some() || next.is(Concept::Replaces);
        let single = self.context.typed && here.raw.len() == 1 && parted;
        let before = before(self.tokens, index);
        let in_capitals =
            before.raw.len() >= 3 && before.raw.chars().all(char::is_uppercase) && before.concepts.is_empty();
        let opens = index == 0 && self.tokens.len() <= 2 && self.here(1).is_mark('.');
        let heading = before.is_any(&[Concept::Idea, Concept::Variation, Concept::Falseta])
            || before.has(Kind::Heading)
            || matches!(before.word.as_str(), "change" | "cambio" | "parte" | "part");
        single && (opens || index == 1 && (in_capitals || heading))
    }

    /// "la cuarta al aire, re.", "fifth string open once more, A,": behind a string and fret a bare name between marks is the note's.
    pub(super) fn note_behind_comma(&self, index: usize) -> Option<NoteName> {
        let sharp = self.here(index + 1).joined && matches!(self.here(index + 1).mark, Some('#' | '♯'));
        let closes = !sharp && (self.here(index + 1).mark.is_some() || self.here(index + 1).word.is_empty());
        let behind = before(self.tokens, index).is_mark(',') || before(self.tokens, index).is_mark('.');
        let wanted = self.told.has_note() && self.told.notes.is_empty();
        if !closes || !behind || !wanted {
            return None;
        }
        if self.context.language == Language::Spanish {
            return super::super::solfa::bare_name(self.here(index));
        }
        let name = pitch_at(self.tokens, index, self.context.language, self.context.typed)?;
        let sounds = |(string, fret)| Guitar::STANDARD.gives(string, fret, name.root) == Some(true);
        (name.length == 1 && !name.qualified && self.told.one_place().is_some_and(sounds)).then_some(name.root)
    }
}
