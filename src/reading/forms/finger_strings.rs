use super::super::clauses::{RIGHT_FINGER, letter_finger, named_finger, written_string};
use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::Asked;
use crate::music::hand::Finger;

/// A string, and a number or ordinal for it.
pub const NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.kind(&[Kind::Number, Kind::Ordinal]))];

/// Fewer fingers with a string each are a stroke, and no rule.
const FEWEST: usize = 3;

/// "i has s3, m has s2, a has s1", "cada dedo tiene su cuerda: índice la tercera, medio la segunda, anular la primera": the
/// string that a finger plays where none is named.
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let plays = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::FretWord,
        Concept::Rasgueado,
    ];
    if asked.says_any(&plays) || !asked.says.any_of(RIGHT_FINGER) {
        return Vec::new();
    }
    let rules = &sayings().words.rules;
    let ruled = || tokens.iter().any(|token| among(rules, &token.word));
    let counted = tokens.first().is_some_and(|first| first.number.is_some())
        || (0..tokens.len()).any(|at| token(tokens, at).is(Concept::On) && token(tokens, at + 1).number.is_some());
    if counted || !ruled() {
        return Vec::new();
    }
    let mut pairs: Vec<(Finger, u8)> = Vec::new();
    let (mut finger, mut end) = (None, 0);
    for at in 0..tokens.len() {
        finger = finger_at(asked, at).or(finger);
        if let (Some(named), Some(string)) = (finger, string_at(asked, at)) {
            pairs.push((named, string));
            finger = None;
            end = token(tokens, at).end;
        }
    }
    let distinct = |at: usize| {
        pairs.iter().skip(at + 1).all(|(finger, string)| {
            pairs
                .get(at)
                .is_some_and(|(one, other)| one != finger && other != string)
        })
    };
    if pairs.len() < FEWEST || !(0..pairs.len()).all(distinct) {
        return Vec::new();
    }
    vec![Located {
        statement: Statement::FingerStrings(pairs),
        start: token(tokens, 0).start,
        end,
    }]
}

fn finger_at(asked: &Asked, at: usize) -> Option<Finger> {
    let here = token(asked.tokens, at);
    let letter = letter_finger(&here.raw).filter(|_| asked.context.typed && here.raw.len() == 1 && !here.joined);
    let letter =
        letter.filter(|_| !token(asked.tokens, at + 1).joined && matches!(here.raw.as_str(), "p" | "i" | "m" | "a"));
    named_finger(here).or(letter)
}

/// `s3`, "the third", "la segunda cuerda", "third string".
fn string_at(asked: &Asked, at: usize) -> Option<u8> {
    let (lead, here) = (before(asked.tokens, at), token(asked.tokens, at));
    let written = at
        .checked_sub(1)
        .and_then(|letter| written_string(asked.tokens, letter));
    let article = matches!(lead.word.as_str(), "the" | "la") || lead.is(Concept::On);
    let named = article || token(asked.tokens, at + 1).is(Concept::StringWord);
    let ordinal = here.ordinal.filter(|string| named && (1..=6).contains(string));
    written.or(ordinal.and_then(|string| u8::try_from(string).ok()))
}
