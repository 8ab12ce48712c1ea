//! Words of the teacher that are kept as they are: cautions, advice, questions, mentions of other lessons.

use crate::music::lesson::{Caution, Conflict, CrossReference, LetStand, Misheard, Technique, Unread};
use crate::text::Place;

use super::head_line::slug;
use super::item::Item;
use super::parser::Parser;

impl Parser<'_, '_> {
    /// `! off the string before 1`; with the counts it names: `! (4, 5+1/2) …`.
    pub fn caution(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        self.sign('!').then_some(())?;
        let _ = self.sign('!');
        let counts = self.attempt(|line| {
            line.spaced_sign('(').then_some(())?;
            let mut counts = vec![line.position(None)?];
            while line.spaced_sign(',') {
                counts.push(line.position(None)?);
            }
            line.spaced_sign(')').then_some(counts)
        });
        let about = self.free_text()?;
        let caution = Caution {
            about,
            place: Place::default(),
            counts: counts.unwrap_or_default(),
        };
        self.push(start, Item::Caution(caution));
        Some(())
    }

    /// `? which string is the F on?`
    pub fn question(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        self.sign('?').then_some(())?;
        let text = self.free_text()?;
        self.push(start, Item::Question(text, None));
        Some(())
    }

    /// Lines that begin with a name and a colon, and are kept as text.
    pub fn named_remark(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        let rest = self.rest();
        let colon = rest.find(':')?;
        let name = rest.get(..colon)?.trim();
        let (name, argument) = name.split_once(' ').unwrap_or((name, ""));
        let argument = argument.trim();
        let simple = !argument.is_empty() && slug(argument).as_deref() == Some(argument);
        self.at += colon + 1;
        match name {
            "advice" | "consejo" if argument.is_empty() => {
                let text = self.free_text()?;
                self.push(start, Item::Advice(text, None));
                Some(())
            }
            "see" | "later" if simple && self.peek() != Some('/') => {
                let words = self.free_text().unwrap_or_default();
                let link = CrossReference {
                    target: argument.to_owned(),
                    words,
                    announced: name == "later",
                    place: Place::default(),
                };
                self.push(start, Item::Link(link));
                Some(())
            }
            "uses" | "explains" if argument.is_empty() => {
                let id = self.free_text()?;
                let technique = Technique {
                    id,
                    explained: name == "explains",
                    place: Place::default(),
                };
                self.push(start, Item::Technique(technique));
                Some(())
            }
            _ => None,
        }
    }

    /// `// for the people who read the note`.
    pub fn comment(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        self.literal("//").then_some(())?;
        let text = self.rest().trim().to_owned();
        self.at = self.text.len();
        self.push(start, Item::Comment(text));
        Some(())
    }

    /// `(let stand tempo-implausible: we start slowly)`.
    pub fn let_stand(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        self.literal("(let stand ").then_some(())?;
        let inner = self.rest().trim_end().strip_suffix(')')?;
        let (rule, reason) = inner.split_once(':').unwrap_or((inner, ""));
        let rule = rule.trim();
        (slug(rule).as_deref() == Some(rule)).then_some(())?;
        let reason = reason.trim();
        let reason = match reason.starts_with('"') {
            true => {
                let mut quoted = Parser::new(reason, self.context);
                quoted.quoted().filter(|_| quoted.at_end())?
            }
            false => reason.to_owned(),
        };
        self.at = self.text.len();
        let let_stand = LetStand {
            rule: rule.to_owned(),
            reason,
            place: Place::default(),
        };
        self.push(start, Item::LetStand(let_stand));
        Some(())
    }

    /// `heard "compass", read "compás"`; `not read "…": the reason`; `not read! "…": …`; `either "…" or "…": …`.
    pub fn record(&mut self) -> Option<()> {
        self.spaces();
        let start = self.at;
        let item = self
            .attempt(Parser::misheard)
            .or_else(|| self.attempt(Parser::unread))
            .or_else(|| self.attempt(Parser::conflict))?;
        self.push(start, item);
        Some(())
    }

    fn misheard(&mut self) -> Option<Item> {
        self.literal("heard ").then_some(())?;
        let heard = self.quoted()?;
        self.literal(", read ").then_some(())?;
        let read_as = self.quoted()?;
        Some(Item::Misheard(Misheard {
            heard,
            read_as,
            place: Place::default(),
        }))
    }

    fn unread(&mut self) -> Option<Item> {
        self.literal("not read").then_some(())?;
        let musical = self.sign('!');
        let text = self.quoted()?;
        self.literal(":").then_some(())?;
        let reason = self.free_text().unwrap_or_default();
        Some(Item::Unread(Unread {
            text,
            reason,
            musical,
            place: Place::default(),
        }))
    }

    fn conflict(&mut self) -> Option<Item> {
        self.literal("either ").then_some(())?;
        let first = self.quoted()?;
        self.literal("or ").then_some(())?;
        let second = self.quoted()?;
        self.literal(":").then_some(())?;
        let about = self.free_text().unwrap_or_default();
        Some(Item::Conflict(Conflict {
            about,
            first,
            second,
            first_place: Place::default(),
            place: Place::default(),
        }))
    }
}
