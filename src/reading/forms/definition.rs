use super::super::clauses::right_fingers;
use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::statement::{Located, Passage, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::hand::Finger;
use crate::music::stroke::Action;

/// `G! = golpe, ring finger (a)`, `tap = palma plana encima de las cuerdas`, `golpe = en la tapa, siempre con a`.
/// A line may define several; each ends where the next begins.
pub fn read(asked: &Asked) -> Vec<Located> {
    if !asked.context.typed {
        return Vec::new();
    }
    let tokens = asked.tokens;
    let signs: Vec<usize> = (0..tokens.len()).filter(|at| token(tokens, *at).is_mark('=')).collect();
    let mut out = Vec::new();
    for (order, sign) in signs.iter().enumerate() {
        let from = name_start(tokens, *sign);
        let to = signs
            .get(order + 1)
            .map_or(tokens.len(), |next| name_start(tokens, *next));
        out.extend(define(asked, from, *sign, to));
    }
    out
}

/// Where the name in front of an equals sign begins: behind the last comma, stop or bracket.
fn name_start(tokens: &[Token], sign: usize) -> usize {
    (0..sign)
        .rev()
        .find(|at| {
            token(tokens, *at)
                .mark
                .is_some_and(|mark| matches!(mark, ',' | '.' | ';' | '(' | ':'))
        })
        .map_or(0, |at| at + 1)
}

fn define(asked: &Asked, from: usize, sign: usize, to: usize) -> Vec<Located> {
    let tokens = asked.tokens;
    let (Some(name), Some(meaning)) = (tokens.get(from..sign), tokens.get(sign + 1..to)) else {
        return Vec::new();
    };
    let sized = (1..=3).contains(&name.len());
    let counted =
        name.iter().any(|token| token.number.is_some()) || meaning.first().is_some_and(|token| token.number.is_some());
    let known = name.iter().find_map(action_of);
    // "tap" and "skip" are also ordinary words: what they mean here is told behind the sign.
    let taps = name.iter().any(|token| token.is(Concept::Tap));
    let silent = meaning.iter().any(|token| token.is(Concept::Silence));
    let Some(action) = known
        .or_else(|| meaning.iter().find_map(action_of))
        .or(taps.then_some(Action::Golpe))
        .or(silent.then_some(Action::Rest))
        .filter(|_| sized && !counted)
    else {
        return Vec::new();
    };
    let fingers = fingers_in(asked, sign + 1, to, action);
    let (start, end) = (token(tokens, from).start, token(tokens, to.saturating_sub(1)).end);
    let mut out = Vec::new();
    let slashed = name.iter().any(|token| token.is_mark('/'));
    let chord_too = match name {
        [only] => crate::music::chord::ChordName::parse(&only.raw).is_some(),
        _ => false,
    };
    if known.is_none() && !slashed || chord_too || known == Some(Action::Rasgueado) && !fingers.is_empty() {
        out.push(Located {
            statement: Statement::Define {
                alias: name.iter().map(|token| token.word.clone()).collect(),
                word: name.iter().map(|token| token.raw.as_str()).collect(),
                action,
                fingers: fingers.clone(),
            },
            start,
            end,
        });
    }
    if action == Action::Golpe && !fingers.is_empty() {
        let passage = Passage {
            fingers,
            golpe: true,
            ..Passage::default()
        };
        out.push(Located {
            statement: Statement::Passage(passage),
            start,
            end,
        });
    }
    out
}

/// The fingers of a meaning: one, or the whole row of a rasgueado.
fn fingers_in(asked: &Asked, from: usize, to: usize, action: Action) -> Vec<Finger> {
    let mut at = from;
    while at < to {
        if let Some((mut fingers, _, _)) = right_fingers(asked.tokens, at, asked.context) {
            if action != Action::Rasgueado {
                fingers.truncate(1);
            }
            return fingers;
        }
        at += 1;
    }
    Vec::new()
}

fn action_of(token: &Token) -> Option<Action> {
    [
        (Concept::Golpe, Action::Golpe),
        (Concept::Damp, Action::Damp),
        (Concept::Rasgueado, Action::Rasgueado),
        (Concept::Alzapua, Action::Alzapua),
        (Concept::PullOff, Action::PullOff),
        (Concept::HammerOn, Action::HammerOn),
        (Concept::Picado, Action::Picado),
        (Concept::Down, Action::Down),
        (Concept::Up, Action::Up),
    ]
    .into_iter()
    .find(|(concept, _)| token.is(*concept))
    .map(|(_, action)| action)
}
