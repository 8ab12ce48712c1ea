use super::Discourse;
use crate::music::stroke::Stroke;
use crate::reading::moments::Part;
use crate::reading::statement::Told;

impl Discourse {
    /// "on four thumb up, middle down, thumb down, that's the three": how many there were, where the count is four and has
    /// so many parts.
    pub(super) fn counts_what_was_told(&self, told: &Told) -> bool {
        let spoken = !self.context.typed && !self.context.punctuated && told.sounds();
        let count = told
            .when
            .filter(|when| when.part == Part::Whole)
            .and_then(|when| when.count);
        let last = self
            .run
            .as_ref()
            .filter(|run| run.counts == 1 && run.told + 1 == run.per_count);
        spoken && count.is_some() && count == last.map(|run| run.per_count) && count < self.cursor
    }

    /// "four is the same again, thumb up, ring down, thumb down": the strokes of the count before, which are said once more.
    pub(super) fn tells_the_figure_again(&self, told: &Told) -> bool {
        let again = told
            .same
            .is_some_and(|same| same.counts.is_none() && !same.core && same.variation.is_none());
        let opens = again && told.when.is_some_and(|when| when.part == Part::Whole);
        let goes_on = self.likened && told.when.is_none();
        let plain = told.actions.len() == 1 && !told.fingers.is_empty() && !told.has_note() && !told.golpe;
        if !plain || told.negated || !(opens || goes_on) {
            return false;
        }
        let pattern = self.pattern();
        let here = |count: i64| {
            let strokes = pattern.into_iter().flat_map(|pattern| &pattern.strokes);
            strokes
                .map(|placed| &placed.stroke)
                .filter(move |stroke| stroke.at.whole() == count)
        };
        let alike = |stroke: &Stroke| told.actions == [stroke.action] && told.fingers == stroke.fingers;
        match self.cursor {
            Some(count) if opens => here(count).count() > 1 && here(count).next().is_some_and(alike),
            Some(count) => here(count).any(alike),
            None => false,
        }
    }
}
