use super::super::clauses::right_fingers;
use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::sayings::{among, sayings};
use super::super::statement::Passage;
use super::super::tokens::Token;
use super::Asked;
use super::passage::STRUCK;
use crate::music::hand::Finger;

/// "every strum is index unless I write thumb": the finger of every strum that names none.
pub(super) fn every_strum(asked: &Asked) -> Option<Passage> {
    let tokens = asked.tokens;
    if let Some(finger) = does_everything(asked).or_else(|| strums_by_themselves(asked)) {
        return Some(Passage {
            fingers: vec![finger],
            strum: true,
            ..Passage::default()
        });
    }
    let all = tokens.iter().position(|token| token.is(Concept::All))?;
    let strum = (all + 1..all + 3).find(|at| {
        token(tokens, *at).is(Concept::Strum)
            || matches!(
                token(tokens, *at).word.as_str(),
                "stroke" | "strokes" | "rasgueo" | "rasgueos"
            )
    })?;
    let is = token(tokens, strum + 1).is_any(&[Concept::Is, Concept::With]) || token(tokens, strum + 1).is_mark(':');
    let (fingers, ..) = (strum + 2..strum + 5).find_map(|at| right_fingers(tokens, at, asked.context))?;
    (is && fingers.len() == 1).then(|| Passage {
        fingers,
        strum: true,
        ..Passage::default()
    })
}

/// `dn / up with nothing else = index`, "a down without a finger is the index", "abajo sin más es el índice".
fn strums_by_themselves(asked: &Asked) -> Option<Finger> {
    let tokens = asked.tokens;
    let bare = |token: &Token| among(&sayings().words.by_themselves, &token.word);
    let strums = asked.says_any(&[Concept::Down, Concept::Up, Concept::Strum]);
    if !strums || asked.has_number() {
        return None;
    }
    let is = tokens
        .iter()
        .rposition(|token| token.is_mark('=') || token.is(Concept::Is))?;
    let (told, meaning) = tokens.split_at(is);
    let named = (is + 1..tokens.len()).find_map(|at| right_fingers(tokens, at, asked.context))?;
    let lone = named.0.len() == 1 && meaning.len() <= 5 && !meaning.iter().any(|token| token.is_any(&STRUCK));
    (lone && told.iter().any(bare)).then(|| named.0.first().copied())?
}

/// "RH: i does everything unless I write p", "el índice lo hace todo".
fn does_everything(asked: &Asked) -> Option<Finger> {
    let tokens = asked.tokens;
    let everything = |token: &Token| matches!(token.word.as_str(), "everything" | "todo" | "all");
    if !tokens.iter().any(everything) {
        return None;
    }
    (0..tokens.len()).find_map(|at| {
        let finger = super::super::clauses::letter_finger(&token(tokens, at).word)
            .filter(|_| token(tokens, at).raw.len() == 1 && asked.context.typed)
            .or_else(|| super::super::clauses::named_finger(token(tokens, at)))?;
        let verb = (at + 1..at + 3)
            .find(|at| matches!(token(tokens, *at).word.as_str(), "does" | "plays" | "hace" | "toca"))?;
        everything(token(tokens, verb + 1)).then_some(finger)
    })
}

/// "golpe always with a", "every golpe is the ring finger", "the golpe is still a".
pub(super) fn golpe_always(asked: &Asked) -> Option<Passage> {
    let tokens = asked.tokens;
    if !asked.says_any(&[Concept::Golpe, Concept::Tap]) {
        return None;
    }
    let at = tokens
        .iter()
        .position(|token| token.is_any(&[Concept::Golpe, Concept::Tap]))?;
    let blanket = tokens.iter().any(|token| token.is(Concept::All))
        || tokens.iter().any(|token| {
            matches!(
                token.word.as_str(),
                "golpes" | "knocks" | "still" | "knock" | "everywhere" | "whenever" | "wherever" | "any" | "cualquier"
            )
        })
        || at == 0 && token(tokens, 1).is(Concept::Is);
    // Short thoughts stand together: "Tangos, cuatro tiempos. El golpe siempre con el anular."
    let stop = |token: &Token| token.is_mark('.');
    // "On 3 there's a golpe with it, and whenever I say golpe it's the ring finger": the golpe of the last of them.
    let whenever = |token: &Token| {
        matches!(
            token.word.as_str(),
            "whenever" | "wherever" | "siempre que" | "cada vez que"
        )
    };
    let rule = tokens.iter().position(whenever);
    let golpes = |token: &Token| token.is_any(&[Concept::Golpe, Concept::Tap]);
    let ruled = rule.and_then(|rule| tokens.iter().skip(rule).position(golpes).map(|golpe| rule + golpe));
    let at = ruled.unwrap_or(at);
    let from = rule.or_else(|| tokens.iter().take(at).rposition(stop)).unwrap_or(0);
    let to = tokens
        .iter()
        .skip(at)
        .position(stop)
        .map_or(tokens.len(), |end| at + end);
    let thought = tokens.get(from..to).unwrap_or(tokens);
    let pronoun = |token: &Token| token.spelled && token.number == Some(1);
    let counts = thought
        .iter()
        .any(|token| token.number.is_some_and(|n| n <= 13) && !pronoun(token));
    if !blanket || counts {
        return None;
    }
    let finger = (at + 1..tokens.len()).find_map(|index| {
        right_fingers(tokens, index, asked.context)
            .filter(|(found, ..)| found.len() == 1)
            .map(|(found, ..)| found)
            .or_else(|| {
                (token(tokens, index).raw == "a" && asked.context.typed && index + 1 >= tokens.len().saturating_sub(1))
                    .then(|| vec![Finger::A])
            })
    })?;
    Some(Passage {
        fingers: finger,
        golpe: true,
        ..Passage::default()
    })
}
