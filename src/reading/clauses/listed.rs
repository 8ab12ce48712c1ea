use super::super::lexicon::Concept;
use super::super::moments::{Part, When, before};
use super::super::statement::Told;
use super::super::tokens::Token;
use super::Reader;

/// Counts listed in front of what is played on them.
#[derive(Debug, Clone, Default)]
pub(super) struct Listed {
    counts: Vec<i64>,
    /// How many clauses stand in front of the list.
    from: usize,
}

impl Reader<'_> {
    /// "the first four", "the last two", "los dos últimos tiempos": counts told by how many they are, and the index behind.
    pub(super) fn counted_off(&self, index: usize) -> Option<(i64, i64, usize)> {
        let number = self.here(index).number.filter(|number| (2..=8).contains(number))?;
        let (lead, next) = (before(self.tokens, index), self.here(index + 1));
        let (opens, ends) = (opens_a_row, |token: &Token| token.is(Concept::Last));
        let placed_behind = opens(next) || ends(next);
        let mut end = index + 1 + usize::from(placed_behind);
        let first = if placed_behind { opens(next) } else { opens(lead) };
        let last = if placed_behind { ends(next) } else { ends(lead) };
        let other = self.here(end).is_any(&[
            Concept::StringWord,
            Concept::FretWord,
            Concept::FingerWord,
            Concept::Unit,
            Concept::Times,
        ]);
        let feminine = placed_behind && next.word.ends_with("as");
        if other || feminine || self.context.typed {
            return None;
        }
        end += usize::from(self.here(end).is(Concept::BeatWord));
        match self.context.beats {
            _ if first => Some((1, number, end)),
            Some(beats) if last && number < beats => Some((beats - number + 1, beats, end)),
            _ => None,
        }
    }

    /// "on five, six and seven", "en el 5 y en el 6": the first of them is the moment until all that is played is told; the
    /// index behind the list.
    pub(super) fn counts_listed(&mut self, index: usize) -> Option<usize> {
        let led = before(self.tokens, index).is_any(&[Concept::On, Concept::Article, Concept::BeatWord]);
        let opens = self.fresh && self.here(index + 3).is(Concept::Is);
        if !(led || opens) || self.context.typed || !self.told.is_blank() {
            return None;
        }
        let (counts, end) = self.list_at(index)?;
        let first = counts.first().copied()?;
        self.set_when_at(When::count(first), index);
        self.listed = Listed {
            counts,
            from: self.out.len(),
        };
        Some(end)
    }

    fn list_at(&self, index: usize) -> Option<(Vec<i64>, usize)> {
        let last = self.context.last_count();
        let mut counts = vec![self.here(index).number?];
        let mut end = index + 1;
        loop {
            let mut at = end;
            let (mut linked, mut closes) = (false, false);
            while self.here(at).is_any(&[Concept::And, Concept::Article])
                || self.here(at).is_mark(',')
                || closes && self.here(at).is(Concept::On)
            {
                closes |= self.here(at).is(Concept::And);
                linked |= closes || self.here(at).is_mark(',');
                at += 1;
            }
            let here = self.here(at);
            let next = self.here(at + 1);
            let thing = next.is_any(&[
                Concept::StringWord,
                Concept::FretWord,
                Concept::FingerWord,
                Concept::Unit,
                Concept::Times,
                Concept::And,
            ]) && !(next.is(Concept::And) && self.here(at + 2).number.is_some());
            let higher = here
                .number
                .filter(|number| counts.last().is_some_and(|last| number > last));
            let Some(number) = higher.filter(|number| linked && !thing && *number <= last && !grown(here, next)) else {
                break;
            };
            counts.push(number);
            end = at + 1;
        }
        (counts.len() > 1).then_some((counts, end))
    }

    /// One stroke for several counts is played on each; as many as there are counts fall on them in turn.
    pub(super) fn deal_out(&mut self) {
        let Listed { counts, from } = std::mem::take(&mut self.listed);
        let (Some(first), Some(group)) = (counts.first(), self.out.get(from..)) else {
            return;
        };
        let plays = |told: &Told| (told.sounds() || told.has_note()) && !told.negated && told.same.is_none();
        let plain = group
            .iter()
            .all(|told| plays(told) && told.division.is_none() && told.figure.is_empty());
        let own = |told: &Told| {
            told.when
                .and_then(|when| when.count)
                .is_some_and(|count| count != *first)
        };
        let parts = group.iter().skip(1).all(|told| told.when.is_some());
        if !plain || group.iter().any(own) || group.is_empty() {
            return;
        }
        if parts {
            let group = group.to_vec();
            for count in counts.iter().skip(1) {
                self.out.extend(group.iter().map(|told| at_count(told, *count)));
            }
        } else if group.len() == counts.len() {
            for (told, count) in self.out.iter_mut().skip(from).zip(&counts) {
                told.when = Some(When::count(*count));
            }
        }
    }
}

fn grown(here: &Token, next: &Token) -> bool {
    here.joined || next.joined && next.mark.is_none_or(|mark| matches!(mark, 'ª' | '/' | '+' | '-'))
}

fn at_count(told: &Told, count: i64) -> Told {
    let part = told.when.map_or(Part::Whole, |when| when.part);
    Told {
        when: Some(When {
            count: Some(count),
            part,
        }),
        ..told.clone()
    }
}

/// "first", "primeros": in front of how many, or behind it.
fn opens_a_row(token: &Token) -> bool {
    token.ordinal == Some(1) || token.word == "primeros"
}
