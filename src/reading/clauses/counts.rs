use super::super::lexicon::{Concept, Language};
use super::super::moments::{Part, When, before, moment_at};
use super::super::sayings::{among, sayings};
use super::super::spans::{count_list, span_at};
use super::super::statement::{SameAs, Told};
use super::super::tokens::Token;
use super::Reader;
use super::fingers::named_finger;
use super::is_count::is_count;

impl Reader<'_> {
    pub(super) fn moment(&mut self, index: usize) -> Option<usize> {
        if self.joins(index) {
            return None;
        }
        if let Some(end) = self.every_half(index).or_else(|| self.slurred_on(index + 1)) {
            return Some(end);
        }
        let told = moment_at(self.tokens, index, self.context).or_else(|| self.count_again_and(index));
        let (when, end) = told?;
        if when.part == Part::And
            && when.count.is_none()
            && self.here(index).is_mark('&')
            && self.here(index + 1).number.is_some()
            && !self.context.typed
        {
            return None;
        }
        // "down on the number and up on the and": the count has been said.
        let number = when.count.is_none() && when.part == Part::Whole;
        if number && self.told.sounds() && self.told.when.is_some_and(|told| told.part == Part::Whole) {
            return Some(end);
        }
        if when.count.is_none() && self.told.when.is_none() && self.another_stroke(index, end) {
            self.close();
        }
        self.set_when_at(when, index);
        Some(end)
    }

    /// "on every and", `en cada "y"`, "in all the halves": the half of every count that is told of.
    fn every_half(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        let quote = usize::from(
            before(self.tokens, index)
                .mark
                .is_some_and(|mark| matches!(mark, '"' | '«' | '“' | '\'')),
        );
        let lead = before(self.tokens, index - quote.min(index));
        let every = matches!(lead.word.as_str(), "every" | "each" | "cada");
        let half = here.is_any(&[Concept::And, Concept::Half]) && !here.is_mark('+');
        let closes = self.here(index + 1).mark.is_some() || self.here(index + 1).word.is_empty();
        if !(every && half && closes) {
            return None;
        }
        if !self.told.is_blank() {
            self.close();
        }
        self.told.every_half = true;
        Some(index + 1)
    }

    /// "En el 1 el pulgar, en el 1 y el índice": behind what was told for the count itself, its half.
    fn count_again_and(&self, index: usize) -> Option<(When, usize)> {
        let count = self.here(index).number?;
        let spanish = self.context.language == Language::Spanish && before(self.tokens, index).word == "el";
        let told = self.told.when.or(self.out.last().and_then(|last| last.when));
        let again = told == Some(When::count(count)) && (self.has_event() || !self.out.is_empty());
        let mut next = index + 2;
        next += usize::from(self.here(next).is(Concept::Article));
        let finger = named_finger(self.here(next)).is_some() || self.here(next).is(Concept::Golpe);
        let and = self.here(index + 1).word == "y";
        let part = Part::And;
        (spanish && again && and && finger).then_some((
            When {
                count: Some(count),
                part,
            },
            index + 2,
        ))
    }

    /// "as you say eight", "when you call 5", "cuando decís cinco": the count being said is the moment.
    pub(super) fn as_you_say(&mut self, index: usize) -> Option<usize> {
        let opens = matches!(
            self.here(index).word.as_str(),
            "as" | "when" | "cuando" | "al" | "while"
        );
        if !opens {
            return None;
        }
        if let Some(end) = self.as_written(index) {
            return Some(end);
        }
        let says = (index + 1..index + 3).find(|at| {
            matches!(
                self.here(*at).word.as_str(),
                "llega"
                    | "llegue"
                    | "say"
                    | "call"
                    | "count"
                    | "reach"
                    | "hit"
                    | "get to"
                    | "decis"
                    | "dices"
                    | "digo"
                    | "decimos"
                    | "decir"
                    | "llegas"
                    | "cuentas"
                    | "llegar"
            )
        })?;
        if let Some(end) = self.as_it_comes(says) {
            return Some(end);
        }
        let arrives = matches!(self.here(says).word.as_str(), "llegar" | "llegas");
        let at = says + 1 + usize::from(arrives && self.here(says + 1).is_any(&[Concept::On, Concept::Article]));
        let number = self
            .here(at)
            .number
            .filter(|number| (1..=self.context.last_count()).contains(number))?;
        self.set_when_at(When::count(number), at);
        Some(at + 1)
    }

    /// "cuando llega la a": a part of the count that comes is the moment.
    fn as_it_comes(&mut self, verb: usize) -> Option<usize> {
        let article = usize::from(self.here(verb + 1).is(Concept::Article));
        let (when, end) = moment_at(self.tokens, verb + 1 + article, self.context)?;
        self.set_when_at(when, verb + 1 + article);
        Some(end)
    }

    /// "in the gap before 3", "justo antes del 3": the half of the count in front.
    fn just_before(&self, index: usize, number: i64) -> Option<When> {
        let back = |steps: usize| before(self.tokens, (index + 1).saturating_sub(steps));
        let article = usize::from(back(1).is(Concept::Article) || back(1).word == "del");
        let ahead = matches!(back(1 + article).word.as_str(), "before" | "antes");
        let gap = matches!(
            back(2 + article).word.as_str(),
            "gap" | "space" | "just" | "right" | "hueco" | "justo"
        );
        let count = Some(number - 1).filter(|count| ahead && gap && *count >= 1);
        count.map(|_| When { count, part: Part::And })
    }

    /// A moment belongs to the stroke before it in the clause, or begins a clause of its own.
    fn set_when(&mut self, when: When, index: usize) {
        // "en lugar del rasgueado el seis se queda callado": the count begins what is played instead.
        if self.in_place_of && self.told.sounds() && !self.context.punctuated && when.count.is_some() {
            self.close();
        }
        self.spread_over_bare_count();
        if when.count.is_some() {
            self.deal_out();
        }
        if self.leads_its_strokes(when, index) {
            self.close_for_moment();
            self.told.when = Some(when);
            self.fresh = false;
            return;
        }
        if self.begins_the_group(when) {
            self.fresh = false;
            return;
        }
        let takes = self.told.when.is_none() || self.told.is_blank();
        // "up with the index on the half": told behind its stroke, whatever the clause before was.
        let pointed = !self.soft && before(self.tokens, index).is_any(&[Concept::On, Concept::Article]);
        if takes
            && !(self.context.typed
                && !pointed
                && self.has_event()
                && when.count.is_none()
                && self.told.when.is_none()
                && !self.out.is_empty())
        {
            let count = when.count.or(self.told.when.and_then(|old| old.count));
            self.told.when = Some(When { count, part: when.part });
        } else {
            self.close_for_moment();
            self.told.when = Some(when);
        }
        self.fresh = false;
    }

    /// "golpe on 1, 4 and 7": a stroke told for one count is played on those listed behind it.
    pub(super) fn spread_over_bare_count(&mut self) {
        let when = self
            .told
            .when
            .filter(|when| when.part == Part::Whole && when.count.is_some());
        let (Some(when), true, Some(before), false) = (when, self.told.is_blank(), self.out.last(), self.negated)
        else {
            return;
        };
        // "a knock by itself, and that sends you back round to the 1": where it leads.
        let at = self
            .tokens
            .iter()
            .position(|token| token.start >= self.told.when_at)
            .unwrap_or(0);
        let leads = (at.saturating_sub(3)..at).any(|at| matches!(self.here(at).word.as_str(), "to" | "into" | "al"));
        if leads && !self.context.typed {
            return;
        }
        let again = before
            .same
            .is_some_and(|same| same.counts.is_none() && !same.core && same.variation.is_none());
        let played = before.sounds() && before.same.is_none() || again && !before.sounds();
        let listed = played && !before.has_note() && !before.negated;
        let counted = before
            .when
            .filter(|when| when.part == Part::Whole)
            .and_then(|when| when.count);
        let (at, end) = (self.told.when_at, before.end);
        let between: Vec<&Token> = self
            .tokens
            .iter()
            .filter(|token| token.start >= end && token.start < at)
            .collect();
        let links = [Concept::And, Concept::On, Concept::Article, Concept::With];
        // "and then you're on 1 again"
        let arrives = |token: &Token| token.start >= end && among(&sayings().words.arriving, &token.word);
        let home = self.tokens.iter().any(arrives);
        let plain = !home
            && between.iter().all(|token| {
                token.is_any(&links)
                    || token.is_mark(',')
                    || matches!(
                        token.word.as_str(),
                        "again" | "one" | "another" | "uno" | "otro" | "una" | "otra"
                    )
            });
        let linked = between.iter().any(|token| token.is_any(&links));
        let place = self.tokens.iter().position(|token| token.start == at).unwrap_or(0);
        let lists_on = self.here(place + 1).is(Concept::And) && self.here(place + 2).number.is_some();
        // "se queda sonando hasta que entra el uno": how long it sounds.
        let lasts = (place.saturating_sub(4)..place)
            .any(|at| matches!(self.here(at).word.as_str(), "hasta" | "until" | "till"));
        let counts_on = !lists_on && counted.zip(when.count).is_some_and(|(last, next)| next == last + 1);
        let bare = !self.context.punctuated && between.is_empty();
        if listed && counted.is_some() && plain && !lasts && !bare && (linked || !counts_on) {
            let again = Told {
                when: Some(when),
                start: at,
                end: at,
                ..before.clone()
            };
            self.out.push(again);
            self.told.when = None;
        }
    }

    pub(super) fn close_for_moment(&mut self) {
        self.close();
        self.told = Told {
            start: self.told.start,
            ..Told::default()
        };
    }

    pub(super) fn count(&mut self, index: usize) -> Option<usize> {
        if let Some(end) = self.equals_a_list(index) {
            return Some(end);
        }
        if let Some((first, last, end)) = span_at(self.tokens, index).or_else(|| self.listed_line(index))
            && (self.counts_here(index) || self.context.typed || self.likened_span(last, end))
        {
            self.set_span(first, last);
            return Some(end);
        }
        if let Some((first, last, end)) = self.counted_off(index) {
            self.set_span(first, last);
            return Some(end);
        }
        if let Some((nth, end)) = self.nth_beat(index) {
            self.set_when_at(When::count(nth), index);
            return Some(end);
        }
        let number = self.here(index).number?;
        let of_left_hand = self.told.left.is_some()
            && self.told.when.is_none()
            && (index.saturating_sub(9)..index).any(|at| self.here(at).is(Concept::FretWord))
            && self.context.typed;
        if of_left_hand {
            return Some(index + 1);
        }
        let aside = self.context.typed && self.bracketed(index) && (self.told.when.is_some() || !self.told.is_blank());
        if aside || !self.counts_here(index) {
            return None;
        }
        if let Some(end) = self.counts_listed(index) {
            return Some(end);
        }
        if let Some(when) = self.just_before(index, number) {
            self.set_when_at(when, index);
            return Some(index + 1);
        }
        let next_round = matches!(before(self.tokens, index).word.as_str(), "next" | "following")
            || matches!(
                self.here(index + 1).word.as_str(),
                "siguiente" | "que viene" | "que sigue"
            )
            || matches!(self.here(index + 1).word.as_str(), "of" | "de")
                && (index + 2..index + 5).any(|at| {
                    self.here(at).is(Concept::RunsOn)
                        || matches!(self.here(at).word.as_str(), "next" | "following" | "siguiente")
                })
            || self.here(index + 1).word == "that" && matches!(self.here(index + 2).word.as_str(), "follows" | "comes");
        let round = self.context.round.or(self.context.beats);
        let beats = round.filter(|round| next_round && number <= *round);
        self.set_when_at(When::count(number + beats.unwrap_or(0)), index);
        Some(index + 1)
    }

    /// A count, and the word that tells it.
    pub(super) fn set_when_at(&mut self, when: When, index: usize) {
        self.set_when(when, index);
        self.told.when_at = self.here(index).start;
    }

    /// What is told from here on goes over the counts `first` to `last`.
    fn set_span(&mut self, first: i64, last: i64) {
        if !self.told.is_blank() {
            self.close();
        }
        self.told.when = None;
        self.told.span = Some((first, last));
        self.fresh = false;
    }

    /// "5, 6 and 7 are 1, 2 and 3 over again": as many counts as the ones told are how those go.
    fn equals_a_list(&mut self, index: usize) -> Option<usize> {
        let (first, last) = self.told.span?;
        let (from, to, end) = count_list(self.tokens, index)?;
        let what = usize::from(matches!(before(self.tokens, index).word.as_str(), "what" | "como"));
        let lead = before(self.tokens, index - what.min(index));
        let equated = lead.is(Concept::Is) || lead.is_mark('=');
        if !equated || to - from != last - first || to <= from || from == first {
            return None;
        }
        self.told.same = Some(SameAs {
            counts: Some((from, to)),
            core: false,
            variation: None,
        });
        Some(end)
    }

    /// "on the first beat", "en el tercer tiempo".
    fn nth_beat(&self, index: usize) -> Option<(i64, usize)> {
        let (nth, beat) = (self.here(index).ordinal?, self.here(index + 1));
        let one = beat.is(Concept::BeatWord) && !beat.word.ends_with('s');
        let led = before(self.tokens, index).is(Concept::Article) || before(self.tokens, index).is(Concept::On);
        (one && led && (1..=self.context.last_count()).contains(&nth)).then_some((nth, index + 2))
    }

    /// `7, 8 y 9: …` at the start of a typed line.
    pub(super) fn listed_line(&self, index: usize) -> Option<(i64, i64, usize)> {
        let (first, last, end) = count_list(self.tokens, index)?;
        let headed = self.here(end).is_mark(':')
            || self.here(end).is_mark('=')
            || self.here(end).is_mark('-') && !self.here(end).joined;
        // `4 5 6 the same three counts`
        let again = self.here(end).is(Concept::Same) || self.here(end + 1).is(Concept::Same);
        let line = self.context.typed && index == 0 && (headed || last > first + 1 && again);
        let same = |at: usize| self.here(at).is(Concept::Same);
        // "5 and 6 are just like 2 and 3", "and 5 and 6, that's B flat, once more the same"
        let likened = !self.context.typed && (end..end + 12).take_while(|at| !self.here(*at).is_mark('.')).any(same)
            || index == 0 && self.here(end).is(Concept::Is) && (end..end + 5).any(same);
        // "on 1 and 2, two notes to each count", "beats 1 and 2 are quavers"
        let parts = [Concept::Quavers, Concept::Semiquavers, Concept::Triplet];
        let divided = (end..end + 6).any(|at| {
            let so_many = self.here(at).number.is_some() && self.here(at + 1).is(Concept::Unit);
            self.here(at).is_any(&parts)
                || so_many && matches!(self.here(at + 2).word.as_str(), "to" | "in" | "por" | "en")
        });
        (last > first && (line || likened || divided && !self.context.typed)).then_some((first, last, end))
    }

    /// Whether a token stands in brackets.
    pub(super) fn bracketed(&self, index: usize) -> bool {
        let before = self.tokens.get(..index).unwrap_or(self.tokens);
        let bracket = before
            .iter()
            .rev()
            .find(|token| token.is_mark('(') || token.is_mark(')'));
        bracket.is_some_and(|token| token.is_mark('('))
    }

    /// Whether a bare number is a count of the compás here.
    pub(super) fn counts_here(&self, index: usize) -> bool {
        is_count(self.tokens, index, self.context, self.fresh)
    }
}
