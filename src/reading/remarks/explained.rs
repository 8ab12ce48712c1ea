use crate::music::remark::Remark;
use crate::reading::lexicon::Concept;
use crate::reading::listed::all_of;
use crate::reading::moments::token;
use crate::reading::placed::string_at;
use crate::reading::sayings::{WordList, among, among_with_next, any_among, sayings};
use crate::reading::says::{Kind, Says};
use crate::reading::tokens::{Token, Tokens};

/// "Rest stroke, that is, the finger lands on the next string", "tirando, o sea, que el dedo no toca la vecina".
pub fn stroke_explained(tokens: &Tokens) -> Option<Remark> {
    let stroke = |token: &Token| token.is_any(&[Concept::RestStroke, Concept::FreeStroke]);
    if !tokens.says.means_any(&[Concept::RestStroke, Concept::FreeStroke]) {
        return None;
    }
    let named = tokens.iter().position(stroke)?;
    let words = &sayings().words;
    let explains = |at: &usize| {
        let here = token(tokens, *at);
        let pair = [here.word.as_str(), token(tokens, at + 1).word.as_str()].join(" ");
        here.is_mark('=') || among(&words.explaining, &here.word) || among(&words.explaining, &pair)
    };
    let from = (named + 1..tokens.len()).find(explains)?;
    let next_string = |at: usize| any_among(&words.next_string, &token(tokens, at).word);
    let lands = |at: usize| any_among(&words.landing, &token(tokens, at).word);
    let neighbour = (from..tokens.len()).any(next_string);
    let landing =
        (from..tokens.len()).find(|at| lands(*at) || token(tokens, *at).is(Concept::RestStroke) && *at > named)?;
    let whole = neighbour || token(tokens, landing).is(Concept::RestStroke);
    let negated = (landing.saturating_sub(3)..landing).any(|at| token(tokens, at).is(Concept::Negation));
    whole.then(|| Remark::StrokeExplained {
        rest_stroke: token(tokens, named).is(Concept::RestStroke),
        lands: !negated,
    })
}

/// Words between a strum and what explains it.
const FAR: usize = 10;

/// "Up, that is, from the first string to the sixth", "hacia abajo es que la uña va camino del suelo": which way a strum
/// goes, and the token of the strum that is explained.
pub fn strum_explained(tokens: &[Token]) -> Option<(Remark, usize)> {
    if !tokens.iter().any(|token| token.says().any_of(WAYS)) {
        return None;
    }
    let explained = |at: usize| {
        let behind = (at + 1..at + FAR).take_while(|at| !strums(token(tokens, *at)));
        let mut explaining = behind.filter(|at| token(tokens, *at).has(Kind::Explains));
        let from = explaining.find(|at| explains_a_strum(tokens, *at))?;
        let to_the_floor = way(tokens, from, token(tokens, at).is(Concept::Down))?;
        let down = token(tokens, at).is(Concept::Down);
        Some((Remark::StrumExplained { down, to_the_floor }, at))
    };
    (0..tokens.len())
        .filter(|at| strums(token(tokens, *at)))
        .find_map(explained)
}

/// What tells which way a strum goes: the floor or the ceiling, or two strings.
const WAYS: Says = Says::NOTHING.kind(&[Kind::Way, Kind::Number, Kind::Ordinal]);

/// The words that are looked for here.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    let words = &sayings().words;
    let ways = words.floor.iter().chain(words.ceiling.iter());
    let explaining = words.explaining.iter().chain(words.explaining_strums.iter());
    all_of(Kind::Way, ways).chain(all_of(Kind::Explains, explaining))
}

const DIRECTIONS: [Concept; 2] = [Concept::Down, Concept::Up];

/// "down", "hacia arriba"; "to the floor" says where, and is no name of a strum.
fn strums(token: &Token) -> bool {
    token.is_any(&DIRECTIONS) && to_the_floor(token).is_none()
}

fn to_the_floor(token: &Token) -> Option<bool> {
    let words = &sayings().words;
    let floor = any_among(&words.floor, &token.word);
    (floor || any_among(&words.ceiling, &token.word)).then_some(floor)
}

fn explains_a_strum(tokens: &[Token], at: usize) -> bool {
    let words = &sayings().words;
    let (here, next) = (token(tokens, at).word.as_str(), token(tokens, at + 1).word.as_str());
    let says = |list: &WordList| among_with_next(list, here, next);
    says(&words.explaining) || says(&words.explaining_strums)
}

/// Towards the floor or the ceiling, from one string to another: where the two are not at one, the one that is not the
/// strum's.
fn way(tokens: &[Token], from: usize, down: bool) -> Option<bool> {
    let end = (from + 1..tokens.len()).find(|at| token(tokens, *at).is_mark('.') || strums(token(tokens, *at)));
    let said = from + 1..end.unwrap_or(tokens.len());
    if said.clone().any(|at| token(tokens, at).is(Concept::Negation)) {
        return None;
    }
    let place = said.clone().find_map(|at| to_the_floor(token(tokens, at)));
    let strings: Vec<u8> = said
        .clone()
        .filter_map(|at| string_at(tokens, at))
        .map(|(string, _)| string)
        .collect();
    let leads = |at: usize| among(&sayings().words.from_string_to_string, &token(tokens, at).word);
    let across = match strings.as_slice() {
        [first, last] if first.abs_diff(*last) >= 2 && said.clone().filter(|at| leads(*at)).count() >= 2 => {
            Some(first > last)
        }
        _ => None,
    };
    let ways: Vec<bool> = place.into_iter().chain(across).collect();
    ways.iter().find(|way| **way != down).or(ways.first()).copied()
}
