use super::super::lexicon::Concept;
use super::super::moments::before;
use super::super::pitch_words::pitch_at;
use super::super::spans::{count_list, span_at};
use super::super::statement::SameAs;
use super::super::tokens::Token;
use super::Reader;

impl Reader<'_> {
    /// `9: as 5`, `5-6 as 1-2`: in a line of its own counts.
    pub(super) fn as_written(&mut self, index: usize) -> Option<usize> {
        let counted = self.told.when.is_some_and(|when| when.count.is_some()) || self.told.span.is_some();
        let bare = counted && self.told.is_blank() && self.context.typed && self.here(index).word == "as";
        let spanned = span_at(self.tokens, index + 1);
        let single = self.here(index + 1).number.map(|count| (count, count, index + 2));
        let (first, last, end) = spanned.or(single).filter(|_| bare)?;
        let closes = self.here(end).mark.is_some() || self.here(end).word.is_empty();
        let within = last <= self.context.last_count();
        (closes && within).then(|| {
            self.told.same = Some(SameAs {
                counts: Some((first, last)),
                core: false,
                variation: None,
            });
            end
        })
    }

    /// "same as 2", "just like 7", "exactly as you did it on 3", "same again".
    pub(super) fn same(&mut self, index: usize) -> usize {
        let mut counts = None;
        let mut core = false;
        let mut variation = None;
        let mut end = index + 1;
        // "third fret, which is G, same as before": nothing of another count is told.
        let as_before = matches!(self.here(index + 1).word.as_str(), "before" | "antes");
        if as_before && (self.told.sounds() || self.told.has_note() || self.told.chord.is_some()) {
            return index + 2;
        }
        if let Some(behind) = self.comes_again_on(index).or_else(|| self.comes_as_well_on(index)) {
            if self.told.sounds() {
                self.close();
            }
            self.told.same = Some(SameAs {
                counts,
                core,
                variation,
            });
            return behind;
        }
        for at in index + 1..(index + 10).min(self.tokens.len()) {
            let here = self.here(at);
            if here.is_mark(',') && at > index + 1 || here.is(Concept::Then) || here.is_mark('(') {
                break;
            }
            let of_place = matches!(self.here(index + 1).word.as_str(), "place" | "spot" | "sitio" | "lugar");
            let named = self.variation_named(at).or_else(|| self.ordinal_alone(index, at));
            if let Some(number) = named.filter(|_| !of_place) {
                variation = Some(number);
                // "como la primera pero …": what stands behind the ordinal alone is not of it.
                let next = self.here(at + 1);
                let noun = next.is_any(&[Concept::Variation, Concept::Falseta, Concept::Idea]) || next.word == "one";
                end = at + 1 + usize::from(here.ordinal.is_none() || noun);
                break;
            }
            if here.is(Concept::Core) {
                core = true;
                end = at + 1;
                break;
            }
            if let Some((first, last, behind)) = self.counted_off(at).or_else(|| span_at(self.tokens, at)) {
                counts = Some((first, last));
                end = behind;
                break;
            }
            // "the very same three again", "just the same five and"
            if at == index + 1
                && here.spelled
                && matches!(
                    self.here(index).word.as_str(),
                    "same" | "the same" | "mismos" | "mismas"
                )
            {
                end = at + 1;
                continue;
            }
            // "same as the one on 2"
            if here.spelled
                && here.number == Some(1)
                && self.here(at + 1).word == "on"
                && self.here(at + 2).number.is_some()
            {
                continue;
            }
            if here.number.is_some() && self.here(at + 1).is(Concept::BeatWord) && self.here(at + 1).word.ends_with('s')
            {
                continue;
            }
            let acts = matches!(
                self.here(at + 1).word.as_str(),
                "did" | "was" | "had" | "does" | "over" | "hace" | "hizo" | "era" | "tal" | "otra"
            );
            let noun_follows = here.spelled
                && !acts
                && self.here(at + 1).mark.is_none()
                && self.here(at + 1).concepts.is_empty()
                && !self.here(at + 1).word.is_empty();
            // "the same again on E seven"
            let chord = pitch_at(self.tokens, at - 1, self.context.language, true).is_some_and(|word| word.length > 1);
            let of_a_name = here.joined && before(self.tokens, at).mark.is_none() || chord;
            let things = [Concept::Unit, Concept::Times, Concept::FingerWord, Concept::StringWord];
            let other = noun_follows || of_a_name || self.here(at + 1).is_any(&things);
            if here.number.is_some_and(|n| (1..=24).contains(&n)) && !other {
                if let Some((first, last, behind)) = count_list(self.tokens, at).filter(|(first, last, _)| last > first)
                {
                    counts = Some((first, last));
                    end = behind;
                    break;
                }
                counts = here.number.map(|n| (n, n));
                end = at + 1;
                if self.here(end).is(Concept::And)
                    && let Some(last) = self
                        .here(end + 1)
                        .number
                        .filter(|last| Some(*last) == here.number.map(|n| n + 1))
                {
                    counts = here.number.map(|n| (n, last));
                    end += 2;
                }
                break;
            }
            if here.ordinal.is_some() && self.here(at + 1).is(Concept::BeatWord) {
                counts = here.ordinal.map(|n| (n, n));
                end = at + 2;
                break;
            }
        }
        // "6 is your 3 all over again"
        let its = |at: usize| matches!(before(self.tokens, at).word.as_str(), "your" | "our" | "tu" | "vuestro");
        let back = (index.saturating_sub(3)..index).find(|at| self.here(*at).number.is_some() && its(*at));
        if let Some(count) = back
            .and_then(|at| self.here(at).number)
            .filter(|_| counts.is_none() && !core)
        {
            counts = Some((count, count));
        }
        // "the same as on the 5 of the core"
        if let Some(behind) = (end..end + 3).find(|at| counts.is_some() && self.here(*at).is(Concept::Core))
            && (end..behind).all(|at| self.here(at).is_any(&[Concept::On, Concept::Article]))
        {
            core = true;
            end = behind + 1;
        }
        // "el mismo tresillo", "the same roll": all of it
        let figures = [
            Concept::Triplet,
            Concept::Rasgueado,
            Concept::Abanico,
            Concept::Arpeggio,
            Concept::Alzapua,
        ];
        let figure = self.here(index + 1).is_any(&figures);
        let likening = !figure
            && matches!(self.here(index).word.as_str(), "like" | "como" | "mismo" | "misma")
            && counts.is_none()
            && !core;
        // "the same idea one string over": like it, and on other strings.
        let elsewhere = (index + 1..index + 6).any(|at| {
            self.here(at).is(Concept::StringWord)
                && matches!(
                    self.here(at + 1).word.as_str(),
                    "over" | "up" | "down" | "higher" | "lower" | "further" | "mas" | "por"
                )
        });
        if elsewhere && counts.is_none() {
            self.told.as_usual = true;
            return end;
        }
        let told = self.told.same.is_some_and(|same| same.counts.is_some());
        let adds_nothing = told && counts.is_none() && !core;
        if variation.is_some() || !(likening || adds_nothing) {
            self.told.same = Some(SameAs {
                counts,
                core,
                variation,
            });
        }
        end
    }

    /// "Five to eight is the same again", "del cinco al ocho es igual": counts of which it is said what they are like. The
    /// index behind them.
    pub(super) fn likened_span(&self, last: i64, end: usize) -> bool {
        let likened = (end + 1..end + 3).any(|at| self.here(at).is(Concept::Same));
        self.fresh && self.here(end).is(Concept::Is) && likened && last <= self.context.last_count()
    }

    /// "y lo mismo en el dos": where it comes, unless it is said how it is ("lo mismo en el 3 que en el 5").
    fn comes_as_well_on(&self, index: usize) -> Option<usize> {
        let same = self.here(index).word == "lo mismo" && self.here(index + 1).word == "en";
        let counted = self.here(index + 2).word == "el" && self.here(index + 3).number.is_some();
        let closes = self.here(index + 4).mark.is_some() || self.here(index + 4).word.is_empty();
        let waits = self.told.when.is_none() && self.told.span.is_none() || self.told.sounds();
        (same && counted && closes && waits).then_some(index + 1)
    }

    /// "exactly that again on eight", "the same again on 5": the count behind is where it comes, not where it was. The index
    /// in front of it.
    fn comes_again_on(&self, index: usize) -> Option<usize> {
        let behind = index + 1 + usize::from(self.here(index + 1).word == "again");
        let again = self.here(index).word.ends_with("again") || behind > index + 1;
        let counted = (behind + 1..behind + 3).any(|at| self.here(at).number.is_some());
        let waits = self.told.when.is_none() && self.told.span.is_none();
        (again && waits && counted && self.here(behind).word == "on").then_some(behind)
    }

    /// "... again on eight and again on nine": what was told to come again on one count comes on another.
    pub(super) fn comes_once_more(&self, index: usize) -> bool {
        let plain = |same: SameAs| same.counts.is_none() && !same.core && same.variation.is_none();
        let counted = (index + 2..index + 4).any(|at| self.here(at).number.is_some());
        self.told.same.is_some_and(plain) && self.here(index + 1).word == "on" && counted
    }

    /// "the first variation", "like the first one" in talk of variations, "la variación 2": its number.
    fn variation_named(&self, index: usize) -> Option<i64> {
        let (here, next) = (self.here(index), self.here(index + 1));
        let idea = |token: &Token| token.is_any(&[Concept::Variation, Concept::Falseta, Concept::Idea]);
        let talked_of = self
            .tokens
            .iter()
            .any(|token| token.is_any(&[Concept::Variation, Concept::Falseta]));
        let ordinal = here.ordinal.filter(|nth| (1..=6).contains(nth));
        let closes = next.mark.is_some() || next.word.is_empty() || matches!(next.word.as_str(), "but" | "pero");
        let named = idea(next) || talked_of && (next.word == "one" || closes && here.word.ends_with('a'));
        // "the same idea one string over"
        let of_strings = self.here(index + 2).is_any(&[Concept::StringWord, Concept::FretWord]);
        let numbered = next
            .number
            .filter(|number| idea(here) && !of_strings && (1..=6).contains(number));
        ordinal.filter(|_| named).or(numbered)
    }

    /// "iguales que en la primera": where no note is told, the ordinal is a variation's.
    fn ordinal_alone(&self, same: usize, at: usize) -> Option<i64> {
        let here = self.here(at);
        let next = self.here(at + 1);
        let closes = next.mark.is_some() || next.word.is_empty() || next.is(Concept::Negation) || next.word == "pero";
        let links = (same + 1..at).all(|between| {
            self.here(between).is_any(&[Concept::On, Concept::Article]) || self.here(between).word == "que"
        });
        let stands = before(self.tokens, at).word == "la" && closes && links && !self.told.has_note();
        here.ordinal
            .filter(|nth| stands && here.word.ends_with('a') && (1..=6).contains(nth))
    }
}
