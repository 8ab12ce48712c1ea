//! The moment of strokes in front of which none was told.

use super::clauses::{Places, align, may_fall, places};
use super::context::Context;
use super::lexicon::Concept;
use super::moments::{When, token};
use super::says::Kind;
use super::statement::Told;
use super::tokens::{Token, Tokens};

/// `V2, replaces 9: p s6 f3, & i s3`: what is told first, without its moment, is played on the first count replaced.
/// Strokes without moments over several counts could lie in more than one way: they stay open.
pub fn begin_where_it_replaces(told: &mut [Told], (first, last): (i64, i64)) {
    let within = |told: &Told| told.when.is_some_and(|when| when.count.is_none());
    let parted = told.get(1).is_some_and(within);
    // "you knock with a flick, ring middle index, down": too little is said of what comes behind.
    let hazy = |told: &Told| told.when.is_none() && told.sounds() && told.fingers.is_empty() && !told.has_note();
    if told.iter().skip(1).any(hazy) {
        return;
    }
    let Some(opening) = told.first_mut() else { return };
    let bare = opening.when.is_none() && opening.span.is_none() && !opening.negated && opening.same.is_none();
    let plays = opening.sounds() || opening.has_note() || opening.division.is_some();
    if bare && plays && (first == last || parted) {
        opening.when = Some(When::count(first));
    }
}

/// "Thumb on the fifth string, index on the third. That's 3.": the sentence behind says on which count it began.
pub fn named_behind(told: &mut [Told], next: &Tokens, context: &Context) {
    if told.len() >= 2
        && let Some(listed) = places_alone(next, context)
        && align(told, &listed).is_some()
    {
        return;
    }
    let lead = matches!(
        token(next, 0).word.as_str(),
        "that's" | "that" | "eso" | "ese" | "esto" | "this"
    );
    if !lead || !next.says.has(Kind::Number) {
        return;
    }
    let number = next.iter().position(|token| token.number.is_some());
    let Some(at) = number.filter(|at| (1..=4).contains(at)) else {
        return;
    };
    let plain = next.iter().enumerate().all(|(index, token)| {
        let small = token.is_any(&[Concept::Is, Concept::Article, Concept::BeatWord]) || token.mark.is_some();
        index == 0 || index == at || small || matches!(token.word.as_str(), "your" | "the" | "el" | "tu" | "s")
    });
    let bare = |told: &Told| told.when.is_none() && told.span.is_none() && !told.negated && told.same.is_none();
    let plays = told.iter().any(|told| told.sounds() || told.has_note());
    if !plain || !plays || !told.iter().all(bare) {
        return;
    }
    if let Some(first) = told.first_mut() {
        first.when = token(next, at).number.map(When::count);
    }
}

/// Whether a sentence says where the strokes of the one before fall, and nothing else.
pub fn places_follow(next: &Tokens, context: &Context) -> bool {
    places_alone(next, context).is_some_and(|listed| listed.moments.len() >= 2)
}

/// Where the strokes of the sentence before fall, where a sentence tells nothing else.
fn places_alone(next: &Tokens, context: &Context) -> Option<Places> {
    let listed = if may_fall(next.says) {
        places(next, context)
    } else {
        None
    };
    listed.filter(|listed| tells_places_alone(next, listed.end))
}

/// "All of that sits on two, its upbeat, and three.": nothing is played in it, and nothing told behind the list.
fn tells_places_alone(tokens: &[Token], end: usize) -> bool {
    let strokes = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::StringWord,
    ];
    let plays = tokens.iter().any(|token| token.is_any(&strokes));
    !plays && tokens.iter().skip(end).all(|token| token.mark.is_some())
}
