use super::super::lexicon::Concept;
use super::super::moments::before;
use super::super::tokens::Token;
use super::Reader;
use super::strings::{feminine, ordinal_at};
use crate::music::stroke::Action;

impl Reader<'_> {
    /// "de la quinta a la primera", "from the fifth string to the first", "en las tres primeras": the strings that a strum
    /// goes over, and the index behind.
    pub(super) fn string_range(&mut self, index: usize) -> Option<usize> {
        let (from, to, end) = self
            .range_of_strings(index)
            .or_else(|| self.strings_across(index))
            .or_else(|| self.so_many_strings(index))?;
        let strums = matches!(
            self.told.actions.first(),
            Some(Action::Down | Action::Up | Action::Rasgueado)
        );
        if !strums || !self.told.strings.is_empty() {
            return None;
        }
        let strings = if from > to {
            (to..=from).rev().collect()
        } else {
            (from..=to).collect::<Vec<u8>>()
        };
        self.told.strings = strings;
        Some(end)
    }

    fn range_of_strings(&self, index: usize) -> Option<(u8, u8, usize)> {
        if !matches!(self.here(index).word.as_str(), "de" | "desde" | "from") {
            return None;
        }
        let (from, at) = self.one_string(index + 1)?;
        if !matches!(
            self.here(at).word.as_str(),
            "a" | "hasta" | "to" | "up to" | "down to" | "through"
        ) {
            return None;
        }
        let (to, end) = self.one_string(at + 1)?;
        let fretted = self.here(end).is(Concept::FretWord);
        (from != to && !fretted).then_some((from, to, end))
    }

    /// "down across four and three", "up over three, two and one": from the lower string to the higher, as no counts are told.
    fn strings_across(&self, index: usize) -> Option<(u8, u8, usize)> {
        let across = matches!(self.here(index).word.as_str(), "across" | "over" | "through");
        let (first, mut end) = self.numbered_string(index + 1).filter(|_| across)?;
        let mut last = first;
        loop {
            let mut at = end;
            while self.here(at).is(Concept::And) || self.here(at).is_mark(',') {
                at += 1;
            }
            match self.numbered_string(at).filter(|(next, _)| next + 1 == last) {
                Some((next, behind)) => (last, end) = (next, behind),
                None => break,
            }
        }
        (last < first).then_some((first, last, end))
    }

    fn numbered_string(&self, index: usize) -> Option<(u8, usize)> {
        let number = self.here(index).number.filter(|number| (1..=6).contains(number))?;
        u8::try_from(number).ok().map(|string| (string, index + 1))
    }

    fn one_string(&self, index: usize) -> Option<(u8, usize)> {
        let at = index + usize::from(self.here(index).is(Concept::Article));
        let (number, mut end) = ordinal_at(self.tokens, at)?;
        let named = self.here(end).is(Concept::StringWord);
        end += usize::from(named);
        let other = self
            .here(end)
            .is_any(&[Concept::FretWord, Concept::BeatWord, Concept::FingerWord]);
        let string = u8::try_from(number)
            .ok()
            .filter(|string| (1..=6).contains(string) && !other)?;
        (named || feminine(self.here(at)) || before(self.tokens, at).word == "the").then_some((string, end))
    }

    /// "las tres primeras", "las cuatro cuerdas graves", "the first three strings", "the four low strings".
    fn so_many_strings(&self, index: usize) -> Option<(u8, u8, usize)> {
        let number = self.here(index).number.filter(|number| (2..=5).contains(number))?;
        let many = u8::try_from(number).ok()?;
        let next = self.here(index + 1);
        if before(self.tokens, index).word == "las" {
            let noun = usize::from(next.is(Concept::StringWord));
            let outer = self.here(index + 1 + noun);
            let end = index + 2 + noun;
            let end = end + usize::from(self.here(end).is(Concept::StringWord));
            return span_of(outer, many).map(|(from, to)| (from, to, end));
        }
        let strings = |at: usize| self.here(at).is(Concept::StringWord);
        if strings(index + 2) {
            return span_of(next, many).map(|(from, to)| (from, to, index + 3));
        }
        let outer = before(self.tokens, index);
        let span = span_of(outer, many).filter(|_| strings(index + 1));
        span.map(|(from, to)| (from, to, index + 2))
    }
}

/// So many of the outer strings, told by where they lie.
fn span_of(outer: &Token, many: u8) -> Option<(u8, u8)> {
    match outer.word.as_str() {
        "primeras" | "agudas" | "finas" | "first" | "high" | "top" | "thin" => Some((many, 1)),
        "graves" | "gruesas" | "gordas" | "low" | "bass" | "fat" | "thick" => Some((6, 7 - many)),
        _ => None,
    }
}
