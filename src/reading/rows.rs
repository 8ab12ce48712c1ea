//! Lists that stand under one another: `count 1 2 3`, `finger p i m`, `string 6 3 2`. Each opens with what it lists.

use num_rational::Ratio;

use super::clauses::{clauses, letter_finger};
use super::context::Context;
use super::lexicon::Concept;
use super::moments::{moment_at, token};
use super::pitch_words::pitch_at;
use super::solfa::bare_name;
use super::statement::Told;
use super::tokens::Token;
use crate::music::hand::{Fret, GuitarString};
use crate::music::pitch::NoteName;
use crate::music::position::Position;

/// Fewer items are no list.
const LEAST: usize = 3;

/// One list, item for item.
#[derive(Debug, Clone, PartialEq)]
pub enum Row {
    Counts(Vec<Position>),
    /// What is played, with which fingers.
    Hand(Vec<Told>),
    Strings(Vec<GuitarString>),
    /// Strings with their frets.
    Places(Vec<(GuitarString, Fret)>),
    Notes(Vec<NoteName>),
}

impl Row {
    pub fn len(&self) -> usize {
        match self {
            Self::Counts(counts) => counts.len(),
            Self::Hand(strokes) => strokes.len(),
            Self::Strings(strings) => strings.len(),
            Self::Places(places) => places.len(),
            Self::Notes(notes) => notes.len(),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Listed {
    Counts,
    Hand,
    Strings,
    Places,
    Notes,
}

/// What a word in front of a list says that it lists.
fn listed(tokens: &[Token], at: usize) -> Option<Listed> {
    let here = token(tokens, at);
    if here.is(Concept::BeatWord) || matches!(here.word.as_str(), "cnt" | "ct" | "cuenta" | "cuentas") {
        Some(Listed::Counts)
    } else if here.is_any(&[Concept::FingerWord, Concept::RightHand]) || matches!(here.word.as_str(), "hand" | "mano") {
        Some(Listed::Hand)
    } else if here.is(Concept::StringWord) {
        Some(Listed::Strings)
    } else if matches!(
        here.word.as_str(),
        "place" | "places" | "where" | "lugar" | "lugares" | "tab"
    ) {
        Some(Listed::Places)
    } else if matches!(
        here.word.as_str(),
        "note" | "notes" | "names" | "pitch" | "pitches" | "nota" | "notas" | "alturas"
    ) {
        Some(Listed::Notes)
    } else {
        None
    }
}

/// The list that a typed sentence holds: behind its first word, or behind a colon.
pub fn row(tokens: &[Token], text: &str, context: &Context) -> Option<Row> {
    let behind_colon = tokens.iter().position(|token| token.is_mark(':')).map(|at| at + 1);
    [Some(0), behind_colon].into_iter().flatten().find_map(|at| {
        let what = listed(tokens, at)?;
        let mut start = at + 1;
        while token(tokens, start).is_mark(':') || token(tokens, start).is_mark('=') {
            start += 1;
        }
        let items = until_it_breaks(tokens.get(start..)?, what);
        read_items(items, text, what, context).filter(|row| row.len() >= LEAST)
    })
}

/// Behind "o sea" or a stop the list is over.
fn until_it_breaks(tokens: &[Token], what: Listed) -> &[Token] {
    let ends = |at: &usize| {
        let here = token(tokens, *at);
        let explained = here.is(Concept::So) || here.is_mark(';');
        explained || here.is_mark('.') && what != Listed::Counts
    };
    let end = (0..tokens.len()).find(ends).unwrap_or(tokens.len());
    tokens.get(..end).unwrap_or(tokens)
}

fn read_items(tokens: &[Token], text: &str, what: Listed, context: &Context) -> Option<Row> {
    match what {
        Listed::Counts => counts(tokens, context).map(Row::Counts),
        Listed::Hand => hand(tokens, text, context).map(Row::Hand),
        Listed::Strings => strings(tokens).map(Row::Strings),
        Listed::Places => places(tokens).map(Row::Places),
        Listed::Notes => notes(tokens, context).map(Row::Notes),
    }
}

/// A mark between two items.
fn parts(token: &Token) -> bool {
    matches!(token.mark, Some(',' | '|' | '/' | '-' | '.'))
}

fn counts(tokens: &[Token], context: &Context) -> Option<Vec<Position>> {
    let mut out: Vec<Position> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let here = token(tokens, at);
        if parts(here) {
            at += 1;
            continue;
        }
        let count = here.number.filter(|number| (1..=24).contains(number))?;
        let next = token(tokens, at + 1);
        let half = next.joined && (next.is_any(&[Concept::And, Concept::Half]) || next.is_mark('+'));
        let (position, behind) = if half {
            (Position::new(count, 1, 2), at + 2)
        } else if let Some((when, behind)) = moment_at(tokens, at, context).filter(|_| next.joined) {
            let half = matches!(when.part, super::moments::Part::And);
            (Position::count(count).plus(Ratio::new(i64::from(half), 2)), behind)
        } else {
            (Position::count(count), at + 1)
        };
        out.push(position);
        at = behind;
    }
    Some(out)
}

fn strings(tokens: &[Token]) -> Option<Vec<GuitarString>> {
    let items = tokens.iter().filter(|token| !parts(token) && token.word != "s");
    items
        .map(|token| {
            let number = token.number.filter(|number| (1..=6).contains(number))?;
            u8::try_from(number).ok()
        })
        .collect()
}

/// `s3f2, s3f0`, `3/2 3/0`: string and fret by turns.
fn places(tokens: &[Token]) -> Option<Vec<(GuitarString, Fret)>> {
    let sign = |token: &&Token| !parts(token) && !matches!(token.word.as_str(), "s" | "f" | "c" | "t");
    let numbers: Option<Vec<u8>> = tokens
        .iter()
        .filter(sign)
        .map(|token| token.number.and_then(|number| u8::try_from(number).ok()))
        .collect();
    let numbers = numbers.filter(|numbers| numbers.len() % 2 == 0)?;
    let pairs = numbers.chunks_exact(2).map(|pair| match pair {
        [string, fret] if (1..=6).contains(string) && *fret <= 22 => Some((*string, *fret)),
        _ => None,
    });
    pairs.collect()
}

fn notes(tokens: &[Token], context: &Context) -> Option<Vec<NoteName>> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if parts(token(tokens, at)) {
            at += 1;
            continue;
        }
        if let Some(word) = pitch_at(tokens, at, context.language, context.typed) {
            out.push(word.root);
            at += word.length;
        } else {
            out.push(bare_name(token(tokens, at))?);
            at += 1;
        }
    }
    Some(out)
}

/// Items stand two blanks apart, or each is one word.
fn hand(tokens: &[Token], text: &str, context: &Context) -> Option<Vec<Told>> {
    let mut items: Vec<Vec<Token>> = Vec::new();
    let mut end = None;
    for token in tokens {
        let gap = end.is_none_or(|end: usize| text.get(end..token.start).unwrap_or("").len() >= 2);
        match items.last_mut() {
            Some(item) if !gap => item.push(token.clone()),
            _ => items.push(vec![token.clone()]),
        }
        end = Some(token.end);
    }
    if items.len() < LEAST || items.iter().any(|item| item.len() > 5) {
        let single = tokens.iter().filter(|token| !parts(token));
        items = single.map(|token| vec![token.clone()]).collect();
    }
    items.iter().map(|item| stroke(item, context)).collect()
}

fn stroke(item: &[Token], context: &Context) -> Option<Told> {
    if let [only] = item
        && let Some(finger) = letter_finger(&only.word).filter(|_| only.raw.len() == 1 && !is_sign(only, context))
    {
        return Some(Told {
            fingers: vec![finger],
            ..Told::default()
        });
    }
    let mut told = clauses(item, context);
    let mut first = (!told.is_empty()).then(|| told.remove(0))?;
    for further in told {
        first.actions.extend(further.actions);
        first.fingers.extend(further.fingers);
        first.golpe |= further.golpe;
        first.golpe_fingers.extend(further.golpe_fingers);
    }
    (first.sounds() || !first.fingers.is_empty()).then_some(first)
}

fn is_sign(token: &Token, context: &Context) -> bool {
    context
        .aliases
        .iter()
        .any(|(words, ..)| words.as_slice() == [token.raw.clone()])
}
