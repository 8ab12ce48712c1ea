//! `said …`: what the text says about its own strokes, kept to be held against them.

use crate::music::hand::Finger;
use crate::music::pattern::{ClaimAbout, CountSpan};
use crate::music::position::Position;
use crate::music::stroke::Action;

use super::item::Item;
use super::parser::Parser;
use super::shorthand::Meaning;

impl Parser<'_, '_> {
    /// `said 4-6 on G`, `said 2 to a count from 5 over 4, 7 given`, `said aloud 1-4: 1 down, 2 up`, `said names: 1 C, 2 B`, …
    pub fn said(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        self.literal("said ").then_some(())?;
        let about = self
            .attempt(Parser::recited)
            .or_else(|| self.attempt(Parser::named_again))
            .or_else(|| self.attempt(Parser::outside))
            .or_else(|| self.attempt(Parser::open_and_fretted))
            .or_else(|| self.attempt(Parser::divided_claim))
            .or_else(|| self.attempt(Parser::numbered))
            .or_else(|| self.attempt(Parser::passage_claim))
            .or_else(|| self.attempt(Parser::covers_claim))?;
        self.push(start, Item::Claim(about));
        Some(())
    }

    fn claimed_span(&mut self) -> Option<CountSpan> {
        self.attempt(|line| {
            let first = line.number()?;
            let dash = line.sign('-');
            let last = line.number().filter(|_| dash)?;
            Some(CountSpan { first, last })
        })
    }

    fn covers_claim(&mut self) -> Option<ClaimAbout> {
        let span = self.claimed_span()?;
        let chord = self.attempt(|line| {
            line.literal("on ").then_some(())?;
            line.chord_name()
        });
        Some(ClaimAbout::Covers { span, chord })
    }

    fn divided_claim(&mut self) -> Option<ClaimAbout> {
        let per_count = self.number()?;
        self.literal("to a count from ").then_some(())?;
        let from = self.position(None)?;
        self.literal("over ").then_some(())?;
        let counts = self.number()?;
        let given = self.given()?;
        Some(ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        })
    }

    fn numbered(&mut self) -> Option<ClaimAbout> {
        let said = usize::try_from(self.number()?).ok()?;
        self.literal("at ").then_some(())?;
        let at = self.position(None)?;
        let given = self.given()?;
        Some(ClaimAbout::Numbered { at, said, given })
    }

    fn given(&mut self) -> Option<usize> {
        self.literal(",").then_some(())?;
        let given = self.number()?;
        self.literal("given").then(|| usize::try_from(given).ok())?
    }

    fn outside(&mut self) -> Option<ClaimAbout> {
        self.literal("for ").then_some(())?;
        let at = self.position(None)?;
        self.literal(", outside ").then_some(())?;
        let span = self.claimed_span()?;
        Some(ClaimAbout::Outside { at, span })
    }

    fn open_and_fretted(&mut self) -> Option<ClaimAbout> {
        let strings = self.strings()?;
        let &[string] = strings.as_slice() else { return None };
        self.literal("open and ").then_some(())?;
        let fret = self.fret()?;
        self.literal("at ").then_some(())?;
        let at = self.position(None)?;
        Some(ClaimAbout::OpenAndFretted { at, string, fret })
    }

    fn passage_claim(&mut self) -> Option<ClaimAbout> {
        let span = self.claimed_span()?;
        self.literal("all by").then_some(())?;
        let fingers: Vec<Finger> = self.fingers().map(|(fingers, _)| fingers).unwrap_or_default();
        Some(ClaimAbout::Passage { span, fingers })
    }

    fn recited(&mut self) -> Option<ClaimAbout> {
        self.literal("aloud ").then_some(())?;
        let span = self.claimed_span()?;
        self.literal(":").then_some(())?;
        let mut row = Vec::new();
        while !self.line_is_done() {
            let _ = !row.is_empty() && self.literal(",");
            row.push(self.recited_entry()?);
        }
        Some(ClaimAbout::Recited { span, row })
    }

    fn named_again(&mut self) -> Option<ClaimAbout> {
        self.literal("names:").then_some(())?;
        let mut row = Vec::new();
        while !self.line_is_done() {
            let _ = !row.is_empty() && self.literal(",");
            let at = self.position(None)?;
            row.push((at, self.note_name()?));
        }
        Some(ClaimAbout::NamedAgain { row })
    }

    fn recited_entry(&mut self) -> Option<(Option<Position>, Option<Action>)> {
        if self.gap().is_some() {
            return Some((None, None));
        }
        let at = self.attempt(|line| line.position(None));
        let action = self.meaning_of(Meaning::action);
        (at.is_some() || action.is_some()).then_some((at, action))
    }
}
