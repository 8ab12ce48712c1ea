use super::super::context::{Context, OwnSign};
use super::super::lexicon::Concept;
use super::super::moments::{Part, When, before, moment_at, token};
use super::super::statement::Told;
use super::super::tokens::Token;
use super::Reader;
use super::fingers::right_fingers;
use super::is_count::is_count;
use super::names::is_sign;
use crate::music::stroke::Action;

/// "Second string, middle finger, that's five": a moment that points back at what was told in front of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pointed {
    /// Where what it points at begins.
    pub(super) from: usize,
    pub(super) when: When,
    /// The words that point, and the index behind them.
    pub(super) at: usize,
    pub(super) end: usize,
}

/// Every moment of a sentence that points back at its strokes.
pub(super) fn pointed(tokens: &[Token], context: &Context) -> Vec<Pointed> {
    let mut found: Vec<Pointed> = Vec::new();
    let mut done = 0;
    for at in 0..tokens.len() {
        if let Some(both) = there_and_back_on(tokens, done, at, context) {
            done = both.end;
            found.push(both);
            continue;
        }
        let Some((when, end)) = points(tokens, at, context).filter(|_| at > done) else {
            continue;
        };
        if let Some(from) = begins(tokens, done, at, context) {
            found.push(Pointed { from, when, at, end });
            done = end;
        }
    }
    found
}

/// The moment behind "that's", "is your", "eso es": with nothing more behind it.
fn points(tokens: &[Token], at: usize, context: &Context) -> Option<(When, usize)> {
    let next = behind_the_pointing(tokens, at)?;
    let second = token(tokens, next).ordinal == Some(2) && token(tokens, next + 1).is(Concept::Half);
    let next = next + usize::from(second);
    let whole = token(tokens, next)
        .number
        .filter(|count| (1..=context.last_count()).contains(count));
    let (when, end) = match whole {
        Some(count) => (When::count(count), next + 1),
        None => moment_at(tokens, next, context).filter(|(when, _)| when.count.is_some())?,
    };
    let end = with_its_half(tokens, end, when.part);
    let closes = token(tokens, end).mark.is_some() || end >= tokens.len() || token(tokens, end).is(Concept::And);
    closes.then_some((when, end))
}

/// The index behind "that's", "that is your", "eso es el", "is your"; "is" alone points at nothing.
fn behind_the_pointing(tokens: &[Token], at: usize) -> Option<usize> {
    let word = |at: usize| token(tokens, at).word.as_str();
    let verb = match word(at) {
        "that's" | "that is" | "thats" | "is" | "es" => at,
        "that" if matches!(word(at + 1), "is" | "'s" | "s") => at + 1,
        "eso" | "ese" | "esto" if word(at + 1) == "es" => at + 1,
        _ => return None,
    };
    let owned = matches!(word(verb + 1), "your" | "our" | "the" | "el" | "tu" | "vuestro" | "la");
    let alone = matches!(word(at), "is" | "es");
    (owned || !alone).then_some(verb + 1 + usize::from(owned))
}

/// "el índice baja y sube en el dos", "index down, index up on two": two strokes or more, and behind them the count on which
/// they begin.
fn there_and_back_on(tokens: &[Token], done: usize, at: usize, context: &Context) -> Option<Pointed> {
    let count = token(tokens, at).number?;
    let lead = at - usize::from(before(tokens, at).is(Concept::Article));
    let counted = || is_count(tokens, at, context, false) && moment_at(tokens, at, context).is_none();
    if lead <= done + 1 || !before(tokens, lead).is(Concept::On) || !counted() {
        return None;
    }
    let parts = |index: &usize| {
        token(tokens, *index)
            .mark
            .is_some_and(|mark| matches!(mark, ',' | ';' | '.' | ':'))
    };
    let from = (done..lead - 1).rev().find(parts).map_or(done, |index| index + 1);
    let from = from + usize::from(token(tokens, from).is_any(&[Concept::And, Concept::Then]));
    let strokes = (from..lead).filter(|index| strums(tokens, *index, context)).count();
    let own = |index: usize| {
        is_count(tokens, index, context, false)
            || moment_at(tokens, index, context).is_some()
            || token(tokens, index).is_any(&[
                Concept::Golpe,
                Concept::Same,
                Concept::Negation,
                Concept::Condition,
                Concept::Is,
            ])
    };
    if strokes < 2 || (from..lead - 1).any(own) {
        return None;
    }
    let of_it = |when: When| when.count.is_none_or(|half| half == count);
    let half = moment_at(tokens, at + 2, context)
        .filter(|(when, _)| token(tokens, at + 1).is(Concept::And) && of_it(*when))
        .map(|(_, end)| end);
    let end = half.unwrap_or_else(|| with_its_half(tokens, at + 1, Part::Whole));
    let closes = token(tokens, end).mark.is_some() || end >= tokens.len();
    closes.then(|| Pointed {
        from,
        when: When::count(count),
        at: lead - 1,
        end,
    })
}

/// A stroke down or up, by a word of the trade or a sign of the writer's own.
fn strums(tokens: &[Token], index: usize, context: &Context) -> bool {
    let here = token(tokens, index);
    let sign = |sign: &OwnSign| {
        let strum = matches!(sign.action, Some(Action::Down | Action::Up));
        strum && matches!(sign.words.as_slice(), [word] if is_sign(here, word))
    };
    here.is_any(&[Concept::Down, Concept::Up]) || context.aliases.iter().any(sign)
}

/// "that's two and its and": the index behind the half that comes with the count.
fn with_its_half(tokens: &[Token], end: usize, part: Part) -> usize {
    let its = matches!(token(tokens, end + 1).word.as_str(), "its" | "the" | "su" | "la");
    let half = matches!(
        token(tokens, end + 2).word.as_str(),
        "and" | "half" | "upbeat" | "y" | "mitad" | "contra"
    );
    let both = part == Part::Whole && token(tokens, end).is(Concept::And) && its && half;
    if both { end + 3 } else { end }
}

/// Where the strokes begin that a moment points back at: none of them has a moment of its own.
fn begins(tokens: &[Token], done: usize, at: usize, context: &Context) -> Option<usize> {
    let strokes = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::Pluck,
    ];
    let mut plays = false;
    for index in done..at {
        if is_count(tokens, index, context, false) && !before(tokens, index).is(Concept::FingerWord)
            || moment_at(tokens, index, context).is_some_and(|(when, _)| when.count.is_some())
            || token(tokens, index).is_any(&[Concept::Condition, Concept::Negation, Concept::Caution])
        {
            return None;
        }
        plays |= token(tokens, index).is_any(&strokes)
            || right_fingers(tokens, index, context).is_some()
            || token(tokens, index).is(Concept::StringWord) && token(tokens, at).word != "that's";
    }
    let leads = |index: &usize| {
        token(tokens, *index).mark.is_some() || token(tokens, *index).is_any(&[Concept::And, Concept::Then])
    };
    let from = (done..at).find(|index| !leads(index))?;
    plays.then_some(from)
}

impl Reader<'_> {
    /// "and that up tips you into the next round": the stroke that was told just before.
    pub(super) fn points_at_it(&self, index: usize) -> bool {
        let pointed = matches!(
            before(self.tokens, index).word.as_str(),
            "that" | "this" | "ese" | "esa" | "este"
        );
        let told = self.told.sounds() || self.out.iter().any(Told::sounds);
        pointed
            && told
            && self.here(index + 1).mark.is_none()
            && self
                .told
                .when
                .is_none_or(|when| when.count.is_none() || self.told.sounds())
    }

    /// Begins a clause where a moment behind it will point at; passes over the words that point.
    pub(super) fn points_back(&mut self, index: usize) -> Option<usize> {
        if let Some(pointed) = self.pointed.iter().find(|pointed| pointed.at == index) {
            let end = pointed.end;
            self.close();
            return Some(end);
        }
        let when = self.pointed.iter().find(|pointed| pointed.from == index)?.when;
        self.close();
        self.told.when = Some(when);
        self.told.when_at = self.here(index).start;
        self.told.start = self.told.when_at;
        None
    }
}
