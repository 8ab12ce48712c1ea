use super::{Discourse, Run};
use crate::music::pattern::{Claim, ClaimAbout};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::reading::statement::Told;
use crate::text::Place;
use num_rational::Ratio;

impl Discourse {
    pub(super) fn division(&mut self, told: &Told, division: i64, place: Place) {
        let here = told.when.and_then(|when| when.count).or(told.span.map(|span| span.0));
        let span = told.span.or(self.focus);
        let at = here.or(self.cursor.filter(|_| self.sentence_has_count || self.context.typed));
        match at {
            Some(count) => {
                let counts = span.map_or(1, |(first, last)| (last - first + 1).max(1));
                self.run = Some(Run {
                    from: span.map_or(count, |span| span.0),
                    counts,
                    per_count: division,
                    told: 0,
                    place,
                    said: true,
                    offsets: Vec::new(),
                });
            }
            None => {
                if let Some(building) = self.building() {
                    building.division = Some(division);
                }
            }
        }
    }

    /// What heads a list of strokes is none of them.
    pub fn head_of_list(&mut self, listed: Option<usize>) {
        let listed = listed.and_then(|listed| i64::try_from(listed).ok());
        if let (Some(listed), Some(run)) = (listed, self.run.as_mut()) {
            run.told -= i64::from(listed >= 2 && run.told == listed + 1);
        }
    }

    /// A run that has ended is held against what was said of it.
    pub fn close_run(&mut self) -> bool {
        let Some(run) = self.run.take() else { return false };
        if run.said && run.told > 1 {
            let given = usize::try_from(run.told).unwrap_or(0);
            let place = run.place.to(self.sentence_place);
            let claim = Claim {
                place,
                about: ClaimAbout::Divided {
                    from: Position::count(run.from),
                    counts: run.counts,
                    per_count: run.per_count,
                    given,
                },
            };
            if let Some(building) = self.building() {
                building.claims.push(claim);
            }
            return true;
        }
        false
    }

    /// "p i m a: fourth, third, second and first strings": one finger, one string, one after another.
    pub(super) fn arpeggio(&mut self, told: &Told, index: usize, at: Position, place: Place) -> bool {
        let count = told.strings.len();
        let run = self
            .run
            .as_ref()
            .filter(|run| run.said && run.from == at.whole())
            .map(|run| run.per_count);
        let pattern = self.patterns.get(index).and_then(|pattern| pattern.division);
        let per_count = run.or(pattern).filter(|per_count| *per_count > 1);
        let one_each = count >= 2
            && told.fingers.len() == count
            && (!told.with || run == Some(count as i64))
            && told.actions.iter().all(|action| *action == Action::Pluck);
        let Some(per_count) = per_count.filter(|_| one_each) else {
            return false;
        };
        for (number, (finger, string)) in told.fingers.iter().zip(&told.strings).enumerate() {
            let mut stroke = Stroke::new(at.plus(Ratio::new(number as i64, per_count)), Action::Pluck, place);
            stroke.fingers = vec![*finger];
            stroke.strings = vec![*string];
            self.add(index, stroke, false, false);
        }
        if let Some(run) = &mut self.run {
            run.told += count as i64 - 1;
        }
        self.last = Some(at);
        self.placed_in_sentence = true;
        true
    }

    /// `7: f7 f5 f3 f5`: notes of one string, evenly.
    pub(super) fn row_of_frets(&mut self, told: &Told, index: usize, at: Position, place: Place) {
        let per = self
            .patterns
            .get(index)
            .and_then(|pattern| pattern.division)
            .unwrap_or(told.frets.len() as i64)
            .max(1);
        for (number, fret) in told.frets.iter().enumerate() {
            let mut stroke = Stroke::new(
                at.plus(num_rational::Ratio::new(number as i64, per)),
                Action::Pluck,
                place,
            );
            stroke.fingers.clone_from(&told.fingers);
            stroke.strings = if told.strings.is_empty() {
                self.string.into_iter().collect()
            } else {
                told.strings.clone()
            };
            stroke.fret = Some(*fret);
            self.add(index, stroke, false, false);
        }
    }

    /// Three or four strokes told for one count, with no word about how it is divided, are spread evenly.
    pub(super) fn spread(&mut self, count: i64, width: i64) {
        let sentence = self.sentence;
        let Some(building) = self.building() else { return };
        let mut moments: Vec<Position> = building
            .strokes
            .iter()
            .filter(|placed| placed.stroke.at.whole() == count && placed.sentence == sentence && !placed.copied)
            .map(|placed| placed.stroke.at)
            .collect();
        moments.sort_unstable();
        moments.dedup();
        // What an earlier sentence put in front of them stays in front.
        let earlier: std::collections::BTreeSet<Position> = building
            .strokes
            .iter()
            .filter(|placed| placed.stroke.at.whole() == count && placed.sentence != sentence)
            .map(|placed| placed.stroke.at)
            .filter(|at| moments.first().is_some_and(|first| at < first))
            .collect();
        let earlier = earlier.len();
        for placed in building
            .strokes
            .iter_mut()
            .filter(|placed| placed.sentence == sentence && !placed.copied)
        {
            if let Some(order) = moments.iter().position(|at| *at == placed.stroke.at) {
                placed.stroke.at =
                    Position::count(count).plus(num_rational::Ratio::new((earlier + order) as i64, width));
            }
        }
    }
}
