//! Sentences that name strings, chords or fingers, and in which nothing is played.

use super::context::Context;
use super::lexicon::Concept;
use super::moments::token;
use super::pitch_words::pitch_at;
use super::says::Says;
use super::statement::{Located, Statement, Told};
use super::tokens::{Token, Tokens};
use crate::music::chord::ChordName;

/// "El pulgar toca la quinta al aire": a stroke, though strings of a chord were being told.
pub fn plays_a_string(tokens: &Tokens) -> bool {
    let fingers = [Concept::FingerP, Concept::FingerI, Concept::FingerM, Concept::FingerA];
    let says = |concepts: &[Concept]| tokens.says.means_any(concepts);
    let plays = says(&[Concept::Play, Concept::Pluck]) || begins_with_a_count(tokens);
    (plays && says(&fingers) || says(&[Concept::FingerP])) && !says(&[Concept::Negation])
}

/// So many strings are named that they are those of a chord.
pub fn holds_a_shape(tokens: &[Token]) -> bool {
    let strings = tokens.iter().filter(|token| token.ordinal.is_some_and(|nth| nth <= 6));
    strings.count() >= 3 && tokens.iter().any(|token| token.is(Concept::Open))
}

/// "On one ...", "En el uno ...".
fn begins_with_a_count(tokens: &[Token]) -> bool {
    let led = tokens.first().is_some_and(|token| token.is(Concept::On));
    let at = 1 + usize::from(token(tokens, 1).is(Concept::Article));
    led && token(tokens, at).number.is_some()
        && !token(tokens, at + 1).is_any(&[Concept::StringWord, Concept::FretWord])
}

/// "C, B and A", "C B": names one behind the other, with nothing but commas between them.
pub fn lists_names(tokens: &[Token], context: &Context) -> bool {
    let name = |at: usize| pitch_at(tokens, at, context.language, context.typed);
    (0..tokens.len()).any(|at| {
        let behind = name(at).map(|pitch| at + pitch.length);
        behind.is_some_and(|behind| {
            let parted = tokens
                .get(behind)
                .is_some_and(|token| token.is_mark(',') || token.is(Concept::And));
            name(behind + usize::from(parted)).is_some()
        })
    })
}

/// "A minor, G, F, E": names said over, unless each has its count in front: "7 is A minor, 8 is G, 9 is F".
pub fn names_in_a_row(tokens: &[Token], told: &[Told], context: &Context) -> bool {
    let is_name = |at: &usize| pitch_at(tokens, *at, context.language, context.typed).is_some();
    let names = (0..tokens.len()).filter(is_name).count();
    if names < 3 {
        return false;
    }
    let counts = told.iter().filter(|told| told.when.is_some()).count();
    let leads = [Concept::And, Concept::So, Concept::Then, Concept::On, Concept::Article];
    let lead = tokens.iter().take_while(|token| token.is_any(&leads)).count();
    let counted = tokens.get(lead).is_some_and(|token| token.number.is_some());
    let each_counted = counted && names <= counts && !told.iter().any(|told| told.corrects);
    !each_counted
}

/// "Left hand: 1 goes from s2 to s1, 2 from s4 to s3": fingers that move, and nothing that sounds.
pub fn moves_the_left_hand(tokens: &[Token]) -> bool {
    let sounds = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::Pluck,
        Concept::Play,
        Concept::RightHand,
        Concept::FretWord,
    ];
    let hand = |token: &Token| token.is(Concept::LeftHand) || token.raw == "MI";
    let headed = matches!(tokens, [first, colon, ..] if colon.is_mark(':') && hand(first));
    let leads = tokens.iter().take(2).any(hand);
    let moves = |pair: &[Token]| matches!(pair, [from, place] if matches!(from.word.as_str(), "from" | "de") && matches!(place.word.as_str(), "s" | "c"));
    // "MI: 1 en el tr2 y 3 en el tr4": under the hand's own heading a fret is where a finger stands.
    let plays = |token: &Token| token.is_any(&sounds) && !(headed && token.is(Concept::FretWord));
    if !headed && !leads {
        return false;
    }
    (headed || tokens.windows(2).any(moves)) && !tokens.iter().any(plays)
}

/// `order for Saturday: core 4, A, core 2, B, core, C`: what follows what, and nothing that is played.
pub fn orders_a_mix(tokens: &Tokens) -> bool {
    if !tokens.says.any_of(Says::NOTHING.mark(',')) || !tokens.says.means_any(&[Concept::Core, Concept::With]) {
        return false;
    }
    let sounds = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::StringWord,
    ];
    let plain = tokens.iter().filter(|token| token.is(Concept::Core)).count();
    let listed = tokens.iter().filter(|token| token.is_mark(',')).count();
    // "tres vueltas sencillas, una con el bajo, tres sencillas, una con el rran"
    let one_with = tokens.windows(2).any(|pair| match pair {
        [one, with] => matches!(one.word.as_str(), "one" | "una" | "uno") && with.is(Concept::With),
        _ => false,
    });
    let simple = |token: &Token| {
        matches!(
            token.word.as_str(),
            "plain" | "sencillas" | "sencilla" | "normales" | "limpias"
        )
    };
    if one_with && listed >= 1 && tokens.iter().any(simple) {
        return true;
    }
    plain >= 2 && listed >= 3 && !tokens.says.means_any(&sounds)
}

/// `2: Bb x13331, rasgueado e a m i`: the count, its chord, and where the chord and its shape stand, in a line that goes on
/// with what is played.
pub fn shape_in_a_count_line(tokens: &[Token], heard: &[Located]) -> Option<(i64, ChordName, (usize, usize))> {
    let count = tokens.first()?.number.filter(|count| (1..=24).contains(count))?;
    tokens.get(1).filter(|colon| colon.is_mark(':'))?;
    heard.iter().find_map(|located| match &located.statement {
        Statement::WholeShape { chord, .. } => Some((count, chord.clone(), (located.start, located.end))),
        _ => None,
    })
}
