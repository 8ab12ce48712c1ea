use super::super::clauses::{NAMED_FINGER, right_fingers, written_string};
use super::super::legend::{Sign, signs};
use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::own_sounds::{Explained, explained, stroke_in};
use super::super::says::{Needs, Says};
use super::super::statement::{Located, Passage, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::hand::Finger;
use crate::music::stroke::Action;

/// A sign of equality, or a word that a sign may stand for.
pub const NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.mark('=').or(NAMED_FINGER).meaning(&[
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::Rasgueado,
    Concept::Damp,
    Concept::Alzapua,
    Concept::And,
    Concept::Half,
]))];

const EQUATES: Says = Says::NOTHING.mark('=').mark(':');

/// `G! = golpe, ring finger (a)`, `tap = palma plana encima de las cuerdas`, `golpe = en la tapa, siempre con a`.
/// A line may define several; each ends where the next begins.
pub fn read(asked: &Asked) -> Vec<Located> {
    if !asked.context.typed {
        return explained_sounds(asked);
    }
    // While a pattern is told, only what is equated defines a sign.
    if asked.in_pattern && !asked.says.any_of(EQUATES) {
        return Vec::new();
    }
    let signs = signs(asked.tokens);
    let defines = |sign: &&Sign| {
        let note = asked.tokens.get(sign.name.clone()).is_some_and(names_a_note);
        let golpe = token(asked.tokens, sign.meaning.start).is(Concept::Golpe);
        !asked.in_pattern || sign.equated && (!note || golpe)
    };
    signs
        .iter()
        .filter(defines)
        .flat_map(|sign| define(asked, sign))
        .collect()
}

/// "Dum is the thumb going down through the chord": a word of sound that the note goes on to play by.
fn explained_sounds(asked: &Asked) -> Vec<Located> {
    let own = &asked.context.own_sounds;
    if own.is_empty() {
        return Vec::new();
    }
    let all = explained(asked.tokens, |token| own.iter().any(|word| *word == *token.word));
    all.iter().flat_map(|sound| explain(asked, sound)).collect()
}

fn explain(asked: &Asked, sound: &Explained) -> Vec<Located> {
    let meaning = asked.tokens.get(sound.meaning.clone()).unwrap_or(&[]);
    let stroke = stroke_in(meaning).and_then(|stroke| meaning.iter().find(|token| token.is(stroke)));
    let Some(action) = stroke.and_then(action_of) else {
        return Vec::new();
    };
    let name = token(asked.tokens, sound.name);
    let fingers = fingers_in(asked, sound.meaning.start, sound.meaning.end, Some(action));
    let located = |statement| Located {
        statement,
        start: name.start,
        end: meaning.last().map_or(name.end, |last| last.end),
    };
    let mut out = vec![located(Statement::Define {
        alias: vec![name.word.to_string()],
        word: name.raw.to_string(),
        action: Some(action),
        fingers: fingers.clone(),
        strings: Vec::new(),
    })];
    out.extend(golpe_always(action, &fingers).map(located));
    out
}

/// A golpe's finger, where its sign is explained with it, is that of every golpe.
fn golpe_always(action: Action, fingers: &[Finger]) -> Option<Statement> {
    let told = action == Action::Golpe && !fingers.is_empty();
    told.then(|| {
        Statement::Passage(Passage {
            fingers: fingers.to_vec(),
            golpe: true,
            ..Passage::default()
        })
    })
}

fn define(asked: &Asked, sign: &Sign) -> Vec<Located> {
    let tokens = asked.tokens;
    let (from, to) = (sign.name.start, sign.meaning.end);
    let (Some(name), Some(meaning)) = (tokens.get(sign.name.clone()), tokens.get(sign.meaning.clone())) else {
        return Vec::new();
    };
    let sized = (1..=3).contains(&name.len());
    let counted =
        name.iter().any(|token| token.number.is_some()) || meaning.first().is_some_and(|token| token.number.is_some());
    let known = name.iter().find_map(action_of);
    // "tap" and "skip" are also ordinary words: what they mean here is told behind the sign.
    let taps = name.iter().any(|token| token.is(Concept::Tap));
    let silent = meaning.iter().any(|token| token.is(Concept::Silence));
    let rolls = meaning
        .iter()
        .any(|token| matches!(token.word.as_str(), "roll" | "redoble" | "roll of"));
    let action = known
        .or_else(|| meaning.iter().find_map(action_of))
        .or(rolls.then_some(Action::Rasgueado))
        .or(meaning
            .iter()
            .any(|token| token.is(Concept::Tap))
            .then_some(Action::Golpe))
        .or(taps.then_some(Action::Golpe))
        .or(silent.then_some(Action::Rest))
        .filter(|_| sized && !counted);
    let fingers = fingers_in(asked, sign.meaning.start, to, action);
    let several = fingers.len() >= 2 && known.is_none() && sized && !counted && !is_finger_row(name);
    if action.is_none() && !several {
        return Vec::new();
    }
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
                alias: name.iter().map(sign_word).collect(),
                word: name.iter().map(|token| token.raw.as_str()).collect(),
                action,
                fingers: fingers.clone(),
                strings: strings_in(meaning, action),
            },
            start,
            end,
        });
    }
    let golpe = action.and_then(|action| golpe_always(action, &fingers));
    out.extend(golpe.map(|statement| Located { statement, start, end }));
    out
}

/// `Bb = same string, pulled off`: how a note is played, no sign.
fn names_a_note(name: &[Token]) -> bool {
    let written: String = name.iter().map(|token| token.raw.as_str()).collect();
    crate::music::chord::ChordName::parse(&written).is_some()
}

/// A sign of one capital letter is written so throughout; others are known however they are written.
fn sign_word(token: &Token) -> String {
    let capital = token.raw.len() == 1 && token.raw.chars().all(char::is_uppercase);
    let sign = if capital { &token.raw } else { &token.word };
    sign.to_string()
}

/// `p i m a = …` explains the letters and is no sign of the writer's own.
fn is_finger_row(name: &[Token]) -> bool {
    name.iter()
        .all(|token| matches!(token.word.as_str(), "p" | "i" | "m" | "a" | "x") || token.mark.is_some())
}

/// The fingers of a meaning: one, or the whole row of a rasgueado.
fn fingers_in(asked: &Asked, from: usize, to: usize, action: Option<Action>) -> Vec<Finger> {
    let mut at = from;
    let mut row: Vec<Finger> = Vec::new();
    while at < to {
        match right_fingers(asked.tokens, at, asked.context) {
            Some((fingers, _, end)) => {
                row.extend(fingers);
                at = end;
            }
            // "pinky, a m i": the row goes on behind a comma.
            // `pellizco: i en c3 y m en c2`
            None if action == Some(Action::Pluck) => at += 1,
            None if row.is_empty()
                || token(asked.tokens, at).is_mark(',')
                || token(asked.tokens, at).is(Concept::And) =>
            {
                at += 1
            }
            None => break,
        }
    }
    if action.is_some_and(|action| !matches!(action, Action::Rasgueado | Action::Pluck)) {
        row.truncate(1);
    }
    row
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
        (Concept::Pluck, Action::Pluck),
    ]
    .into_iter()
    .find(|(concept, _)| token.is(*concept))
    .map(|(_, action)| action)
}

/// `piz = pellizco: i en c3 y m en c2`: the strings of what is plucked, as they are written.
fn strings_in(meaning: &[Token], action: Option<Action>) -> Vec<u8> {
    if action != Some(Action::Pluck) {
        return Vec::new();
    }
    (0..meaning.len())
        .filter_map(|at| written_string(meaning, at))
        .collect()
}
