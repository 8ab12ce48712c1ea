//! The short thoughts that one sentence may hold.

use super::clauses::RIGHT_FINGER;
use super::discourse::Discourse;
use super::lexicon::Concept;
use super::statement::Statement;
use super::tokens::Token;

/// What the lesson is: a thought that says so tells no strokes.
pub fn settles(statement: &Statement) -> bool {
    matches!(
        statement,
        Statement::Accents(_)
            | Statement::Tempo(_)
            | Statement::Beats(_)
            | Statement::Repeats(_)
            | Statement::Lengths(_)
            | Statement::Parts(_)
            | Statement::First(_)
            | Statement::Capo(_)
    )
}

/// Short thoughts stand together in a sentence, parted by stops, or by "and" where there are none: the one that some bytes
/// of it belong to.
pub fn thought_around(tokens: &[Token], (start, end): (usize, usize), punctuated: bool) -> (usize, usize) {
    let links = [Concept::And, Concept::Then, Concept::So];
    let stop = |token: &&Token| token.is_mark('.') || !punctuated && token.is_any(&links);
    let from = tokens.iter().filter(|token| token.end <= start).rfind(stop);
    let to = tokens.iter().filter(|token| token.start >= end).find(stop);
    // "rumba four counts on one the thumb goes down": the first count that is told begins another thought.
    let played = |token: &Token| token.says().any_of(RIGHT_FINGER) || token.is_any(&[Concept::Down, Concept::Up]);
    let told = tokens.windows(4).find_map(|words| match words {
        [on, count, behind @ ..] if on.start >= end && on.is(Concept::On) && count.number.is_some() => {
            (!punctuated && behind.iter().any(played)).then_some(on.start)
        }
        _ => None,
    });
    let to = to.map(|token| token.end).into_iter().chain(told).min();
    (from.map_or(0, |token| token.end), to.unwrap_or(usize::MAX))
}

pub fn within(token: &Token, (start, end): (usize, usize)) -> bool {
    token.start >= start && token.end <= end
}

/// "I count it in 8. No, sorry, in 8 is how I used to.": how long the compás was said to be.
pub fn takes_back_a_length(tokens: &[Token], discourse: &Discourse) -> bool {
    let opens = matches!(tokens, [no, mark, ..] if no.word == "no" && mark.mark.is_some());
    let said = discourse.beats();
    opens && said.is_some() && tokens.iter().any(|token| token.number == said)
}
