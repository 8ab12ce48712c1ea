use super::super::lexicon::Concept;
use super::super::moments::before;
use super::Reader;
use crate::music::stroke::Action;
use num_rational::Ratio;

impl Reader<'_> {
    /// "three notes to each count", "two to the beat", "tres por tiempo": notes in a count, and the index behind.
    pub(super) fn division_told(&mut self, index: usize) -> Option<usize> {
        let number = self.here(index).number.filter(|number| (1..=8).contains(number))?;
        let mut at = index + 1;
        let strums = [(Concept::Down, Action::Down), (Concept::Up, Action::Up)];
        let struck = strums.iter().find(|(concept, _)| self.here(at).is(*concept));
        let struck = struck.map(|(_, action)| *action);
        let noun =
            self.here(at).is(Concept::Unit) || self.here(at).is_any(&[Concept::Down, Concept::Up, Concept::Golpe]);
        if noun
            || matches!(
                self.here(at).word.as_str(),
                "even" | "equal" | "little" | "notitas" | "golpes"
            )
        {
            at += 1;
        }
        if !matches!(
            self.here(at).word.as_str(),
            "to" | "a" | "per" | "in" | "por" | "en" | "for" | "each" | "cada" | "on"
        ) {
            return None;
        }
        let each = self.here(at).word == "each" || self.here(at).word == "cada";
        at += 1;
        while self.here(at).is_any(&[Concept::Article, Concept::All])
            || matches!(
                self.here(at).word.as_str(),
                "a" | "one" | "each" | "every" | "space" | "of"
            )
        {
            at += 1;
        }
        let beat = self.here(at).is(Concept::BeatWord)
            && self.here(at + 1).number.is_none()
            && (self.here(at).word != "counts" && self.here(at).word != "beats");
        // "one golpe on one" tells its count.
        let one = number > 1
            && before(self.tokens, at).word == "one"
            && (self.here(at).mark.is_some() || self.here(at).word.is_empty());
        // "four notes in the seven"
        let in_a_count = noun && before(self.tokens, at).is(Concept::Article) && self.here(at).number.is_some();
        if !(beat || one || in_a_count || each && (self.here(at).mark.is_some() || self.here(at).word.is_empty())) {
            return None;
        }
        self.told.division = Some(number);
        // "three downs in the one beat, evenly, ring finger, middle finger, index finger"
        if let Some(action) = struck {
            self.action(index, action);
            self.told.how_many = Some(number);
        }
        self.fresh = false;
        Some(if beat { at + 1 } else { at })
    }

    /// Note values that fill one count unevenly: "corchea con puntillo y semicorchea", "a quaver and two semiquavers".
    pub(super) fn figure(&self, index: usize) -> Option<(Vec<Ratio<i64>>, usize)> {
        let mut lengths = Vec::new();
        let mut at = index;
        let mut end = index;
        let mut times = before(self.tokens, index)
            .number
            .filter(|number| (1..=4).contains(number))
            .unwrap_or(1);
        loop {
            let here = self.here(at);
            let mut length = if here.is(Concept::Semiquavers) && !here.word.contains(' ') {
                Ratio::new(1, 4)
            } else if here.is(Concept::Quavers) && !here.word.contains(' ') {
                Ratio::new(1, 2)
            } else {
                break;
            };
            let dotted = before(self.tokens, at).word == "dotted";
            at += 1;
            if dotted || self.here(at).word == "con puntillo" || self.here(at + 1).word == "puntillo" {
                length *= Ratio::new(3, 2);
                at += if dotted { 0 } else { 2 };
            }
            for _ in 0..times {
                lengths.push(length);
            }
            end = at;
            while self.here(at).is(Concept::And)
                || self.here(at).is_mark(',')
                || matches!(self.here(at).word.as_str(), "a" | "una" | "dotted")
            {
                at += 1;
            }
            times = 1;
            if let Some(number) = self.here(at).number.filter(|number| (1..=4).contains(number)) {
                times = number;
                at += 1;
            }
        }
        let whole = lengths.iter().sum::<Ratio<i64>>() == Ratio::from_integer(1);
        let uneven = lengths
            .first()
            .is_some_and(|first| lengths.iter().any(|length| length != first));
        (whole && uneven).then_some((lengths, end))
    }
}
