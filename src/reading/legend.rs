//! The writer's own signs: `T = thumb`, `th thumb / ix index`, `D / U = index down / index up`, `+ is the and`.

use std::ops::Range;
use std::sync::LazyLock;

use aho_corasick::AhoCorasick;

use super::clauses::{FINGERS, named_finger};
use super::lexicon::{Concept, Language, Lexicon};
use super::moments::token;
use super::pieces::Piece;
use super::tokens::{Token, tokens};
use crate::intake::{Note, NoteKind};

/// A sign and what the note says that it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sign {
    pub name: Range<usize>,
    pub meaning: Range<usize>,
    /// Written with an equals sign; otherwise only its neighbours tell that it is a definition.
    pub equated: bool,
}

/// The signs that a sentence defines, in order.
pub fn signs(tokens: &[Token]) -> Vec<Sign> {
    let equals: Vec<usize> = (0..tokens.len())
        .filter(|at| token(tokens, *at).is_mark('=') || colon_defines(tokens, *at))
        .collect();
    let mut out = Vec::new();
    for (order, sign) in equals.iter().enumerate() {
        // `ras. = rasgueado`: the stop is the abbreviation's.
        let shortened = usize::from(*sign > 1 && token(tokens, *sign - 1).is_mark('.'));
        let from = begins(tokens, *sign - shortened);
        let to = equals.get(order + 1).map_or(tokens.len(), |next| begins(tokens, *next));
        out.extend(paired(tokens, from..*sign - shortened, sign + 1..to));
    }
    let until = equals.first().map_or(tokens.len(), |first| begins(tokens, *first));
    let listed = without_equals(tokens, until);
    if listed.len() + out.len() >= 2 || listed.iter().any(|sign| token(tokens, sign.name.start).mark.is_some()) {
        out.extend(listed);
    }
    out
}

/// `G: golpe en la tapa`: a sign of one capital in front of a colon, and a stroke's own name behind it.
fn colon_defines(tokens: &[Token], at: usize) -> bool {
    let name = at.checked_sub(1).map(|at| token(tokens, at));
    let sign = name.is_some_and(|name| name.raw.len() == 1 && name.raw.chars().all(char::is_uppercase));
    let alone = at < 2 || token(tokens, at - 2).mark.is_some();
    let named = token(tokens, at + 1).is_any(&[Concept::Golpe, Concept::Rasgueado, Concept::Damp, Concept::Alzapua]);
    token(tokens, at).is_mark(':') && sign && alone && named
}

/// Where the name in front of an equals sign begins: behind the last comma, stop or bracket; a slash parts two names
/// unless the meaning is parted as well.
fn begins(tokens: &[Token], sign: usize) -> usize {
    let parts = |mark: char| matches!(mark, ',' | '.' | ';' | '(' | ':');
    // `- chas = apagado`: the dash of a list.
    let first = usize::from(token(tokens, 0).is_mark('-') && !token(tokens, 1).joined);
    (first..sign)
        .rev()
        .find(|at| token(tokens, *at).mark.is_some_and(parts))
        .map_or(first, |at| at + 1)
}

/// `D / U = index down / index up`: as many meanings as names are taken one for one.
fn paired(tokens: &[Token], name: Range<usize>, meaning: Range<usize>) -> Vec<Sign> {
    let names = at_slashes(tokens, name.clone());
    let meanings = at_slashes(tokens, meaning.clone());
    if names.len() > 1 && names.len() == meanings.len() {
        let both = names.into_iter().zip(meanings);
        return both
            .map(|(name, meaning)| Sign {
                name,
                meaning,
                equated: true,
            })
            .collect();
    }
    // `th thumb / ix index / bunch = i m a`: the names in front have their meaning beside them.
    let (last, explained) = match names.split_last() {
        Some((last, before)) if before.iter().any(|name| name.len() > 1) => (last.clone(), last.start),
        _ => (name, 0),
    };
    let mut out = without_equals(tokens, explained);
    out.push(Sign {
        name: last,
        meaning,
        equated: true,
    });
    out
}

fn at_slashes(tokens: &[Token], range: Range<usize>) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut start = range.start;
    for at in range.clone() {
        if token(tokens, at).is_mark('/') {
            parts.push(start..at);
            start = at + 1;
        }
    }
    parts.push(start..range.end);
    parts.retain(|part| !part.is_empty());
    parts
}

/// `v goes to the floor, ^ goes to the ceiling`, `th thumb / ix index`: a sign that is no word, and what it stands for.
fn without_equals(tokens: &[Token], until: usize) -> Vec<Sign> {
    let mut out = Vec::new();
    let mut start = 0;
    for at in 0..=until {
        let here = token(tokens, at);
        let parts = at == until || matches!(here.mark, Some(',' | '/' | ';' | '.' | ':'));
        if !parts {
            continue;
        }
        out.extend(in_pairs(tokens, start..at));
        start = at + 1;
    }
    out
}

/// `d down u up`: each sign with its one word behind it; otherwise the whole is one sign.
fn in_pairs(tokens: &[Token], range: Range<usize>) -> Vec<Sign> {
    if range.len() >= 4 && range.len().is_multiple_of(2) {
        let pairs = range.clone().step_by(2);
        let signs: Option<Vec<Sign>> = pairs.map(|at| plain_sign(tokens, at..at + 2)).collect();
        if let Some(signs) = signs {
            return signs;
        }
    }
    plain_sign(tokens, range).into_iter().collect()
}

fn plain_sign(tokens: &[Token], range: Range<usize>) -> Option<Sign> {
    let name = token(tokens, range.start);
    let odd = name.raw.chars().count() <= 3 && name.number.is_none() && name.ordinal.is_none();
    let unknown = name.concepts.is_empty()
        || name
            .mark
            .is_some_and(|mark| matches!(mark, '^' | '+' | '*' | '~' | '!'));
    let verb = token(tokens, range.start + 1).is(Concept::Is)
        || matches!(
            token(tokens, range.start + 1).word.as_str(),
            "means" | "for" | "significa" | "quiere decir"
        );
    let from = range.start + 1 + usize::from(verb);
    // `1: p down, 2: golpe`: the letters of the fingers are everybody's.
    let finger = matches!(name.raw.as_str(), "p" | "i" | "m" | "a" | "x");
    if !odd || !unknown || finger || from >= range.end {
        return None;
    }
    let short = range.end - from <= 5;
    let means = (from..range.end).any(|at| stands_for(token(tokens, at)));
    let bare = verb || range.end == from + 1;
    (short && means && bare).then_some(Sign {
        name: range.start..range.start + 1,
        meaning: from..range.end,
        equated: false,
    })
}

fn stands_for(token: &Token) -> bool {
    named_finger(token).is_some()
        || token.is_any(&[
            Concept::Down,
            Concept::Up,
            Concept::Golpe,
            Concept::Damp,
            Concept::And,
            Concept::Half,
        ])
}

/// Adds the note's own words: typed signs for one finger or for the half of a count, spoken words for a stroke.
pub fn learn_signs(note: &Note, cut: &[Vec<Piece>], language: Language, lexicon: &mut Lexicon) {
    let calls = |pair: &[Piece]| matches!(pair, [who, says] if calls(&who.folded, &says.folded));
    let found = if note.kind == NoteKind::Spoken {
        let may_call = cut.iter().any(|pieces| pieces.windows(2).any(calls));
        if may_call {
            spoken_words(note, language, lexicon)
        } else {
            Vec::new()
        }
    } else {
        typed_signs(note, language, lexicon)
    };
    for (word, concept) in found {
        lexicon.add(&word, concept);
    }
}

fn typed_signs(note: &Note, language: Language, lexicon: &Lexicon) -> Vec<(String, Concept)> {
    let lines = note.cues.iter().flat_map(|cue| cue.text.lines());
    lines
        .filter(|line| may_define(line))
        .flat_map(|line| simple_signs(&tokens(line, language, lexicon)))
        .collect()
}

/// Whether a line has an equals sign, or another that goes with definitions and a part that begins like one.
fn may_define(line: &str) -> bool {
    let (mut equated, mut signed) = (false, false);
    for byte in line.bytes() {
        equated |= byte == b'=';
        signed |= matches!(byte, b'/' | b'^' | b'+');
    }
    equated || signed && line.split([',', '/', ';', '.', ':']).any(begins_with_a_sign)
}

/// `th thumb`, `^ up`: behind at most three letters, which are no number and no finger's, or behind a mark stands a meaning.
fn begins_with_a_sign(part: &str) -> bool {
    let part = part.trim();
    let ends = |letter: char| !letter.is_alphanumeric() && letter != '\'';
    let length = part.find(ends).unwrap_or(part.len());
    let name = part.get(..length).unwrap_or("");
    let known = matches!(name, "p" | "i" | "m" | "a" | "x") || name.starts_with(|letter: char| letter.is_ascii_digit());
    let alone = part.chars().nth(1).is_none() || !name.is_empty() && length == part.len();
    !known && !alone && name.chars().count() <= 3
}

/// How a teacher brings up a word of her own: "a golpe, but I say a dunt", "el golpe, que yo le digo toque".
const CALLS: [&str; 12] = [
    "i say",
    "i call it",
    "i call that",
    "i call them",
    "we call it",
    "we call that",
    "i'd say",
    "le digo",
    "lo llamo",
    "yo digo",
    "le decimos",
    "lo llamamos",
];

/// Two words of each of them.
fn calls(who: &str, says: &str) -> bool {
    match who {
        "i" => matches!(says, "say" | "call"),
        "we" => says == "call",
        "i'd" => says == "say",
        "le" => matches!(says, "digo" | "decimos"),
        "lo" => matches!(says, "llamo" | "llamamos"),
        "yo" => says == "digo",
        _ => false,
    }
}

static CALLED: LazyLock<Option<AhoCorasick>> = LazyLock::new(|| AhoCorasick::new(CALLS).ok());

fn spoken_words(note: &Note, language: Language, lexicon: &Lexicon) -> Vec<(String, Concept)> {
    let whole: Vec<&str> = note.cues.iter().map(|cue| cue.text.as_str()).collect();
    let text = whole.join(" ").to_lowercase().replace('\n', " ");
    sentences_that_call(&text)
        .into_iter()
        .filter_map(|sentence| called(sentence, language, lexicon))
        .collect()
}

/// What stands between two ends of sentences and brings up a word, in the text's order.
fn sentences_that_call(text: &str) -> Vec<&str> {
    const ENDS: [char; 3] = ['.', '!', '?'];
    let mut sentences = Vec::new();
    let mut done = 0;
    for call in CALLED.iter().flat_map(|calls| calls.find_iter(text)) {
        if call.start() < done {
            continue;
        }
        let (before, behind) = text.split_at(call.start());
        let start = before.rfind(ENDS).map_or(0, |at| at + 1);
        let end = behind.find(ENDS).map_or(text.len(), |at| call.start() + at);
        sentences.extend(text.get(start..end));
        done = end;
    }
    sentences
}

/// The unknown word behind "I say a", with the one stroke that its sentence names.
fn called(sentence: &str, language: Language, lexicon: &Lexicon) -> Option<(String, Concept)> {
    CALLED.as_ref().filter(|calls| calls.is_match(sentence))?;
    let call = CALLS.iter().find(|call| sentence.contains(**call))?;
    let (before, behind) = sentence.split_once(call)?;
    let strokes = [
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::Damp,
        Concept::Picado,
        Concept::Alzapua,
        Concept::Abanico,
    ];
    let told = tokens(before, language, lexicon);
    let mut named = strokes
        .into_iter()
        .filter(|stroke| told.iter().any(|token| token.is(*stroke)));
    let (stroke, None) = (named.next()?, named.next()) else {
        return None;
    };
    let word = tokens(behind, language, lexicon).into_iter().find(|token| {
        !token.is(Concept::Article) && !matches!(token.word.as_str(), "a" | "an" | "un" | "una" | "it")
    })?;
    let unknown = word.concepts.is_empty() && word.mark.is_none() && word.number.is_none() && word.word.len() >= 3;
    unknown.then(|| (word.word.to_string(), stroke))
}

fn simple_signs(tokens: &[Token]) -> Vec<(String, Concept)> {
    signs(tokens)
        .into_iter()
        .filter_map(|sign| {
            let [name] = tokens.get(sign.name)? else { return None };
            let taken = name.number.is_some() || matches!(name.word.as_str(), "p" | "i" | "m" | "a" | "x");
            let meaning = tokens.get(sign.meaning)?;
            let concept = finger_alone(meaning).or_else(|| half_alone(name, meaning))?;
            (!taken && !name.is(concept)).then(|| (name.word.to_string(), concept))
        })
        .collect()
}

/// One finger and nothing that is played.
fn finger_alone(meaning: &[Token]) -> Option<Concept> {
    let fingers: Vec<Concept> = FINGERS
        .map(|(concept, _)| concept)
        .into_iter()
        .filter(|finger| meaning.iter().any(|token| token.is(*finger)))
        .collect();
    let plays = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Tap,
        Concept::Rasgueado,
        Concept::Pluck,
    ];
    let [finger] = fingers.as_slice() else { return None };
    let lone = meaning.len() <= 3
        && !meaning
            .iter()
            .any(|token| token.is_any(&plays) || token.number.is_some());
    lone.then_some(*finger)
}

/// `+ is the and`, `"y" = la mitad del tiempo`: only a mark, so that no word loses its meaning.
fn half_alone(name: &Token, meaning: &[Token]) -> Option<Concept> {
    let half = meaning.len() <= 4 && meaning.iter().any(|token| token.is_any(&[Concept::And, Concept::Half]));
    (half && name.mark.is_some_and(|mark| matches!(mark, '+' | '*' | '~'))).then_some(Concept::Half)
}
