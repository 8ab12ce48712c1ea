//! A teacher's word for several strokes at once: "middle down and index up, I call that chaca", "ticka is down up with the
//! index". Where the word is said of a count, its strokes are played there.

use num_rational::Ratio;

use super::clauses::clauses;
use super::context::Context;
use super::discourse::Discourse;
use super::moments::{Part, When, token};
use super::own_sounds::may_be_a_sound;
use super::statement::Told;
use super::tokens::Token;

/// The word, and its strokes with their part of the count.
#[derive(Debug, Clone, PartialEq)]
pub struct Gesture {
    pub word: String,
    pub strokes: Vec<Told>,
}

/// What a sentence names so: by the strokes in front of the name, behind it, or in the sentence before.
fn named(tokens: &[Token], previous: &[Token], context: &Context) -> Option<Gesture> {
    if context.typed || tokens.iter().any(|token| token.number.is_some_and(|number| number > 1)) {
        return None;
    }
    let called = called(tokens);
    let (word, strokes) = match called {
        Some((from, name)) => {
            let here = loose(tokens.get(..from)?, context);
            let strokes = if here.is_empty() {
                loose(previous, context)
            } else {
                here
            };
            (name, strokes)
        }
        None => explained(tokens, context)?,
    };
    let moments = i64::try_from(strokes.len()).ok()?;
    // One stroke alone is a sign like any other; a golpe with it makes two sounds.
    let whole = (1..=4).contains(&moments) && (moments > 1 || called.is_some());
    let strokes = (0..).zip(strokes).map(|(nth, told)| at_part(told, nth, moments));
    let word = token(tokens, word).word.to_string();
    whole.then(|| Gesture {
        word,
        strokes: strokes.collect(),
    })
}

/// "I call that chaca", "que le llamo chaca": where the naming begins, and the name.
fn called(tokens: &[Token]) -> Option<(usize, usize)> {
    let verb = (0..tokens.len()).find(|at| {
        matches!(
            token(tokens, *at).word.as_str(),
            "llamo" | "llamamos" | "call" | "i call" | "we call"
        )
    })?;
    let mut name = verb + 1;
    while matches!(
        token(tokens, name).word.as_str(),
        "it" | "that" | "this" | "them" | "a" | "the" | "un" | "una" | "el"
    ) {
        name += 1;
    }
    let known = may_be_a_sound(token(tokens, name));
    let closes = token(tokens, name + 1).mark.is_some() || token(tokens, name + 1).word.is_empty();
    (known && closes).then_some((verb, name))
}

/// "Ticka is down up with the index": the name, and the strokes behind it.
fn explained(tokens: &[Token], context: &Context) -> Option<(usize, Vec<Told>)> {
    let links = usize::from(token(tokens, 0).is(super::lexicon::Concept::And));
    let article = usize::from(matches!(
        token(tokens, links).word.as_str(),
        "el" | "la" | "un" | "the" | "a"
    ));
    let name = links + article;
    let says = matches!(
        token(tokens, name + 1).word.as_str(),
        "is" | "es" | "means" | "significa"
    );
    if !says || !may_be_a_sound(token(tokens, name)) {
        return None;
    }
    let strokes = loose(tokens.get(name + 2..)?, context);
    (strokes.len() >= 2).then_some((name, strokes))
}

/// Strokes told without a moment; a golpe told over again gives its finger to the golpe in front.
fn loose(tokens: &[Token], context: &Context) -> Vec<Told> {
    let mut strokes: Vec<Told> = Vec::new();
    for told in clauses(tokens, context)
        .into_iter()
        .filter(|told| told.sounds() && !told.negated)
    {
        if told.when.is_some() || told.span.is_some() {
            return Vec::new();
        }
        match strokes.last_mut() {
            Some(last) if last.golpe && told.golpe && told.actions.is_empty() => {
                last.golpe_fingers.extend(told.golpe_fingers);
            }
            _ => strokes.push(told),
        }
    }
    strokes
}

/// Strokes of one gesture share their count evenly.
fn at_part(told: Told, nth: i64, moments: i64) -> Told {
    let part = match (nth, moments) {
        (0, _) => Part::Whole,
        (1, 2) => Part::And,
        _ => Part::Exactly(Ratio::new(nth, moments.max(1))),
    };
    Told {
        when: Some(When { count: None, part }),
        recap: false,
        with: false,
        ..told
    }
}

impl Discourse {
    /// From here on a word that is named so stands for its strokes; what the sentence before told was what it stands for, and
    /// is not played.
    pub fn names_a_gesture(&mut self, tokens: &[Token], previous: &[Token]) -> bool {
        let Some(gesture) = named(tokens, previous, &self.context) else {
            return false;
        };
        let sentence = self.sentence;
        self.taken += 1;
        self.context_mut().gestures.push(gesture);
        if let Some(building) = self.building() {
            building.strokes.retain(|placed| placed.since + 1 < sentence);
        }
        true
    }
}
