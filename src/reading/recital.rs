//! A row said aloud ("five down, six down and up"; "tac, up, down, up"): evidence beside the strokes that were told.

use std::rc::Rc;

use num_rational::Ratio;

use super::context::OwnSign;
use super::discourse::Discourse;
use super::forms::is_question;
use super::lexicon::Concept;
use super::names_again;
use super::sayings::{among, sayings};
use super::tokens::Token;
use crate::music::pattern::{ClaimAbout, CountSpan};
use crate::music::position::Position;
use crate::music::stroke::Action;
use crate::text::Place;

/// Fewer strokes are a mention, not a row.
const LEAST: usize = 2;

/// Said aloud, and a row of strokes: it is held against what was told. False when the sentence is no row.
pub fn hear(discourse: &mut Discourse, tokens: &[Token], text: &str, place: Place) -> bool {
    if !is_question(tokens, text) {
        names_again::hear(discourse, tokens, place);
    }
    let context = Rc::clone(&discourse.context);
    let own = context.own_sounds.as_slice();
    let aloud = tokens.iter().position(|token| token.is(Concept::Aloud));
    let tokens = match aloud {
        Some(at) => tokens.get(at + 1..).unwrap_or(&[]),
        None if only_a_row(tokens, own) || counted_again(discourse, tokens) => tokens,
        None => return false,
    };
    let mut row = row(tokens, &discourse.context.aliases);
    if row.is_empty() && aloud.is_some() && counted_row(discourse, tokens, place) {
        return true;
    }
    if row.len() < LEAST || !discourse.in_pattern() {
        return false;
    }
    if row.iter().all(|(at, _)| at.is_none()) {
        align(discourse, &mut row);
    }
    let strokes: Vec<(Option<Position>, Action)> =
        row.iter().filter_map(|(at, action)| Some((*at, (*action)?))).collect();
    discourse.resolve_by_row(&strokes, place);
    let moments = row.iter().filter_map(|(at, _)| at.map(|at| at.whole()));
    let (Some(first), Some(last)) = (moments.clone().min(), moments.max()) else {
        // "Entonces, pam, abajo arriba, abajo": said over, wherever it belongs.
        let summed_up = tokens
            .first()
            .is_some_and(|first| first.is_any(&[Concept::So, Concept::Then]));
        return aloud.is_some() || summed_up || tokens.iter().any(|token| sounds(token, own));
    };
    let about = ClaimAbout::Recited {
        span: CountSpan { first, last },
        row,
    };
    discourse.claim(about, place);
    discourse.note(format!("{first} to {last} said aloud"), place);
    true
}

/// "1 and 2 and 3, 4 and 5": the counts themselves said aloud, each with its half where it has one.
fn counted_row(discourse: &mut Discourse, tokens: &[Token], place: Place) -> bool {
    const FEW: usize = 4;
    let plain =
        |token: &Token| token.mark.is_some() || token.number.is_some() || token.is_any(&[Concept::And, Concept::Half]);
    let mut row: Vec<(Option<Position>, Option<Action>)> = Vec::new();
    let mut last: Option<i64> = None;
    for token in tokens.iter().skip_while(|token| token.number.is_none()) {
        match (token.number, last) {
            (Some(count), _) => {
                last = Some(count);
                row.push((Some(Position::count(count)), None));
            }
            (None, Some(count)) if token.is_any(&[Concept::And, Concept::Half]) => {
                row.push((Some(Position::new(count, 1, 2)), None));
            }
            _ => {}
        }
    }
    let counts: Vec<i64> = tokens.iter().filter_map(|token| token.number).collect();
    let halves = row.len() - counts.len();
    let rises = counts
        .windows(2)
        .filter(|pair| matches!(pair, [one, other] if one >= other))
        .count()
        <= 1;
    // All counts with their halves are counted, whatever is played.
    let tells = counts.len() >= FEW && halves > 0 && halves < counts.len() && rises;
    let (Some(first), Some(end)) = (counts.first(), counts.last()) else {
        return false;
    };
    if !tells || !tokens.iter().skip_while(|token| token.number.is_none()).all(plain) || !discourse.in_pattern() {
        return false;
    }
    let span = CountSpan {
        first: *first,
        last: *end,
    };
    discourse.claim(ClaimAbout::Recited { span, row }, place);
    discourse.note(format!("{first} to {end} said aloud"), place);
    true
}

/// "1, down. 2, down up. 3, down and knock": counts that have all been told, each with its strokes again.
fn counted_again(discourse: &Discourse, tokens: &[Token]) -> bool {
    let tokens = behind_its_title(tokens);
    if discourse.context.typed || tokens.first().is_none_or(|token| token.number.is_none()) {
        return false;
    }
    let counts: Vec<i64> = tokens.iter().filter_map(|token| token.number).collect();
    let told = counts.len() > LEAST && counts.iter().all(|count| discourse.has_told(*count));
    let plain = |token: &Token| {
        let joins = token.is_any(&[Concept::And, Concept::Half, Concept::So, Concept::Then]);
        token.mark.is_some() || token.number.is_some() || action_of(token).is_some() || joins
    };
    // "brrum", "nothing": a word for each count may be anything.
    let others = tokens.iter().filter(|token| !plain(token)).count();
    told && others * 2 < counts.len()
}

/// "And the second half. 7, down": the row begins with its first count.
fn behind_its_title(tokens: &[Token]) -> &[Token] {
    const SHORT: usize = 6;
    let first = tokens.iter().position(|token| token.number.is_some()).unwrap_or(0);
    let stops = |token: &Token| token.is_mark('.') || token.is_mark(':');
    let title = tokens.get(first.wrapping_sub(1)).is_some_and(stops) && first <= SHORT;
    tokens.get(if title { first } else { 0 }..).unwrap_or(tokens)
}

fn action_of(token: &Token) -> Option<Action> {
    [
        (Concept::Down, Action::Down),
        (Concept::Up, Action::Up),
        (Concept::Golpe, Action::Golpe),
        (Concept::Tap, Action::Golpe),
        (Concept::Rasgueado, Action::Rasgueado),
        (Concept::Damp, Action::Damp),
    ]
    .into_iter()
    .find(|(concept, _)| token.is(*concept))
    .map(|(_, action)| action)
}

/// A stroke said, or only its finger.
type Recited = (Option<Position>, Option<Action>);

/// Strokes in order, with their moments where they are counted. "Thumb" by itself is a stroke of its own, whatever it does.
fn row(tokens: &[Token], aliases: &[OwnSign]) -> Vec<Recited> {
    let mut row: Vec<Recited> = Vec::new();
    let mut at: Option<Position> = None;
    for (index, token) in tokens.iter().enumerate() {
        let thumb = token.is(Concept::FingerP)
            && tokens
                .get(index + 1)
                .is_none_or(|next| action_of(next).is_none() || !strums_down(next));
        if let Some(count) = token.number.filter(|count| (1..=24).contains(count)) {
            at = Some(Position::count(count));
        } else if token.is_any(&[Concept::And, Concept::Half]) {
            at = at.map(|at| Position::count(at.whole()).plus(Ratio::new(1, 2)));
        } else if let Some(action) = defined(token, aliases).or_else(|| action_of(token)) {
            row.push((at, Some(action)));
        } else if thumb && at.is_none() {
            row.push((at, None));
        }
    }
    row
}

/// "pulgar abajo" is one stroke; behind "pulgar arriba" come two, the thumb's and the one that goes up.
fn strums_down(token: &Token) -> bool {
    action_of(token) == Some(Action::Down)
}

/// A word that the note has given a meaning of its own.
fn defined(token: &Token, aliases: &[OwnSign]) -> Option<Action> {
    let same = |sign: &&OwnSign| matches!(sign.words.as_slice(), [word] if *word == token.word.as_str());
    aliases.iter().rev().find(same).and_then(|sign| sign.action)
}

/// Nothing but strokes and marks: "tac, up, down, up".
fn only_a_row(tokens: &[Token], own: &[String]) -> bool {
    let plain = |token: &Token| {
        token
            .mark
            .is_some_and(|mark| matches!(mark, ',' | '.' | '!' | '-' | '…'))
            || action_of(token).is_some()
            || token.is_any(&[Concept::And, Concept::So, Concept::Then])
            || sounds(token, own)
    };
    if !tokens.iter().all(plain) {
        return false;
    }
    let strokes = tokens.iter().filter(|token| action_of(token).is_some()).count();
    let least = if tokens.iter().any(|token| sounds(token, own)) {
        LEAST - 1
    } else {
        LEAST
    };
    strokes > least
}

/// "pam", "tac": how a stroke sounds.
fn sounds(token: &Token, own: &[String]) -> bool {
    among(&sayings().words.sounds, &token.word) || own.iter().any(|word| *word == *token.word)
}

/// A row without counts stands for the count told last, or for the whole pattern, when there are as many moments as strokes.
fn align(discourse: &Discourse, row: &mut [Recited]) {
    let Some(pattern) = discourse.current.and_then(|index| discourse.patterns.get(index)) else {
        return;
    };
    let moments = |count: Option<i64>| {
        let strokes = pattern.strokes.iter().map(|placed| placed.stroke.at);
        let mut moments: Vec<Position> = strokes
            .filter(|at| count.is_none_or(|count| at.whole() == count))
            .collect();
        moments.sort_unstable();
        moments.dedup();
        moments
    };
    let fitting = [discourse.cursor, None]
        .into_iter()
        .map(moments)
        .find(|moments| moments.len() == row.len());
    for ((at, _), moment) in row.iter_mut().zip(fitting.unwrap_or_default()) {
        *at = Some(moment);
    }
}
