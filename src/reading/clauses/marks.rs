use super::super::lexicon::Concept;
use super::super::moments::before;
use super::Reader;
use super::is_count::is_count;
use crate::music::stroke::Action;

impl Reader<'_> {
    pub(super) fn mark(&mut self, index: usize) -> Option<usize> {
        let here = self.here(index);
        let mark = here.mark?;
        match mark {
            ',' | '.' | '…' | '?' | ')' | '/' | '|' => {
                let counted = mark == '.' && self.told.sounds() && self.counts_on(index + 1);
                let hard = matches!(mark, '…' | '?' | '/' | '|') || counted;
                self.inert = false;
                if hard || self.negated {
                    self.close();
                } else {
                    self.soft = true;
                    self.fresh = true;
                }
            }
            '-' if !here.joined || !self.here(index + 1).joined => self.close(),
            // "C where the Bb was: 5 i dn": behind a heading stands what is played.
            ':' if (self.inert || self.negated) && self.counts_begin(index + 1) => {
                self.inert = false;
                self.close();
            }
            ':' if self.told.is_blank() => self.fresh = true,
            ':' if self.note_that_sounds(index + 1).is_some() => self.soft = true,
            ':' => {
                // "un pellizco: pulgar en la quinta, …": what is pinched stands behind.
                let pinched = self.told.actions == [Action::Pluck]
                    && !self.told.has_note()
                    && self.told.fingers.is_empty()
                    && !self.context.typed;
                let announced = self.told.slur && !self.told.has_note() || pinched;
                // "a triplet on the fourth string: open, second fret": the string is that of the notes behind it.
                let heads = self.told.strings.len() == 1 && self.told.frets.is_empty() && !self.told.sounds();
                let fret = self.here(index + 1).is(Concept::Open) || self.here(index + 2).is(Concept::FretWord);
                // "y es rasgueo: índice abajo, solo": how it is struck stands behind.
                let strummed = self.told.actions == [Action::Rasgueado]
                    && self.told.fingers.is_empty()
                    && (index + 1..index + 4).any(|at| self.here(at).is_any(&[Concept::Down, Concept::Up]));
                if strummed && !self.context.typed {
                    self.told.actions.clear();
                }
                // "tres abajo: a, m, i": their fingers stand behind.
                let counted = self.told.how_many.is_some() && self.told.fingers.is_empty();
                if !(announced || counted || heads && fret) && (self.told.sounds() || self.told.has_note()) {
                    self.close();
                } else {
                    self.soft = true;
                    self.fresh = true;
                }
            }
            '&' if self.joins(index) => self.with(),
            '+' => self.with(),
            '=' if self.here(index + 1).number.is_some() && !self.here(index.saturating_sub(2)).is_mark('+') => {
                return Some(self.same(index));
            }
            '(' => {}
            '↓' => self.action(index, Action::Down),
            '↑' => self.action(index, Action::Up),
            _ => {}
        }
        Some(index + 1)
    }

    /// "8 up. 9 tap. 10 up.": behind the stop the next count begins.
    fn counts_on(&self, from: usize) -> bool {
        let counted = self.told.when.is_some_and(|when| when.count.is_some());
        let next = self.here(from).number.is_some() && !self.here(from).joined && !self.context.typed;
        counted && next || self.only_counts_follow(from)
    }

    fn counts_begin(&self, index: usize) -> bool {
        self.context.typed && self.here(index).number.is_some() && is_count(self.tokens, index, self.context, true)
    }

    /// "Thumb down, index up. 1 and.": what is counted behind the stop is said over.
    fn only_counts_follow(&self, from: usize) -> bool {
        let rest = self.tokens.get(from..).unwrap_or(&[]);
        let counts = |token: &super::super::tokens::Token| {
            token.number.is_some() || token.mark.is_some() || token.is_any(&[Concept::And, Concept::Half])
        };
        let numbered = rest.first().is_some_and(|first| first.number.is_some());
        numbered && rest.len() >= 2 && rest.iter().all(counts) && !self.context.typed
    }

    /// `D&K`: two signs written as one sound together.
    pub(super) fn joins(&self, index: usize) -> bool {
        let next = self.here(index + 1);
        let grown_together = self.here(index).joined && next.joined && next.mark.is_none();
        let before = before(self.tokens, index);
        let signs = before.number.is_none() && before.mark.is_none() && next.number.is_none();
        self.here(index).is_mark('&') && (self.context.joins_with_ampersand || grown_together && signs)
    }

    pub(super) fn with(&mut self) {
        self.told.with |= !self.told.sounds();
        self.told.with_pending = true;
        self.fresh = false;
    }

    pub(super) fn golpe(&mut self, index: usize) {
        let linked = (index.saturating_sub(2)..index).any(|at| self.here(at).is_any(&[Concept::And, Concept::With]))
            || (index + 1..index + 4).any(|at| self.here(at).is(Concept::With));
        let apart = self.soft && self.told.sounds() && !self.told.with_pending && !linked;
        // "en el once no se toca nada, el golpe es en el doce"
        let behind_a_rest = self.told.silence && self.told.when.is_some() && !self.negated;
        if apart || self.told.golpe && self.soft || behind_a_rest {
            self.close();
        }
        self.soft = false;
        self.told.golpe = true;
        self.fresh = false;
    }

    pub(super) fn action(&mut self, index: usize, action: Action) {
        let said_again = self.soft && self.told.corrects && self.told.actions.first() == Some(&action);
        if said_again {
            return;
        }
        let new_note = self.soft
            && self.told.actions.is_empty()
            && self.told.has_note()
            && (!self.told.fingers.is_empty() || self.note_follows(index));
        if self.soft && self.told.actions.is_empty() && self.told.golpe || new_note {
            self.close();
        }
        self.soft = false;
        // "ligado: tirar a 5ª/0": the slur is told by its direction.
        let slurs = matches!(action, Action::PullOff | Action::HammerOn);
        if self.told.slur && slurs && !self.told.has_note() {
            self.told.actions = vec![action];
            self.told.slur = false;
            return;
        }
        let strum = |action: Action| matches!(action, Action::Down | Action::Up);
        let joins = |old: Action| {
            (old == Action::Alzapua || old == Action::Rasgueado || old == Action::Picado || old == Action::Tremolo)
                && strum(action)
                || old == action && !strum(action)
                || (old == Action::Pluck && !strum(action))
        };
        match self.told.actions.first().copied() {
            None => self.told.actions.push(action),
            Some(Action::Rasgueado) if strum(action) && self.strums_one_way(index) => self.told.actions = vec![action],
            Some(old) if joins(old) => {
                if old == Action::Pluck {
                    self.told.actions = vec![action];
                }
            }
            Some(_) => {
                let (negated, recap) = (self.negated, self.recap);
                self.close();
                self.negated = negated;
                self.recap = recap;
                self.told.actions.push(action);
            }
        }
        self.fresh = false;
    }

    /// "un rasgueo hacia abajo con el índice": a strum that is called a rasgueo; several fingers opened would be a rasgueado.
    fn strums_one_way(&self, index: usize) -> bool {
        let near = (index.saturating_sub(4)..index).rev();
        let mut lead = near.take_while(|at| self.here(*at).mark.is_none());
        self.told.fingers.len() < 2 && lead.any(|at| self.here(at).word == "rasgueo")
    }

    /// A string or fret stands between here and the next comma.
    pub(super) fn note_follows(&self, index: usize) -> bool {
        (index + 1..index + 7)
            .take_while(|at| !self.here(*at).is_mark(',') && !self.here(*at).is_mark('.'))
            .any(|at| {
                let here = self.here(at);
                here.is_any(&[Concept::StringWord, Concept::FretWord, Concept::Open])
                    || matches!(here.word.as_str(), "s" | "f") && self.here(at + 1).joined
            })
    }
}
