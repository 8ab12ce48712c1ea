use num_rational::Ratio;

use super::Discourse;
use crate::music::pattern::Role;
use crate::music::position::Position;
use crate::reading::moments::{Part, When};

impl Discourse {
    /// How many parts a count has, where that is known.
    pub fn parts_of(&self, count: i64) -> Option<i64> {
        if let Some(run) = self
            .run
            .as_ref()
            .filter(|run| run.said && (run.from..run.from + run.counts).contains(&count))
        {
            return Some(run.per_count);
        }
        let lengths = self
            .lesson
            .meter
            .lengths
            .as_ref()
            .map(|lengths| lengths.value.clone())
            .or_else(|| self.palo_lengths());
        if let Some(lengths) = lengths {
            let beats = i64::try_from(lengths.len()).unwrap_or(1).max(1);
            let index = usize::try_from((count - 1).rem_euclid(beats)).unwrap_or(0);
            return lengths.get(index).copied();
        }
        self.pattern().and_then(|pattern| pattern.division).or(self.parts)
    }

    /// The siguiriya's counts are uneven whether the lesson says so or not.
    fn palo_lengths(&self) -> Option<Vec<i64>> {
        let palo = self.context.own_palos.find(&self.lesson.palo.as_ref()?.value)?;
        let beats = self.beats()?;
        let compas = palo.counted_in(beats).find(|compas| !compas.is_even())?;
        Some(compas.lengths.clone())
    }

    /// The counts that the palo is usually counted in.
    pub(super) fn palo_counts(&self) -> Option<i64> {
        let palo = self.context.own_palos.find(&self.lesson.palo.as_ref()?.value)?;
        palo.usual().map(|compas| compas.counts)
    }

    /// The exact moment of what was said; none when the count is not known.
    pub fn resolve(&self, when: When) -> Option<Position> {
        let count = when.count.or(self.cursor)?;
        let count = self.beyond(count);
        let parts = self.parts_of(count);
        let fraction = match when.part {
            Part::Whole => Ratio::from_integer(0),
            Part::And if parts == Some(3) => Ratio::new(1, 3),
            Part::And => Ratio::new(1, 2),
            Part::A if parts == Some(3) || parts.is_none() => Ratio::new(2, 3),
            Part::A => Ratio::new(3, 4),
            Part::Nth(nth) => {
                let parts = parts.unwrap_or(3).max(nth);
                Ratio::new(nth - 1, parts)
            }
            Part::Last => {
                let parts = parts.or(self.parts_heard()).unwrap_or(2).max(2);
                Ratio::new(parts - 1, parts)
            }
            Part::Exactly(fraction) => fraction,
        };
        Some(Position::count(count).plus(fraction))
    }

    /// Three, when all that was told within the counts so far lies on thirds: "the last part of the 4".
    fn parts_heard(&self) -> Option<i64> {
        let patterns = self.patterns.iter().flat_map(|pattern| &pattern.strokes);
        let within = patterns
            .map(|placed| *placed.stroke.at.fraction().denom())
            .filter(|parts| *parts > 1);
        let heard: Vec<i64> = within.collect();
        (!heard.is_empty() && heard.iter().all(|parts| *parts == 3)).then_some(3)
    }

    /// The counts of one round: as said, or as the palo is usually counted; of a core that goes over several compases, all of them.
    pub(super) fn round_counts(&self) -> Option<i64> {
        let beats = self.beats().or_else(|| self.palo_counts()).filter(|beats| *beats > 0)?;
        let told = self
            .core()
            .and_then(|core| core.strokes.iter().map(|placed| placed.stroke.at.whole()).max())
            .unwrap_or(beats);
        Some(((told + beats - 1) / beats).max(1) * beats)
    }

    /// Count 1 told behind the end of a variation that runs on is the next compás's 1.
    pub(super) fn beyond(&self, count: i64) -> i64 {
        let Some(pattern) = self.pattern() else {
            return count;
        };
        let (Some(span), Some(beats)) = (pattern.span, self.round_counts()) else {
            return count;
        };
        let end = span.last.max(span.first);
        let cycle = if end > beats {
            ((end + beats - 1) / beats) * beats
        } else {
            beats
        };
        let past = pattern.role != Role::Core
            && pattern.runs_on
            && count < span.first
            && end == cycle
            && !pattern.strokes.is_empty();
        if past { count + cycle } else { count }
    }

    /// Whether strokes of a count have been told in the pattern being told.
    pub fn has_told(&self, count: i64) -> bool {
        let pattern = self.pattern();
        pattern.is_some_and(|pattern| pattern.strokes.iter().any(|placed| placed.stroke.at.whole() == count))
    }

    /// Whether a moment lies in what the pattern being told covers.
    pub fn inside(&self, at: Position) -> bool {
        let Some(pattern) = self.pattern() else {
            return true;
        };
        let Some(span) = pattern.span.filter(|_| pattern.role != Role::Core) else {
            return true;
        };
        if span.first > span.last {
            return at.whole() >= span.first || at.whole() <= span.last;
        }
        (span.first..=span.last).contains(&at.whole())
    }
}
