use super::{Discourse, Run};
use crate::music::position::Position;
use crate::music::stroke::Action;
use crate::reading::moments::Part;
use crate::reading::statement::Told;
use crate::text::Place;
use num_rational::Ratio;

impl Discourse {
    /// Words of strokes alone, for a count that has been told: the teacher says the row over again.
    pub(super) fn is_recital(&self, told: &Told) -> bool {
        let countless = told.when.is_none() && !self.sentence_has_count;
        if self.context.typed && countless && self.run.is_none() {
            return true;
        }
        // Without marks a count may lead several strokes.
        let placed = self.placed_in_sentence && !self.context.punctuated;
        let summed_up = told.recap
            && !placed
            && told.when.is_none()
            && !self.context.typed
            && self
                .run
                .as_ref()
                .is_none_or(|run| !run.said || run.told >= run.per_count * run.counts);
        let told_before = |pattern: &super::Building| {
            pattern
                .strokes
                .iter()
                .any(|placed| Some(placed.stroke.at.whole()) == self.cursor && placed.since != self.sentence)
        };
        // "So a, m, i, all down, a on the 2 itself": a count whose notes have all been told.
        let counted = told.when.and_then(|when| when.count);
        let full = |run: &Run| run.said && run.told >= run.per_count * run.counts && counted == Some(run.from);
        let summed_up = summed_up || told.recap && !self.context.typed && self.run.as_ref().is_some_and(full);
        if summed_up && self.pattern().is_some_and(told_before) {
            return true;
        }
        let bare_strum = told.fingers.is_empty()
            && told.strings.is_empty()
            && matches!(told.actions.first(), Some(Action::Down | Action::Up))
            && !told.short
            && self.run.as_ref().is_none_or(|run| !run.said);
        let vague = told.fingers.is_empty() && told.strings.is_empty() && told.chord.is_some() || bare_strum;
        if countless && vague && !self.context.typed {
            return true;
        }
        let bare =
            told.when.and_then(|when| when.count).is_none() && !told.has_details() && told.golpe_fingers.is_empty();
        if !bare {
            return false;
        }
        let Some(count) = self.cursor else {
            return !self.context.typed;
        };
        let known = self.pattern().is_some_and(|pattern| {
            pattern.strokes.iter().any(|placed| {
                placed.stroke.at.whole() == count
                    && (placed.sentence != self.sentence || placed.copied && told.fingers.is_empty())
            })
        });
        let open_run = self
            .run
            .as_ref()
            .is_some_and(|run| run.said && run.told < run.per_count * run.counts);
        let waits_for_part = told.when.is_some();
        !self.context.typed && (known || told.recap) && !open_run && !waits_for_part
    }

    /// The moment of a clause, and the rule by which it was worked out when it was not said.
    pub(super) fn moment_of(&mut self, told: &Told, place: Place) -> Option<(Position, Option<String>)> {
        let golpe_only = told.golpe && told.actions.is_empty() && told.when.is_none();
        if let Some(at) = self.last.filter(|at| golpe_only && self.golpe_at(*at)) {
            return Some((at, None));
        }
        if let Some(when) = told.when {
            let at = self.resolve(when)?;
            let division = self.pattern().and_then(|pattern| pattern.division);
            if when.part == Part::Whole {
                match &mut self.run {
                    Some(run) if run.from == at.whole() && run.counts == 1 => run.told += 1,
                    Some(run) if run.counts > 1 && run.said => {
                        run.told = run.told.max((at.whole() - run.from) * run.per_count) + 1
                    }
                    _ => {
                        let per_count = division.unwrap_or(0);
                        self.run = Some(Run {
                            from: at.whole(),
                            counts: 1,
                            per_count,
                            told: 1,
                            place,
                            said: false,
                            offsets: Vec::new(),
                        });
                    }
                }
            }
            return Some((at, None));
        }
        let joins = self.placed_in_sentence || golpe_only && told.leads && !self.context.typed;
        if told.with && joins {
            return self.last.map(|at| (at, None));
        }
        let fingered = !told.golpe_fingers.is_empty() || !told.fingers.is_empty();
        let knock = told.golpe && told.actions.is_empty() && fingered && !self.context.typed;
        if let Some(at) = self
            .last
            .filter(|_| knock && self.placed_in_sentence && self.loose <= 1)
        {
            let rule = "a golpe told right behind a stroke sounds with it".to_owned();
            return Some((at, Some(rule)));
        }
        if let Some(run) = &mut self.run
            && run.per_count > 0
        {
            let offset = usize::try_from(run.told)
                .ok()
                .and_then(|told| run.offsets.get(told))
                .copied();
            let at = Position::count(run.from).plus(offset.unwrap_or(Ratio::new(run.told, run.per_count)));
            run.told += 1;
            let full = run.told > run.per_count * run.counts;
            if full && run.said {
                return None;
            }
            if !full {
                return Some((at, None));
            }
        }
        self.loose_moment(told)
    }

    /// "Fifth string, third fret, thumb. Pull off to the first fret": a ligado goes on from the note of the sentence before.
    fn slurs_on(&self, told: &Told) -> bool {
        let slurs = matches!(told.actions.first(), Some(Action::PullOff | Action::HammerOn));
        let pattern = self.pattern();
        let last = pattern.and_then(|pattern| {
            pattern
                .strokes
                .iter()
                .rev()
                .find(|placed| Some(placed.stroke.at) == self.last)
        });
        slurs && last.is_some_and(|placed| placed.since + 1 == self.sentence && !placed.stroke.strings.is_empty())
    }

    /// How many moments of a count something is played at.
    fn moments_in(&self, count: i64) -> usize {
        let pattern = self.pattern();
        let strokes = pattern.map_or(&[][..], |pattern| pattern.strokes.as_slice());
        let within = strokes.iter().map(|placed| placed.stroke.at);
        let moments: std::collections::BTreeSet<Position> = within.filter(|at| at.whole() == count).collect();
        moments.len()
    }

    pub(super) fn golpe_at(&self, at: Position) -> bool {
        self.pattern().is_some_and(|pattern| {
            pattern
                .strokes
                .iter()
                .any(|placed| placed.stroke.at == at && placed.stroke.action == Action::Golpe)
        })
    }

    /// A stroke with no moment of its own: the count itself if nothing is there yet, else the parts that follow it.
    pub(super) fn loose_moment(&mut self, told: &Told) -> Option<(Position, Option<String>)> {
        let count = self.cursor?;
        let index = self.current;
        let taken = |at: Position, discourse: &Discourse| {
            index
                .and_then(|index| discourse.patterns.get(index))
                .is_some_and(|pattern| {
                    pattern
                        .strokes
                        .iter()
                        .any(|placed| placed.stroke.at == at && !placed.copied)
                })
        };
        let same_there = index.and_then(|index| self.patterns.get(index)).is_some_and(|pattern| {
            pattern.strokes.iter().any(|placed| {
                placed.stroke.at == Position::count(count)
                    && Some(placed.stroke.action) == told.actions.first().copied()
                    && placed.sentence != self.sentence
            })
        });
        if self.loose == 0 && (!taken(Position::count(count), self) || same_there && !self.placed_in_sentence) {
            self.loose = 1;
            return Some((Position::count(count), None));
        }
        if !self.placed_in_sentence && !self.context.typed && told.fingers.is_empty() && !self.slurs_on(told) {
            return None;
        }
        if !self.placed_in_sentence && self.slurs_on(told) {
            self.loose = self.moments_in(count);
        }
        self.loose = self.loose.max(1) + 1;
        let rule = Some("strokes told one after another share their count evenly".to_owned());
        let parts = self.parts_of(count).filter(|parts| *parts > 1);
        let width = parts.unwrap_or(self.loose as i64).max(self.loose as i64);
        // "down up down up down up, six to each count": how many there are is said behind the row.
        let completes = parts == Some(self.loose as i64) && self.moments_in(count) + 1 == self.loose;
        if width > 2 && (parts.is_none() || completes) {
            self.spread(count, width);
        }
        Some((
            Position::count(count).plus(num_rational::Ratio::new(self.loose as i64 - 1, width)),
            rule,
        ))
    }

    /// "y después en la última corchea del tres | el índice sube": in speech without marks the sentence before named the moment.
    pub(super) fn at_the_moment_named_before(&mut self, told: &Told) -> Option<Told> {
        let (when, sentence) = self.named_before.filter(|(when, _)| when.part != Part::Whole)?;
        let spoken_on = !self.context.punctuated && !self.context.typed && self.sentence == sentence + 1;
        let waits = told.when.is_none() && told.span.is_none() && told.leads && told.is_one_strum();
        (spoken_on && waits).then(|| {
            self.named_before = None;
            Told {
                when: Some(when),
                strings: Vec::new(),
                ..told.clone()
            }
        })
    }
}

/// A told clause with nothing but a moment moves the talk there.
pub(super) fn only_moves(told: &Told) -> bool {
    told.is_blank() && (told.when.is_some() || told.span.is_some())
}
