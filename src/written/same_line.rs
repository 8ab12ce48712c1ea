//! Counts that are played as others are: `4-6 same RH as 1-3, on G`; `5 -> like 4`; `then 4 as core`.

use crate::music::pattern::CountSpan;
use crate::music::position::Position;

use super::begins::{Begins, Sign};
use super::item::{Item, Same, SameOf};
use super::parser::Parser;
use super::run::Run;
use super::shorthand::Meaning;

/// What says that counts are played as others are.
pub const SAME: Begins =
    Begins::NOTHING.meaning(&[Meaning::AsCore, Meaning::SameAs, Meaning::SameRightHand, Meaning::Same]);

/// What stands in front of a pair of counts: "then", "beats", "del".
pub const LEADS: Begins = Begins::NOTHING
    .meaning(&[Meaning::Then, Meaning::Beat])
    .sign(&[Sign::Letter]);

impl Parser<'_, '_> {
    /// `same as core but 12: golpe`: the whole pattern.
    pub fn whole_same(&mut self) -> Option<()> {
        let start = self.at;
        let (of, right_hand_only) = self.same_of().filter(|(of, _)| *of != SameOf::Before)?;
        self.push_whole_same(start, of, right_hand_only);
        let _ = self.spaced_sign(',');
        self.meaning(Meaning::But).then_some(())?;
        let _ = self.spaced_sign(':');
        self.moments(&mut Run::new(Position::count(0), None), false)
    }

    /// All that the pattern covers is as somewhere else.
    pub fn push_whole_same(&mut self, start: usize, of: SameOf, right_hand_only: bool) {
        let same = Same {
            counts: None,
            of,
            right_hand_only,
        };
        self.push(start, Item::Same(same));
    }

    /// `1 y 2 como en la base`, `5 and 6: como 2 y 3`, `then 4 as core`: the counts themselves named as a pair.
    pub fn pair_line(&mut self) -> Option<()> {
        let _ = self.meaning(Meaning::Then);
        let _ = self.meaning(Meaning::Beat);
        let span = self.pair().or_else(|| self.span_or_count())?;
        let _ = self.lead_end();
        let mut run = Run::new(Position::count(span.first), Some(span));
        self.same_counts(&mut run)
    }

    /// Two neighbouring counts joined by a word: `1 y 2`.
    fn pair(&mut self) -> Option<CountSpan> {
        self.attempt(|line| {
            let first = line.count()?;
            line.meaning(Meaning::And).then_some(())?;
            let last = line.count()?;
            (last == first + 1).then_some(CountSpan { first, last })
        })
    }

    /// What follows the counts: as which others, and what differs.
    pub fn same_counts(&mut self, run: &mut Run) -> Option<()> {
        let start = self.at;
        let counts = run.span.or_else(|| whole_count(run.at))?;
        let equals = self.attempt(|line| {
            let _ = line.spaced_sign(':');
            line.spaced_sign('=').then_some(())?;
            line.ahead().span_or_count().map(|_| ())
        });
        let (of, right_hand_only) = match equals {
            Some(()) => (SameOf::Counts(self.span_or_count()?), false),
            None => self.same_of()?,
        };
        self.push(
            start,
            Item::Same(Same {
                counts: Some(counts),
                of,
                right_hand_only,
            }),
        );
        self.differences(run, counts)
    }

    /// "same as 1-3", "as core", "same triplet again".
    pub fn same_of(&mut self) -> Option<(SameOf, bool)> {
        if self.meaning(Meaning::AsCore) {
            return Some((SameOf::Core, false));
        }
        self.attempt(|line| {
            let right_hand_only = line.meaning_of(|meaning| match meaning {
                Meaning::SameAs => Some(false),
                Meaning::SameRightHand => Some(true),
                _ => None,
            })?;
            if line.meaning(Meaning::Core) {
                return Some((SameOf::Core, right_hand_only));
            }
            let _ = line.meaning(Meaning::Beat);
            let counts = line.pair().or_else(|| line.span_or_count())?;
            Some((SameOf::Counts(counts), right_hand_only))
        })
        .or_else(|| {
            self.attempt(|line| {
                line.meaning(Meaning::Same).then_some(())?;
                let _ = line.meaning(Meaning::Same);
                let _ = line.meaning_of(Meaning::division).is_some() || line.spoken_number().is_some();
                let _ = line.meaning(Meaning::Same);
                Some((SameOf::Before, false))
            })
        })
    }

    /// `, on G`; `but 12: golpe`.
    fn differences(&mut self, run: &mut Run, counts: CountSpan) -> Option<()> {
        if self.line_is_done() {
            return Some(());
        }
        let comma = self.spaced_sign(',');
        let but = self.meaning(Meaning::But);
        let _ = !but && self.spaced_sign(':');
        if !but && comma {
            let start = self.at;
            let chord = self.attempt(|line| {
                let (chord, still) = line.chord_word()?;
                line.line_is_done().then_some((chord, still))
            });
            if let Some((chord, still)) = chord {
                if !still {
                    self.change(start, Position::count(counts.first), chord, None);
                }
                return Some(());
            }
        }
        but.then_some(())?;
        self.moments(run, false)
    }
}

fn whole_count(at: Position) -> Option<CountSpan> {
    let count = at.whole();
    (at == Position::count(count)).then_some(CountSpan {
        first: count,
        last: count,
    })
}
