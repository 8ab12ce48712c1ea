//! Typed lines that part their counts: `1: p dn / - / up`, `1-2 D: dn dn dn, dn dn dn`. Each slot has its place in the count.

use num_rational::Ratio;

use super::clauses::clauses;
use super::context::Context;
use super::lexicon::Concept;
use super::moments::{Part, When, token};
use super::spans::span_at;
use super::statement::Told;
use super::tokens::Token;

/// The clauses of such a line, each with its moment.
pub fn slots(tokens: &[Token], context: &Context) -> Option<Vec<Told>> {
    let colon = tokens.iter().take(6).position(|token| token.is_mark(':'))?;
    let body = tokens.get(colon + 1..)?;
    let (first, last) = match span_at(tokens, 0) {
        Some((first, last, end)) if end <= colon => (first, last),
        _ if colon == 1 => token(tokens, 0).number.map(|count| (count, count))?,
        _ => return None,
    };
    if !context.typed || !(1..=24).contains(&first) {
        return None;
    }
    if first == last {
        return of_one_count(first, body, context);
    }
    of_several(first, last, body, context)
}

/// `1: p dn (g) / - / up`: slots between slashes, a dash where nothing new is played.
fn of_one_count(count: i64, body: &[Token], context: &Context) -> Option<Vec<Told>> {
    let cells: Vec<&[Token]> = body.split(|token| token.is_mark('/') && !token.joined).collect();
    let blank = |cell: &&&[Token]| matches!(cell, [only] if only.is_mark('-'));
    if cells.len() < 2 || !cells.iter().any(|cell| blank(&cell)) {
        return None;
    }
    let parts = i64::try_from(cells.len()).ok()?;
    let mut out = Vec::new();
    for (nth, cell) in (0..).zip(&cells).filter(|(_, cell)| !blank(cell)) {
        out.extend(in_slot(cell, count, Ratio::new(nth, parts), context)?);
    }
    Some(out)
}

/// `1-2 D: dn dn dn, dn dn dn`: as many groups as counts, each stroke a slot of its group's count.
fn of_several(first: i64, last: i64, body: &[Token], context: &Context) -> Option<Vec<Told>> {
    let end = body.iter().position(|token| token.is_mark('.')).unwrap_or(body.len());
    let groups: Vec<&[Token]> = body
        .get(..end)?
        .split(|token| matches!(token.mark, Some(',' | '|')))
        .collect();
    let strokes = |group: &&[Token]| {
        group.len() >= 2
            && group
                .iter()
                .all(|token| token.is_any(&[Concept::Down, Concept::Up, Concept::Golpe]))
    };
    let fits = i64::try_from(groups.len()).ok()? == last - first + 1 && groups.iter().all(strokes);
    if !fits {
        return None;
    }
    let mut out = Vec::new();
    for (count, group) in (first..).zip(groups) {
        let parts = i64::try_from(group.len()).ok()?;
        for (nth, stroke) in (0..).zip(group) {
            out.extend(in_slot(
                std::slice::from_ref(stroke),
                count,
                Ratio::new(nth, parts),
                context,
            )?);
        }
    }
    Some(out)
}

fn in_slot(cell: &[Token], count: i64, at: Ratio<i64>, context: &Context) -> Option<Vec<Told>> {
    let mut told = clauses(cell, context);
    let part = if at == Ratio::from_integer(0) {
        Part::Whole
    } else {
        Part::Exactly(at)
    };
    for told in &mut told {
        told.when = Some(When {
            count: Some(count),
            part,
        });
        told.short = true;
    }
    told.iter()
        .all(|told| told.sounds() || told.has_note() || !told.fingers.is_empty())
        .then_some(told)
}
