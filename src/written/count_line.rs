//! A line that begins with a count: `1: i down, & i up`, `1-3 A: dn dn dn`, `10: thirds p s3 f2 A, …`.

use crate::music::pattern::CountSpan;
use crate::music::position::Position;

use super::item::{Covers, Item};
use super::parser::Parser;
use super::run::Run;
use super::shorthand::Meaning;
use super::spread::MOST_SLOTS;

impl Parser<'_, '_> {
    /// The whole line.
    pub fn count_line(&mut self) -> Option<()> {
        let _ = self.attempt(|line| {
            let beat = line.meaning(Meaning::Beat);
            (beat && line.ahead().number().is_some()).then_some(())
        });
        self.attempt(Parser::span_line)
            .or_else(|| self.attempt(Parser::moment_line))
    }

    fn span_line(&mut self) -> Option<()> {
        let start = self.at;
        let _ = self.spaced_sign('(');
        let span = self.span()?;
        let _ = self.spaced_sign(')');
        let mut run = Run::new(Position::count(span.first), Some(span));
        if self.attempt(|line| line.same_counts(&mut run)).is_some() {
            return Some(());
        }
        let _ = self.attempt(|line| {
            line.spaced_sign(',').then_some(())?;
            line.ahead().chord_word().map(|_| ())
        });
        let chord = self.chord_word();
        let (chord, still) = chord.map_or((None, false), |(chord, still)| (Some(chord), still));
        self.push(
            start,
            Item::Covers(Covers {
                span,
                chord: chord.clone(),
                still,
            }),
        );
        let ended = self.lead_end();
        let _ = !ended && chord.is_some() && self.spaced_sign(',');
        if chord.is_some() && self.line_is_done() {
            return Some(());
        }
        self.attempt(|line| line.same_counts(&mut run))
            .or_else(|| self.attempt(|line| line.divided(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.one_a_count(&mut run.clone(), ended)))
            .or_else(|| self.attempt(|line| line.moments(&mut run, false)))
    }

    fn moment_line(&mut self) -> Option<()> {
        let at = self.position(self.context.count)?;
        let mut run = Run::new(at, None);
        while let Some((start, chord, implied)) = self.bracketed_chord() {
            self.change(start, at, chord, implied);
            if self.line_is_done() {
                return Some(());
            }
        }
        // "6 E: i dn"
        let _ = self.attempt(|line| {
            let start = line.at;
            let (chord, still) = line.chord_word().filter(|(_, still)| !still)?;
            let _ = still;
            line.change(start, at, chord, None);
            line.ahead().lead_end().then_some(())
        });
        if self.attempt(|line| line.same_counts(&mut run)).is_some() {
            return Some(());
        }
        let _ = self.lead_end();
        self.attempt(|line| line.same_counts(&mut run))
            .or_else(|| self.attempt(|line| line.divided(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.slots(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.announced_run(&mut run.clone())))
            .or_else(|| self.attempt(|line| line.moments(&mut run, true)))
    }

    pub fn line_is_done(&mut self) -> bool {
        let here = self.at;
        let _ = self.spaced_sign('.');
        let done = self.at_end();
        self.at = here;
        done
    }

    /// Moments with their counts, up to the end of the line.
    pub fn moments(&mut self, run: &mut Run, mut placed: bool) -> Option<()> {
        loop {
            // "3: & i up" goes on from its own count; a new number does not.
            let goes_on = placed && self.ahead().number().is_none();
            let moved = (!placed || goes_on) && self.next_moment(run)?;
            let mut inside = run.clone();
            if self.attempt(|line| line.division_inside(&mut inside)).is_some() {
                *run = inside;
            } else {
                self.content(run, placed || moved)?;
            }
            placed = false;
            let comma = self.spaced_sign(',') || self.spaced_sign(';');
            // "1: i dn. 1 y: i arr."
            let _ = self.attempt(|line| {
                line.spaced_sign('.').then_some(())?;
                line.ahead().position(Some(run.at.whole())).map(|_| ())
            });
            if self.line_is_done() {
                return (!comma).then_some(());
            }
        }
    }

    /// `10 triplet p up, m dn, p dn` inside a longer line: only at its end, so that its commas are its own.
    fn division_inside(&mut self, run: &mut Run) -> Option<()> {
        self.divided(run)?;
        self.line_is_done().then_some(())
    }

    /// Goes to the next count named; false when none is named. None when counts run backwards.
    fn next_moment(&mut self, run: &mut Run) -> Option<bool> {
        let Some(at) = self.attempt(|line| {
            let at = line.position(Some(run.at.whole()))?;
            let _ = line.lead_end();
            Some(at)
        }) else {
            return Some(false);
        };
        let wraps = self.context.first.is_some() || run.span.is_some_and(|span| span.first > span.last);
        if at < run.at && !wraps {
            return None;
        }
        run.struck = run.struck && at == run.at;
        run.at = at;
        Some(true)
    }

    /// How many counts a span covers; None when it wraps and the round is not known.
    pub fn counts_in(&self, span: CountSpan) -> Option<i64> {
        let straight = span.last - span.first + 1;
        let counts = if straight > 0 {
            straight
        } else {
            straight + self.context.beats?
        };
        (1..=MOST_SLOTS).contains(&counts).then_some(counts)
    }
}
