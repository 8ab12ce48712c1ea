use super::super::context::Context;
use super::super::lexicon::Concept;
use super::super::moments::{Part, When, before, moment_at, token};
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Says};
use super::super::statement::Told;
use super::super::tokens::Token;

/// Moments listed behind all that is played on them: "... and that goes on four, the and of four and five".
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Places {
    /// Where the words begin that lead to them.
    pub at: usize,
    pub moments: Vec<(When, usize)>,
    pub end: usize,
}

/// "Down, golpe, up, and all of that sits on two, its upbeat, and three": as many moments as strokes, told behind them.
pub(super) fn aligned(tokens: &[Token], says: Says, context: &Context) -> Option<Vec<Told>> {
    if context.typed || !may_fall(says) {
        return None;
    }
    let places = places(tokens, context)?;
    let (front, behind) = (tokens.get(..places.at)?, tokens.get(places.end..)?);
    let mut told = super::clauses(front, context);
    align(&mut told, &places)?;
    told.retain(|told| told.when.is_some());
    let rest = super::clauses(behind, context);
    told.extend(rest.into_iter().filter(|rest| !rest.sounds() && !rest.has_note()));
    Some(told)
}

/// Gives the strokes told last their moments in turn; None where there are too few of them, or some have their own.
pub fn align(told: &mut [Told], places: &Places) -> Option<()> {
    let plays = |told: &Told| (told.sounds() || told.has_note()) && !told.negated && told.same.is_none();
    if told
        .iter()
        .any(|told| plays(told) && (told.when.is_some() || told.span.is_some()))
    {
        return None;
    }
    let wanted = places.moments.len();
    let mut strokes: Vec<&mut Told> = told.iter_mut().filter(|told| plays(told)).collect();
    let from = strokes.len().checked_sub(wanted)?;
    // "down up down, that's the index, all three": one finger named is that of all.
    let fingers: Vec<_> = strokes
        .iter()
        .map(|told| told.fingers.clone())
        .filter(|one| !one.is_empty())
        .collect();
    let whose = fingers
        .first()
        .filter(|first| first.len() == 1 && fingers.iter().all(|other| other == *first))
        .cloned();
    for (told, (when, at)) in strokes.iter_mut().skip(from).zip(&places.moments) {
        told.when = Some(*when);
        told.when_at = *at;
        told.recap = false;
        let strum = !told.actions.is_empty() && !told.has_note();
        if let Some(finger) = whose.as_ref().filter(|_| told.fingers.is_empty() && strum) {
            told.fingers.clone_from(finger);
        }
    }
    Some(())
}

/// Words that show what was told before: "that's four".
const SHOWN: [&str; 4] = ["that's", "those are", "that one's", "son"];

/// The first word of each of the words for where something falls; of "that one's" the rarer one.
pub fn words_of_falling() -> impl Iterator<Item = &'static str> {
    let shown = SHOWN.into_iter().filter(|shown| *shown != "that one's");
    sayings().words.falls.iter().chain(shown).chain(["one's"])
}

/// Whether words with all this in them may say where something falls.
pub fn may_fall(says: Says) -> bool {
    says.has(Kind::Falls)
}

/// The last list of moments that a sentence names behind words for where something falls.
pub fn places(tokens: &[Token], context: &Context) -> Option<Places> {
    let verbs = (1..tokens.len()).rev().filter(|at| token(tokens, *at).has(Kind::Falls));
    verbs.into_iter().find_map(|verb| {
        let (at, from) = leads(tokens, verb)?;
        let (moments, end) = moments_in(tokens, from, context)?;
        let alone = moments.len() == 1;
        let pointed = points(tokens, verb);
        // "all of that goes on two": everything begins there.
        let all = (verb.saturating_sub(3)..verb).any(|at| among(&sayings().words.all_told, &token(tokens, at).word));
        let single = alone && pointed && !all && verb > 1;
        (single || moments.len() >= 2 && (pointed || verb > 1)).then_some(Places { at, moments, end })
    })
}

/// "it goes on", "that one's on", "eso va en": something told before.
fn points(tokens: &[Token], verb: usize) -> bool {
    let lead = before(tokens, verb);
    matches!(
        lead.word.as_str(),
        "it" | "that"
            | "this"
            | "those"
            | "these"
            | "they"
            | "eso"
            | "esto"
            | "estos"
            | "one"
            | "that one"
            | "all of that"
            | "todo"
    )
}

/// Where the words for it begin, and where the list may.
fn leads(tokens: &[Token], verb: usize) -> Option<(usize, usize)> {
    let here = token(tokens, verb);
    let on = |at: usize| token(tokens, at).is(Concept::On) && !token(tokens, at).word.contains(' ');
    let falls = among(&sayings().words.falls, &here.word);
    let shown = SHOWN.contains(&here.word.as_str());
    let from = match () {
        () if falls && on(verb + 1) => verb + 2,
        () if falls && here.is(Concept::On) => verb + 1,
        () if shown => verb + 1 + usize::from(on(verb + 1)),
        () => return None,
    };
    let at = verb - usize::from(points(tokens, verb) && verb > 0);
    Some((at, from))
}

fn moments_in(tokens: &[Token], from: usize, context: &Context) -> Option<(Vec<(When, usize)>, usize)> {
    let mut moments: Vec<(When, usize)> = Vec::new();
    let (mut at, mut end) = (from, from);
    loop {
        at = behind_links(tokens, at);
        let place = token(tokens, at).start;
        let last = moments.last().and_then(|(when, _)| when.count);
        let Some((when, behind)) = one_moment(tokens, at, last, context) else {
            break;
        };
        let count = when.count.or(last)?;
        moments.push((
            When {
                count: Some(count),
                part: when.part,
            },
            place,
        ));
        (at, end) = (behind, behind);
    }
    let rises = moments.windows(2).all(|pair| match pair {
        [(one, _), (next, _)] => one.count < next.count || one.count == next.count && one.part != next.part,
        _ => true,
    });
    (!moments.is_empty() && rises).then_some((moments, end))
}

fn behind_links(tokens: &[Token], mut at: usize) -> usize {
    let links = [Concept::And, Concept::Article, Concept::BeatWord, Concept::Then];
    while token(tokens, at).is_mark(',')
        || token(tokens, at).is_any(&links) && !token(tokens, at).is_mark('&')
        || matches!(
            token(tokens, at).word.as_str(),
            "the" | "el" | "en" | "on" | "in" | "del"
        )
    {
        // "the and of one": the part of a count, no link.
        let part =
            token(tokens, at).is(Concept::And) && matches!(token(tokens, at + 1).word.as_str(), "of" | "del" | "de");
        if part {
            break;
        }
        at += 1;
    }
    at
}

fn one_moment(tokens: &[Token], at: usize, last: Option<i64>, context: &Context) -> Option<(When, usize)> {
    let here = token(tokens, at);
    let half = |at: usize| {
        token(tokens, at).is_any(&[Concept::And, Concept::Half])
            || matches!(token(tokens, at).word.as_str(), "upbeat" | "contra")
    };
    // "on two, its upbeat, and three"
    if matches!(here.word.as_str(), "its" | "su") && half(at + 1) && last.is_some() {
        let part = Part::And;
        return Some((When { count: last, part }, at + 2));
    }
    let next = token(tokens, at + 2);
    let another = token(tokens, at + 1).is(Concept::And)
        && (next.number.is_some()
            || next.is(Concept::Article)
            || matches!(next.word.as_str(), "the" | "its" | "su" | "el" | "en"));
    let closes = token(tokens, at + 1).mark.is_some() || token(tokens, at + 1).word.is_empty();
    let number = here.number.filter(|count| (1..=context.last_count()).contains(count));
    let thing = [
        Concept::Unit,
        Concept::Times,
        Concept::StringWord,
        Concept::FretWord,
        Concept::FingerWord,
    ];
    let listed = !token(tokens, at + 1).is_any(&thing) && moment_at(tokens, at, context).is_none();
    let bare = number.filter(|_| another || closes || listed);
    match bare {
        Some(count) => Some((When::count(count), at + 1)),
        None => moment_at(tokens, at, context),
    }
}
