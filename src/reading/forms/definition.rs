use super::super::clauses::right_fingers;
use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::statement::{Located, Passage, Statement};
use super::Asked;
use crate::music::stroke::Action;

/// `G! = golpe, ring finger (a)`, `tap = palma plana encima de las cuerdas`, `golpe = en la tapa, siempre con a`.
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let Some(equals) = tokens.iter().take(6).position(|token| token.is_mark('=')) else {
        return Vec::new();
    };
    let Some(name) = tokens
        .get(..equals)
        .filter(|name| !name.is_empty() && name.len() <= 3 && asked.context.typed)
    else {
        return Vec::new();
    };
    let meaning = tokens.get(equals + 1..).unwrap_or(&[]);
    if name.iter().any(|token| token.number.is_some()) || meaning.first().is_some_and(|token| token.number.is_some()) {
        return Vec::new();
    }
    let action = meaning
        .iter()
        .find_map(action_of)
        .or_else(|| name.iter().find_map(action_of));
    let Some(action) = action else { return Vec::new() };
    let mut fingers = Vec::new();
    let mut at = equals + 1;
    while at < tokens.len() && fingers.is_empty() {
        if token(tokens, at).is_mark('=') {
            break;
        }
        match right_fingers(tokens, at, asked.context) {
            Some((found, _, end)) => {
                fingers = found;
                at = end;
            }
            None => at += 1,
        }
    }
    fingers.truncate(1);
    let alias: Vec<String> = name.iter().map(|token| token.word.clone()).collect();
    let mut out = vec![Located {
        statement: Statement::Define {
            alias,
            action,
            fingers: fingers.clone(),
        },
        start: token(tokens, 0).start,
        end: tokens.last().map_or(0, |token| token.end),
    }];
    if action == Action::Golpe && !fingers.is_empty() {
        out.push(Located {
            statement: Statement::Passage(Passage {
                fingers,
                golpe: true,
                ..Passage::default()
            }),
            start: token(tokens, 0).start,
            end: tokens.last().map_or(0, |token| token.end),
        });
    }
    out
}

fn action_of(token: &super::super::tokens::Token) -> Option<Action> {
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
