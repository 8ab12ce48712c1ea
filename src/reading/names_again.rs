//! The names of notes said over behind the notes ("F, E, D, C, B flat"): evidence beside what was told.

use super::discourse::Discourse;
use super::lexicon::Concept;
use super::pitch_words::pitch_at;
use super::sayings::{among, sayings};
use super::says::Kind;
use super::solfa::bare_name;
use super::tokens::Token;
use crate::music::pattern::ClaimAbout;
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::text::Place;

/// Fewer names are a mention, not a row.
const LEAST: usize = 3;

/// A sentence that is nothing but names is held against the notes that it says over. What is read stays as it is.
pub fn hear(discourse: &mut Discourse, tokens: &[Token], place: Place) {
    if tokens.iter().filter(|token| token.has(Kind::Name)).count() < LEAST {
        return;
    }
    for part in tokens.split(|token| token.is_mark('.')) {
        let Some(names) = names(discourse, part) else { continue };
        let told = told(discourse);
        let moments = said_over(&told, &names).filter(|_| names.len() <= told.len());
        if let Some(moments) = moments {
            let row = moments.into_iter().zip(names).collect();
            discourse.claim(ClaimAbout::NamedAgain { row }, place);
        }
    }
}

/// `F, E, D`; behind them may come where the row leads: "and 1", "home".
fn names(discourse: &Discourse, tokens: &[Token]) -> Option<Vec<NoteName>> {
    const LEADS_ON: usize = 3;
    let mut names = Vec::new();
    let mut at = tokens.iter().take_while(|token| token.is(Concept::So)).count();
    let led = behind_its_lead(tokens);
    at = at.max(led);
    while let Some(token) = tokens.get(at) {
        if token.is_mark(',') || token.is(Concept::And) {
            at += 1;
            continue;
        }
        let typed = discourse.context.typed;
        let pitch = pitch_at(tokens, at, discourse.context.language, typed).filter(|pitch| !pitch.qualified);
        let pitch = pitch.map(|pitch| (pitch.root, pitch.length));
        let Some((name, length)) = pitch.or_else(|| bare(tokens, at).filter(|_| led > 0)) else {
            break;
        };
        names.push(name);
        at += length;
    }
    let rest = tokens
        .get(at..)
        .unwrap_or(&[])
        .iter()
        .filter(|token| token.mark.is_none());
    (names.len() >= LEAST && rest.count() < LEADS_ON).then_some(names)
}

/// "se canta: mi fa# sol": behind what announces them, small words are names, with their signs.
fn bare(tokens: &[Token], at: usize) -> Option<(NoteName, usize)> {
    let name = bare_name(tokens.get(at)?)?;
    let sign = tokens.get(at + 1);
    let sharp = sign.is_some_and(|sign| sign.is(Concept::Sharp) || sign.joined && sign.is_mark('#'));
    let flat = sign.is_some_and(|sign| sign.is(Concept::Flat));
    match (sharp, flat) {
        (true, _) => Some((NoteName::new(name.letter, 1), 2)),
        (_, true) => Some((NoteName::new(name.letter, -1), 2)),
        _ => Some((name, 1)),
    }
}

/// "sing it first: E D C#", "se canta: re mi fa": the row behind the colon.
fn behind_its_lead(tokens: &[Token]) -> usize {
    const SHORT: usize = 5;
    let colon = tokens.iter().take(SHORT).position(|token| token.is_mark(':'));
    let sung = |at: &usize| {
        tokens
            .iter()
            .take(*at)
            .any(|token| among(&sayings().words.sung, &token.word))
    };
    colon.filter(sung).map_or(0, |at| at + 1)
}

/// The named notes of the pattern being told, in order.
fn told(discourse: &Discourse) -> Vec<(Position, NoteName)> {
    let pattern = discourse.current.and_then(|index| discourse.patterns.get(index));
    let strokes = pattern.map_or([].as_slice(), |pattern| pattern.strokes.as_slice());
    let mut notes: Vec<(Position, NoteName)> = strokes
        .iter()
        .filter_map(|placed| Some((placed.stroke.at, placed.stroke.note?)))
        .collect();
    notes.sort_by_key(|(at, _)| *at);
    notes
}

/// The moments of the notes that a row says over: all its names fit, or, of the notes told last, all but one.
fn said_over(told: &[(Position, NoteName)], names: &[NoteName]) -> Option<Vec<Position>> {
    let agreeing = |window: &&[(Position, NoteName)]| {
        let pairs = window.iter().zip(names);
        pairs
            .filter(|((_, note), name)| note.pitch_class() == name.pitch_class())
            .count()
    };
    let windows = || told.windows(names.len());
    let whole = windows().rfind(|window| agreeing(window) == names.len());
    let slip = || windows().rfind(|window| agreeing(window) + 1 == names.len());
    let window = whole.or_else(slip)?;
    Some(window.iter().map(|(at, _)| *at).collect())
}
