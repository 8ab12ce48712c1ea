use super::super::lexicon::Concept;
use super::super::moments::before;
use super::super::remarks::strum_explained;
use super::super::statement::Told;
use super::super::tokens::Token;
use super::Reader;
use crate::music::hand::Finger;
use crate::music::stroke::Action;

impl Reader<'_> {
    /// "three downs", "dos golpes para arriba": how many strokes of a kind are told at once.
    pub(super) fn strokes_counted(&self, index: usize) -> Option<i64> {
        let number = before(self.tokens, index)
            .number
            .filter(|number| (2..=4).contains(number))?;
        // "en el tres abajo" is one stroke on 3; "van tres para abajo" are three.
        let lead = before(self.tokens, index.saturating_sub(1));
        let verb = matches!(
            lead.word.as_str(),
            "van" | "son" | "hay" | "haces" | "hago" | "das" | "doy" | "damos" | "tocas"
        );
        // "Tresillo, tres abajo: a, m, i"
        let listed = self.told.division == Some(number) && self.here(index + 1).is_mark(':');
        let plural = self.here(index).word.ends_with('s') || self.here(index + 1).is(Concept::Unit) || verb || listed;
        plural.then_some(number)
    }

    /// "down and up with the index", "abajo y arriba con el índice": one finger goes there and back.
    pub(super) fn there_and_back(&mut self) {
        let counted = |token: &Token| {
            matches!(
                token.word.as_str(),
                "movimientos" | "partes" | "strokes" | "toques" | "movements"
            )
        };
        let several = self.tokens.iter().any(counted);
        for at in 1..self.out.len() {
            let Some([there, back]) = self.out.get_mut(at - 1..=at) else {
                continue;
            };
            let opposite = matches!(
                (there.actions.as_slice(), back.actions.as_slice()),
                ([Action::Down], [Action::Up]) | ([Action::Up], [Action::Down])
            );
            if !opposite || there.negated || back.negated {
                continue;
            }
            match (there.fingers.as_slice(), back.fingers.as_slice()) {
                ([], [_]) if back.when.is_none_or(|when| when.count.is_none()) => {
                    there.fingers = back.fingers.clone();
                }
                // "del índice, abajo, arriba, abajo"
                ([_], []) if several && back.when.is_none() && !there.golpe && !back.golpe => {
                    back.fingers = there.fingers.clone();
                }
                _ => {}
            }
        }
    }

    /// "Una alzapúa en el 3 y otra en el 4, con el pulgar": another is one like the one before.
    pub(super) fn another_of_the_same(&mut self) {
        let another = |token: &Token| matches!(token.word.as_str(), "otra" | "otro" | "another");
        for at in 1..self.out.len() {
            let Some([one, other]) = self.out.get_mut(at - 1..=at) else {
                continue;
            };
            let between = |token: &&Token| token.start >= one.when_at && token.start < other.when_at;
            let said = self.tokens.iter().filter(between).any(another);
            let alike = one.sounds() && !one.negated && !other.sounds() && !other.has_note() && !other.negated;
            if said && alike && one.when.is_some() && other.when.is_some() && !self.context.typed {
                other.actions.clone_from(&one.actions);
                other.golpe = one.golpe;
            }
        }
    }

    /// "On 1 chaca, middle down, and index up on the and": behind the word its strokes are only said again.
    pub(super) fn gestures_told_again(&mut self) {
        if self.context.gestures.is_empty() {
            return;
        }
        let of_a_gesture = |told: &Told| {
            let strokes = self.context.gestures.iter().flat_map(|gesture| &gesture.strokes);
            strokes
                .into_iter()
                .any(|stroke| stroke.actions == told.actions && stroke.fingers == told.fingers)
        };
        let named = self
            .tokens
            .iter()
            .any(|token| self.context.gestures.iter().any(|gesture| gesture.word == *token.word));
        let mut kept: Vec<Told> = Vec::new();
        for told in std::mem::take(&mut self.out) {
            let again = named && told.when.is_none() && told.sounds() && !told.has_note() && !kept.is_empty();
            if !(again && of_a_gesture(&told)) {
                kept.push(told);
            }
        }
        self.out = kept;
    }

    /// "index down, and on the half index up, down up": the strokes just told by their moments are said over behind them.
    pub(super) fn without_what_is_said_over(&mut self) {
        let bare = |told: &&Told| {
            let loose = told.when.is_none() && told.same.is_none() && !told.negated;
            told.is_one_strum() && loose && !told.has_details() && !told.golpe
        };
        let over = self.out.iter().rev().take_while(bare).count();
        let told = self.out.len().saturating_sub(over);
        let Some((told, row)) = self.out.split_at_checked(told) else {
            return;
        };
        let last = told.get(told.len().saturating_sub(over)..).unwrap_or(&[]);
        let again = last.len() == over && last.iter().zip(row).all(|(one, other)| one.actions == other.actions);
        let placed = last.iter().all(|told| told.when.is_some() && !told.negated);
        if over >= 2 && again && placed && !self.context.typed {
            self.out.truncate(told.len());
        }
    }

    /// "one is thumb down on c, just that, nothing fancy, thumb down": the stroke of a count, said once more.
    pub(super) fn not_twice(&mut self) {
        if self.context.typed || self.context.punctuated {
            return;
        }
        let mut kept: Vec<Told> = Vec::with_capacity(self.out.len());
        for told in std::mem::take(&mut self.out) {
            let again = kept.last().is_some_and(|before| self.is_said_twice(before, &told));
            if !again {
                kept.push(told);
            }
        }
        self.out = kept;
    }

    fn is_said_twice(&self, before: &Told, told: &Told) -> bool {
        let loose = told.when.is_none() && told.same.is_none() && told.division.is_none() && !told.negated;
        let one = loose && told.is_one_strum() && !told.golpe && !told.has_note() && !told.with;
        let alike = before.actions == told.actions && before.fingers == told.fingers && !told.fingers.is_empty();
        let counted =
            before.when.is_some_and(|when| when.count.is_some()) && !before.negated && before.division.is_none();
        let between = self
            .tokens
            .iter()
            .filter(|token| token.start >= before.end && token.end <= told.end);
        let adds = |token: &Token| {
            token.is_any(&[Concept::And, Concept::Then, Concept::Same])
                || matches!(token.word.as_str(), "again" | "another" | "otra" | "otro" | "second")
        };
        one && alike && counted && !between.into_iter().any(adds)
    }

    /// "a hammer-on to the fifth fret, the finger falls, no stroke": the same slur, in other words.
    pub(super) fn slurs_said_again(&mut self) {
        if self.context.typed {
            return;
        }
        let mut at = 1;
        while let Some([first, again]) = self.out.get(at - 1..=at) {
            let slur = matches!(again.actions.as_slice(), [Action::PullOff | Action::HammerOn]);
            let bare = !again.has_details() && again.when.is_none() && again.how_many.is_none() && !again.slur;
            let same = slur && bare && first.actions == again.actions && !first.frets.is_empty();
            let another = self.tokens.iter().rfind(|token| token.end <= again.start);
            let another = another.is_some_and(|token| matches!(token.word.as_str(), "otro" | "otra" | "another"));
            if same && !another {
                self.out.remove(at);
            } else {
                at += 1;
            }
        }
    }

    /// "9 is index up, and up, as you keep asking, means from the first string to the sixth": what a strum is, behind the
    /// stroke that was told.
    pub(super) fn without_what_is_explained(&mut self) {
        let Some((_, strum)) = strum_explained(self.tokens) else {
            return;
        };
        let start = self.here(strum).start;
        let told_before = |told: &Told| told.end <= start && told.is_one_strum();
        if self.out.iter().any(told_before) {
            self.out.retain(|told| told.end <= start);
        }
    }

    /// "p i m a, on 5, 3, 2 and 1 in that order": one behind the other, evenly.
    pub(super) fn in_that_order(&mut self) {
        let says = |pair: &[Token]| match pair {
            [that, order] => {
                matches!(that.word.as_str(), "that" | "this" | "ese" | "este")
                    && matches!(order.word.as_str(), "order" | "orden")
            }
            _ => false,
        };
        if !self.tokens.windows(2).any(says) {
            return;
        }
        let row = |told: &&mut Told| told.fingers.len() >= 3 && told.fingers.len() == told.strings.len();
        for told in self.out.iter_mut().filter(row).filter(|told| told.division.is_none()) {
            told.division = i64::try_from(told.fingers.len()).ok();
        }
    }

    /// "5 is three downs, ring finger, middle finger, index finger": one stroke for each finger, dealt evenly over the count.
    pub(super) fn deal_to_fingers(&mut self) {
        let strum = |told: &Told| told.how_many.filter(|_| told.is_one_strum() && !told.has_note());
        // "a triplet down, ring middle index": a stroke for each finger of the row.
        for told in &mut self.out {
            let row = i64::try_from(told.fingers.len()).ok();
            let each = told.division.is_some() && told.division == row && row.is_some_and(|row| row >= 3);
            if each && strum_once(told) && told.how_many.is_none() && !self.context.typed {
                told.how_many = row;
            }
        }
        let found: Vec<(usize, i64)> = self
            .out
            .iter_mut()
            .enumerate()
            .filter_map(|(at, told)| {
                let number = strum(told)?;
                told.how_many = None;
                Some((at, number))
            })
            .collect();
        // From behind: what is dealt moves only what stands behind it.
        for (at, number) in found.into_iter().rev() {
            self.deal(at, number);
        }
    }

    fn deal(&mut self, at: usize, number: i64) {
        let Some((several, dealt)) = self.out.get(at..).and_then(<[Told]>::split_first) else {
            return;
        };
        let lone = |told: &&Told| !told.sounds() && !told.has_note() && told.when.is_none() && !told.fingers.is_empty();
        let dealt: Vec<&Told> = dealt.iter().take_while(lone).collect();
        let listed = dealt.iter().flat_map(|told| &told.fingers);
        let fingers: Vec<Finger> = several.fingers.iter().chain(listed).copied().collect();
        if i64::try_from(fingers.len()) != Ok(number) {
            return;
        }
        let (behind, end) = (dealt.len(), dealt.last().map_or(several.end, |last| last.end));
        let first = Told {
            division: several.division.or(Some(number)),
            fingers: fingers.iter().take(1).copied().collect(),
            end,
            ..several.clone()
        };
        let further = fingers.iter().skip(1).map(|finger| Told {
            when: None,
            span: None,
            division: None,
            fingers: vec![*finger],
            ..first.clone()
        });
        let all: Vec<Told> = std::iter::once(first.clone()).chain(further).collect();
        let (dealt, next) = (all.len(), at + all.len());
        self.out.splice(at..=at + behind, all);
        // "..., ring down, middle down, index down": the same strokes, told one by one.
        let again = |nth: usize| match (self.out.get(at + nth), self.out.get(next + nth)) {
            (Some(one), Some(other)) => {
                one.actions == other.actions && one.fingers == other.fingers && other.when.is_none() && !other.negated
            }
            _ => false,
        };
        if (0..dealt).all(again) {
            self.out.drain(next..next + dealt);
        }
    }
}

fn strum_once(told: &Told) -> bool {
    told.is_one_strum() && !told.has_note() && !told.golpe
}
