use super::super::lexicon::Concept;
use super::super::moments::before;
use super::super::sayings::{among, sayings};
use super::super::statement::Told;
use super::Reader;

impl Reader<'_> {
    /// "index on the third, middle on the second, ring on the first, all within the two": what was told one after another
    /// begins at the count named behind all of it.
    pub(super) fn all_within(&mut self) {
        let behind = self
            .told
            .when
            .filter(|_| self.told.is_blank())
            .map(|_| self.told.when_at);
        let last = self.out.last().and_then(|last| last.when.map(|_| last.when_at));
        if !behind.or(last).is_some_and(|at| self.says_all(at)) {
            return;
        }
        let when = match behind {
            Some(_) => self.told.when.take(),
            None => self.out.last_mut().and_then(|last| last.when.take()),
        };
        let plays = |told: &Told| told.when.is_none() && told.span.is_none() && (told.sounds() || told.has_note());
        let row = self.out.iter().rev().take_while(|told| plays(told)).count();
        let first = self.out.len().checked_sub(row.max(1));
        if let Some(first) = first.and_then(|first| self.out.get_mut(first)) {
            first.when = when;
            first.when_at = first.start;
        }
    }

    /// Whether the count at a place of the text is led in by a word for all that was told.
    fn says_all(&self, place: usize) -> bool {
        let Some(count) = self.tokens.iter().position(|token| token.start == place) else {
            return false;
        };
        let words = &sayings().words;
        let links = |at: &usize| {
            let here = before(self.tokens, *at);
            here.is_any(&[Concept::On, Concept::Article, Concept::Is, Concept::BeatWord])
                || among(&words.fits_in, &here.word)
        };
        let Some(at) = (1..=count).rev().find(|at| !links(at)) else {
            return false;
        };
        let all = before(self.tokens, at);
        among(&words.all_told, &all.word) && at < count && !self.out.is_empty()
    }
}
