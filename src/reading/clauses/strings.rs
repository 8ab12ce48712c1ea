use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, moment_at, token};
use super::super::tokens::Token;
use super::Reader;
use super::fingers::right_fingers;
use crate::music::stroke::Action;

impl Reader<'_> {
    pub(super) fn string_or_fret(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        let next = self.here(index + 1);
        if let Some(string) = written_string(self.tokens, index) {
            return self.push_string(string.into(), index + 2);
        }
        // "tr.3"
        let dotted = next.is_mark('.') && next.joined && (self.here(index + 2).joined || self.context.typed);
        if let Some(fret) = self
            .here(index + 2)
            .number
            .filter(|_| dotted && here.is(Concept::FretWord))
        {
            self.push_fret(fret);
            return Some(index + 3);
        }
        let typed_fret = matches!(here.word.as_str(), "f" | "t" | "tr")
            && next.joined
            && next.number.is_some_and(|n| (0..=22).contains(&n));
        if typed_fret {
            self.push_fret(next.number?);
            return Some(index + 2);
        }
        if here.is(Concept::SameString) {
            // Behind a note and a comma it is another note's.
            if self.soft && !self.told.frets.is_empty() {
                self.close();
            }
            self.told.same_string = true;
            return Some(index + 1);
        }
        if here.is(Concept::Open) && self.opens_a_string(index) {
            self.part(!self.told.frets.is_empty());
            self.told.open_string = true;
            self.told.frets.push(0);
            return Some(index + 1);
        }
        if here.is(Concept::StringWord) {
            let several = here.word.ends_with('s');
            let number = next
                .number
                .filter(|n| (1..=6).contains(n) && (!next.spelled || several) || self.context.typed)?;
            let mut end = self.push_string(number, index + 2)?;
            let mut closed = !several;
            while !closed && let Some((string, behind)) = self.listed_string(end) {
                // The "and" stands in front of the last of a list.
                closed = before(self.tokens, behind - 1).is(Concept::And);
                end = self.push_string(string, behind)?;
            }
            return Some(end);
        }
        if here.is(Concept::FretWord) {
            let number = next.number.filter(|n| (0..=22).contains(n))?;
            self.push_fret(number);
            return Some(index + 2);
        }
        self.ordinal_string(index)
    }

    /// "strings 3 and 2", "strings four, three and two": the next of the list, and the index behind it.
    fn listed_string(&self, end: usize) -> Option<(i64, usize)> {
        let mut at = end;
        while self.here(at).is_mark(',') || self.here(at).is(Concept::And) || self.here(at).is_mark('&') {
            at += 1;
        }
        let last = (at..at + 5).any(|at| self.here(at).is(Concept::And));
        let lists = at > end && (self.here(at - 1).is(Concept::And) || last);
        let next = self.here(at + 1);
        let other = next.joined && !matches!(next.mark, Some(',' | '.' | ';' | ')')) || next.is(Concept::Is);
        let number = self.here(at).number.filter(|number| (1..=6).contains(number));
        number.filter(|_| lists && !other).map(|number| (number, at + 1))
    }

    /// "una cosa suelta" is no open string: a string stands beside it.
    fn opens_a_string(&self, index: usize) -> bool {
        let loose = matches!(self.here(index).word.as_str(), "suelta" | "abierta");
        let ahead = (index + 1..index + 4).any(|at| self.here(at).is(Concept::StringWord));
        // "mano abierta", "with an open hand"
        let hand = |at: usize| matches!(self.here(at).word.as_str(), "mano" | "palma" | "hand" | "palm");
        if hand(index + 1) || index > 0 && hand(index - 1) {
            return false;
        }
        !loose || ahead || !self.told.strings.is_empty() || self.told.same_string
    }

    /// `5/3`, `5:3`, `3ª/2`, `st 2/0`: a string and its fret, read before counts and colons, where a finger stands in front or the note has said that it writes so.
    pub(super) fn string_and_fret(&mut self, index: usize) -> Option<usize> {
        let named = matches!(self.here(index).word.as_str(), "st" | "str" | "cda");
        let mut at = index + usize::from(named);
        let string = self
            .here(at)
            .number
            .filter(|number| (1..=6).contains(number) && !self.here(at).spelled)?;
        at += 1;
        let ordinal = self.here(at).joined && matches!(self.here(at).word.as_str(), "a" | "ª" | "º");
        at += usize::from(ordinal);
        let sign = self.here(at).joined && matches!(self.here(at).mark, Some('/' | ':'));
        let fret = self
            .here(at + 1)
            .number
            .filter(|fret| (0..=22).contains(fret) && self.here(at + 1).joined)?;
        let played =
            !self.told.fingers.is_empty() || !self.told.actions.is_empty() || self.context.pairs || named || ordinal;
        if !sign || !self.context.typed || !played {
            return None;
        }
        self.push_string(string, at)?;
        self.push_fret(fret);
        Some(at + 2)
    }

    /// "fifth string", "the fourth and third strings", "la quinta", "5ª cuerda", "second fret".
    pub(super) fn ordinal_string(&mut self, index: usize) -> Option<usize> {
        let (number, mut end) = ordinal_at(self.tokens, index)?;
        let next = self.here(end);
        let lead = index - usize::from(before(self.tokens, index).is(Concept::Article));
        // "you fall onto the fourth string each time": where a rest stroke ends, and not what is played.
        if before(self.tokens, lead).is(Concept::RestStroke) {
            return Some(end + usize::from(next.is(Concept::StringWord)));
        }
        let dotted = self.here(end + 1).is_mark('.') && self.here(end + 1).joined;
        let fret_behind = next.is(Concept::FretWord) && self.here(end + 1 + usize::from(dotted)).number.is_some();
        let suffixed = self.here(index + 1).is_mark('ª') && self.context.typed;
        let other_noun = next.is_any(&[
            Concept::Variation,
            Concept::Falseta,
            Concept::Idea,
            Concept::FingerWord,
            Concept::BeatWord,
            Concept::PartWord,
            Concept::Times,
        ]);
        if (1..=6).contains(&number)
            && !other_noun
            && (fret_behind || suffixed && !next.is_any(&[Concept::FretWord, Concept::StringWord]))
        {
            return self.push_string(number, end);
        }
        // "5ª tr": the string, and its fret is still to come.
        if next.is(Concept::FretWord) && suffixed && (1..=6).contains(&number) {
            return self.push_string(number, end);
        }
        if next.is(Concept::FretWord) {
            self.push_fret(number);
            return Some(end + 1);
        }
        if next.is(Concept::StringWord) && (1..=6).contains(&number) {
            return self.push_string(number, end + 1);
        }
        if other_noun || !(1..=6).contains(&number) {
            return None;
        }
        // "the fourth and third strings": the word stands behind the last of the list.
        let mut list = vec![number];
        while self.here(end).is(Concept::And) || self.here(end).is_mark(',') {
            let at = if self.here(end + 1).is(Concept::Article) {
                end + 2
            } else {
                end + 1
            };
            let Some((more, after)) = ordinal_at(self.tokens, at) else {
                break;
            };
            list.push(more);
            end = after;
            if self.here(end).is(Concept::StringWord) {
                for string in list {
                    self.push_string(string, end);
                }
                return Some(end + 1);
            }
        }
        let (list, end) = self.ordinal_list(index)?;
        let article = before(self.tokens, index);
        // "La tercera es como la primera": no string is told.
        let likened = article.start == 0 && self.here(end).is(Concept::Is) && self.here(end + 1).is(Concept::Same);
        let spanish = self.context.language == Language::Spanish
            && !likened
            && (matches!(article.word.as_str(), "la" | "las" | "en la")
                || self.context.typed
                    && (article.mark.is_some() || article.word.is_empty())
                    && (self.here(end).is(Concept::Open) || self.here(end).is_mark(',')))
            && feminine(self.here(index))
            && !self.here(end).is_any(&[Concept::Unit, Concept::FirstHalf]);
        let fingered = self.context.language == Language::English
            && article.word == "the"
            && (matches!(before(self.tokens, index.saturating_sub(1)).word.as_str(), "on" | "in")
                || self.led_by_a_finger(index)
                || (index.saturating_sub(5)..index).any(|at| self.here(at).is(Concept::StringWord))
                || self.told.actions.first() == Some(&Action::Pluck))
            && (self.here(end).mark.is_some()
                || self.here(end).word.is_empty()
                || self
                    .here(end)
                    .is_any(&[Concept::And, Concept::Then, Concept::With, Concept::Same])
                || self.here(end).word == "again"
                || self.another_finger(end))
            && (!self.told.fingers.is_empty() || self.told.has_note() || self.told.when.is_some());
        let fingered = fingered
            || self.context.language == Language::English
                && !self.context.typed
                && article.mark.is_some()
                && (self.here(end).mark.is_some() || self.here(end).word.is_empty())
                && self.told.when.is_some()
                && !self.told.fingers.is_empty()
                && self.told.strings.is_empty()
                && !self.told.sounds();
        let with_open = self.here(end).is(Concept::Open) && !self.context.typed || self.here(end).is(Concept::Open);
        // "p i m a: cuarta, tercera, segunda y primera"
        let one_each = list.len() >= 2 && list.len() == self.told.fingers.len() && self.told.strings.is_empty();
        if spanish || fingered || with_open || one_each {
            for string in list {
                self.push_string(string, end);
            }
            return Some(end);
        }
        None
    }

    /// "index on the third middle finger on the second": in speech without marks the next finger stands right behind.
    fn another_finger(&self, end: usize) -> bool {
        let finger = end + usize::from(self.here(end).word == "the");
        !self.context.punctuated
            && super::fingers::named_finger(self.here(finger)).is_some()
            && self.here(finger + 1).is(Concept::On)
    }

    /// "the thumb takes the fifth, the index the third": behind a finger, or what it does, a bare ordinal is a string.
    fn led_by_a_finger(&self, index: usize) -> bool {
        let lead = before(self.tokens, index.saturating_sub(1));
        super::fingers::named_finger(lead).is_some()
            || lead.is(Concept::Play)
                && super::fingers::named_finger(before(self.tokens, index.saturating_sub(2))).is_some()
    }

    /// "third, second and first": the list and the index behind it.
    pub(super) fn ordinal_list(&self, index: usize) -> Option<(Vec<i64>, usize)> {
        let (first, mut end) = ordinal_at(self.tokens, index)?;
        let mut list = vec![first];
        loop {
            let mut at = end;
            while self.here(at).is_mark(',') || self.here(at).is(Concept::And) || self.here(at).is(Concept::Article) {
                at += 1;
            }
            let Some((more, after)) = ordinal_at(self.tokens, at).filter(|_| at > end) else {
                break;
            };
            if self
                .here(after)
                .is_any(&[Concept::FretWord, Concept::FingerWord, Concept::PartWord])
                || right_fingers(self.tokens, at, self.context).is_some()
                || moment_at(self.tokens, at, self.context).is_some()
            {
                break;
            }
            list.push(more);
            end = after;
        }
        Some((list, end))
    }

    pub(super) fn push_string(&mut self, number: i64, end: usize) -> Option<usize> {
        let string = u8::try_from(number).ok().filter(|string| (1..=6).contains(string))?;
        // "p i m a: cuarta, tercera, segunda y primera": a string for each finger.
        let one_each = self.told.fingers.len() > self.told.strings.len().max(1) && self.told.frets.is_empty();
        let complete = !self.told.strings.is_empty()
            && (!self.told.frets.is_empty() || !self.told.fingers.is_empty())
            && !one_each;
        // "la misma al aire, Sol, y cuarta cuerda, traste tres": another note, on another string.
        if self.told.same_string && !self.told.frets.is_empty() && self.told.strings.is_empty() {
            self.close();
        }
        let together = self.told.with_pending && !self.told.golpe;
        if self.context.typed && complete && !together {
            self.soft = true;
        }
        self.part(
            complete && !together
                || !self.told.strings.is_empty() && !self.context.typed && !self.told.frets.is_empty(),
        );
        let repeats = self.told.strings.contains(&string);
        if !repeats {
            self.told.strings.push(string);
        }
        Some(end)
    }

    pub(super) fn push_fret(&mut self, number: i64) {
        if let Ok(fret) = u8::try_from(number) {
            self.part(!self.told.frets.is_empty() && !self.told.with_pending);
            self.told.frets.push(fret);
        }
    }
}

pub(super) fn feminine(token: &Token) -> bool {
    token.word.ends_with('a') || token.number.is_some()
}

/// `s3`, `c2`: the string, of which the letter and the number are a token each.
pub fn written_string(tokens: &[Token], index: usize) -> Option<u8> {
    let number = token(tokens, index + 1);
    let letter = matches!(token(tokens, index).word.as_str(), "s" | "c") && number.joined;
    let string = number.number.filter(|string| letter && (1..=6).contains(string))?;
    u8::try_from(string).ok()
}

/// "fifth", "5th", "5ª", "la quinta": the number and the index behind.
pub fn ordinal_at(tokens: &[Token], index: usize) -> Option<(i64, usize)> {
    let here = token(tokens, index);
    if let Some(number) = here.ordinal {
        return Some((number, index + 1));
    }
    let number = here.number.filter(|_| !here.spelled)?;
    let next = token(tokens, index + 1);
    let suffix = next.joined
        && (next.is_mark('ª')
            || next.is_mark('º')
            || matches!(next.word.as_str(), "st" | "nd" | "rd" | "th" | "a" | "o"));
    suffix.then_some((number, index + 2))
}
