//! The opening line of a pattern, and how often to play it: `variation "thumb" for 1-6, runs on to 13`; `x8`.

use crate::music::pattern::CountSpan;

use super::begins::{Begins, Sign};
use super::item::{Begin, Item};
use super::parser::Parser;
use super::shorthand::Meaning;

/// The most rounds that a line may ask for.
const MOST_ROUNDS: i64 = 1000;

/// What an opening line says.
pub const OPENING: Begins = Begins::NOTHING
    .meaning(&[
        Meaning::Core,
        Meaning::Variation,
        Meaning::Falseta,
        Meaning::Llamada,
        Meaning::Remate,
        Meaning::Cierre,
    ])
    .sign(&[Sign::Heading]);

/// What says how many rounds, behind their number.
pub const ROUNDS: Begins = Begins::NOTHING.meaning(&[Meaning::Times]);

/// What rounds begin with, where not with digits: `x8`, `loop x8`, "eight times".
pub const LOOPS: Begins = Begins::NOTHING
    .meaning(&[Meaning::Loop])
    .sign(&[Sign::Cross, Sign::Letter]);

impl Parser<'_, '_> {
    /// `core 1-12, 8 vueltas`; `V1, replaces 1-6`; `falseta "la del pozo" for 1-12, runs on to 13`.
    pub fn opening(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        let (role, tag) = self.role()?;
        let name = self.quoted().or(tag);
        let _ = self.lead_end() || self.spaced_sign(',') || self.dash();
        let bracket = self.spaced_sign('(');
        // "change" is an ordinary word: only with a number or a name does it open a pattern.
        let ordinary = self
            .text
            .get(start..)
            .is_some_and(|text| text.to_lowercase().starts_with("change"));
        if ordinary && name.is_none() {
            return None;
        }
        let said = self.meaning(Meaning::Replaces) || self.meaning(Meaning::For);
        let span = self.opening_span(said);
        if bracket {
            span?;
            self.spaced_sign(')').then_some(())?;
        }
        if said && span.is_none() {
            return None;
        }
        let _ = self.meaning(Meaning::Alone);
        let runs_on = self.attempt(|line| {
            let _ = line.spaced_sign(',');
            line.meaning(Meaning::RunsOn).then_some(())?;
            line.position(None)
        });
        let begin = Begin {
            role,
            name,
            span,
            runs_on,
        };
        self.push(start, Item::Begin(begin));
        let _ = self.attempt(|line| {
            let _ = line.spaced_sign(',');
            line.rounds()
        });
        if self.line_is_done() {
            return Some(());
        }
        let _ = self.lead_end() || self.spaced_sign(',');
        let start = self.at;
        let (of, right_hand_only) = self.same_of()?;
        self.push_whole_same(start, of, right_hand_only);
        let _ = self.spaced_sign(',');
        if self.line_is_done() {
            return Some(());
        }
        self.meaning(Meaning::But).then_some(())?;
        let first = span.map_or(1, |span| span.first);
        let mut run = super::run::Run::new(crate::music::position::Position::count(first), span);
        self.moments(&mut run, false)
    }

    /// `core`, `variation 2`, `V1`, `VAR A`; a tag is the pattern's name.
    fn role(&mut self) -> Option<(crate::music::pattern::Role, Option<String>)> {
        let start = self.at;
        let short = self.attempt(|line| {
            let letter = line.sign('V') || line.sign('v');
            line.digits().filter(|_| letter)?;
            (!line.next_is_alphanumeric()).then_some(())
        });
        if short.is_some() {
            let tag = self.text.get(start..self.at)?.to_owned();
            return Some((crate::music::pattern::Role::Variation, Some(tag)));
        }
        let role = self.meaning_of(Meaning::role)?;
        (!self.next_is_alphanumeric()).then_some(())?;
        let tagged = self.attempt(|line| {
            let spaced = line.rest().starts_with(' ');
            line.spaces();
            let rest = line.rest();
            let length = rest.find(|c: char| !c.is_ascii_alphanumeric()).unwrap_or(rest.len());
            let tag = rest.get(..length)?;
            let one = tag.len() == 1 && tag.starts_with(|c: char| c.is_ascii_uppercase() || c.is_ascii_digit());
            line.at += length;
            // "core 1-12" gives counts, "var 1" a number.
            let counts = line.rest().starts_with('-')
                && line
                    .rest()
                    .get(1..)
                    .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
            (spaced && one && !counts).then_some(())
        });
        let tag = match tagged {
            Some(()) => Some(self.text.get(start..self.at)?.trim().to_owned()),
            None => None,
        };
        Some((role, tag))
    }

    fn opening_span(&mut self, said: bool) -> Option<CountSpan> {
        if said { self.span_or_count() } else { self.span() }
    }

    pub fn dash(&mut self) -> bool {
        self.literal("--") || self.spaced_sign('–') || self.spaced_sign('—') || self.literal("- ")
    }

    /// `x8`, `loop x8`, `8 vueltas`, `12 times`, `bucle x8`.
    pub fn rounds(&mut self) -> Option<()> {
        self.attempt(|line| {
            line.spaces();
            let start = line.at;
            let _ = line.meaning(Meaning::Loop);
            let count = line
                .attempt(|line| {
                    line.spaces();
                    (line.sign('x') || line.sign('×')).then_some(())?;
                    line.digits()
                })
                .or_else(|| {
                    line.attempt(|line| {
                        let count = line.spoken_number()?;
                        line.meaning(Meaning::Times).then_some(count)
                    })
                })?;
            let fits = (1..=MOST_ROUNDS).contains(&count) && !line.next_is_alphanumeric();
            let count = u32::try_from(count).ok().filter(|_| fits)?;
            let implied = line.mark();
            line.push(start, Item::Repeats(count, implied));
            Some(())
        })
    }
}
