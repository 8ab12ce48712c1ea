//! Words of sound that a teacher explains once and then plays by: "dum is the thumb going down, and ka is the index coming
//! up", "el chas es la palma, que apaga las cuerdas".

use std::ops::Range;

use super::clauses::NAMED_FINGER;
use super::discourse::Discourse;
use super::lexicon::{Concept, Lexicon};
use super::listed::all_of;
use super::moments::{before, token};
use super::sayings::{among, sayings};
use super::says::{Kind, Says};
use super::tokens::{Token, Tokens};

/// What such a word may stand for, in the order asked: "the golpe, ring finger down" is a golpe.
const STROKES: [Concept; 7] = [
    Concept::Golpe,
    Concept::Rasgueado,
    Concept::Damp,
    Concept::Alzapua,
    Concept::Pluck,
    Concept::Down,
    Concept::Up,
];

/// One explanation is a remark; a teacher who plays by sounds explains a few.
const FEWEST: usize = 2;

/// Letters of the longest word of sound.
const LONGEST: usize = 7;

/// A word and what it is said to be, by their tokens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explained {
    pub name: usize,
    pub meaning: Range<usize>,
}

/// The words that a spoken note explains by strokes and then uses, each with the stroke; none where it explains one alone.
pub fn own_sounds(note: &[Tokens]) -> Vec<(String, Concept)> {
    let mut found: Vec<(String, Concept)> = Vec::new();
    for tokens in note.iter().filter(|tokens| tokens.says.any_of(EQUATES)) {
        for Explained { name, meaning } in explained(tokens, may_be_a_sound) {
            // Down and up are no sign of one stroke.
            let strums = tokens.get(meaning.clone()).unwrap_or(&[]);
            let says = |stroke: Concept| strums.iter().any(|token| token.is(stroke));
            if says(Concept::Down) && says(Concept::Up) {
                continue;
            }
            let word = token(tokens, name).word.to_string();
            let stroke = tokens.get(meaning).and_then(stroke_in);
            if let Some(stroke) = stroke.filter(|_| !found.iter().any(|(known, _)| *known == word)) {
                found.push((word, stroke));
            }
        }
    }
    found.retain(|(word, _)| {
        let said = |tokens: &Tokens| tokens.iter().filter(|token| token.word == *word).count();
        note.iter().map(said).sum::<usize>() >= 2
    });
    if found.len() < FEWEST { Vec::new() } else { found }
}

/// Adds them to what the words of a note may stand for.
pub fn learn(sounds: &[(String, Concept)], lexicon: &mut Lexicon) {
    for (word, stroke) in sounds {
        if !lexicon.concepts(word).contains(stroke) {
            lexicon.add(word, *stroke);
        }
    }
}

/// Each "X is ..." of a sentence whose X may be a word of sound; a meaning ends where the next begins.
pub fn explained(tokens: &[Token], may_be: impl Fn(&Token) -> bool) -> Vec<Explained> {
    let names: Vec<usize> = (0..tokens.len())
        .filter(|at| stands_before_is(tokens, *at) && may_be(token(tokens, *at)))
        .collect();
    let mut out = Vec::new();
    for (order, name) in names.iter().enumerate() {
        let end = names.get(order + 1).copied().unwrap_or(tokens.len());
        let meaning = name + 2..end;
        let words = tokens.get(meaning.clone()).unwrap_or(&[]);
        let counted = words.iter().any(|token| token.number.is_some_and(|number| number > 1));
        let told = words.iter().any(|token| token.says().any_of(NAMED_FINGER))
            || stroke_in(words).is_some_and(is_of_the_trade);
        let sound = among(&sayings().words.sounds, &token(tokens, *name).word);
        if !counted && (told || sound) && stroke_in(words).is_some() {
            out.push(Explained { name: *name, meaning });
        }
    }
    out
}

fn is_of_the_trade(stroke: Concept) -> bool {
    !matches!(stroke, Concept::Down | Concept::Up)
}

/// The stroke that a meaning names.
pub fn stroke_in(meaning: &[Token]) -> Option<Concept> {
    STROKES
        .into_iter()
        .find(|stroke| meaning.iter().any(|token| token.is(*stroke)))
}

/// A short word that means nothing else, or the sound of a golpe.
pub fn may_be_a_sound(word: &Token) -> bool {
    let plain = word.mark.is_none() && word.number.is_none() && word.ordinal.is_none();
    let sized = (2..=LONGEST).contains(&word.word.chars().count()) && word.word.chars().all(char::is_alphabetic);
    let sound = among(&sayings().words.sounds, &word.word) || word.is(Concept::Golpe);
    plain && sized && (word.concepts.is_empty() || sound) && !among(&sayings().words.no_sounds, &word.word)
}

/// Words between a name and what it is.
const SAYS: [&str; 6] = ["is", "es", "means", "significa", "quiere decir", "="];

/// What says that one thing is another.
const EQUATES: Says = Says::NOTHING.kind(&[Kind::Equates]).mark('=');

/// The words that are looked for here; the lexicon knows marks by themselves.
pub fn words_of_sounds() -> impl Iterator<Item = (&'static str, Kind)> {
    all_of(Kind::Equates, SAYS.into_iter().filter(|says| *says != "="))
}

/// "X is", "X means", where X begins what is said.
fn stands_before_is(tokens: &[Token], at: usize) -> bool {
    if !SAYS.contains(&token(tokens, at + 1).word.as_str()) {
        return false;
    }
    let lead = before(tokens, at);
    // "dum tok is both at once": a word in front of it belongs to the name.
    lead.mark.is_some()
        || lead.word.is_empty()
        || lead.is_any(&[Concept::And, Concept::Article, Concept::So, Concept::Then])
        || matches!(
            lead.word.as_str(),
            "el" | "un" | "the" | "a" | "my" | "mi" | "but" | "pero"
        )
}

impl Discourse {
    /// "Dum tok, chick ka, chick tok, and a breath": a row of sounds with no count, where the count the talk is at has been
    /// told, only says over what was told. "Dum tok is both at once" only says what the two are together.
    pub fn says_sounds_over(&mut self, tokens: &[Token]) -> bool {
        let (own, gestures) = (&self.context.own_sounds, &self.context.gestures);
        if own.is_empty() && gestures.is_empty() {
            return false;
        }
        let is_own = |token: &Token| {
            own.iter().any(|word| *word == *token.word) || gestures.iter().any(|gesture| gesture.word == *token.word)
        };
        let sounds = tokens.iter().filter(|token| is_own(token)).count();
        // "con el mi siete": a chord's number is no count.
        let counts = |at: usize| token(tokens, at).number.is_some() && !before(tokens, at).has(Kind::Name);
        let within = [Concept::Half, Concept::BeatWord, Concept::PartWord];
        let placed = (0..tokens.len()).any(|at| counts(at) || token(tokens, at).is_any(&within));
        let told = self.cursor.is_none_or(|count| self.has_told(count)) || !self.in_pattern();
        let two_at_once = tokens.windows(3).any(|three| match three {
            [one, other, says] => is_own(one) && is_own(other) && says.is(Concept::Is),
            _ => false,
        });
        // "Fa, mi, re, do, y pum": the notes and where they lead.
        let names = tokens.iter().filter(|token| token.has(Kind::Name)).count();
        let over =
            (sounds >= 2 || sounds == 1 && names >= 3 && told) && !placed && (told || sounds >= ROW || two_at_once);
        self.taken += usize::from(over);
        over
    }
}

/// So many sounds without a count are a row said over, wherever the talk is.
const ROW: usize = 4;
