//! The half of a count, called the and: "the and of 3", `4&`, "el y del 4".

use super::clauses::named_finger;
use super::lexicon::{Concept, Language};
use super::moments::{Part, When, before, counted, token};
use super::says::Kind;
use super::solfa::{bare_name, place_stands_at, stands_on_it};
use super::tokens::Token;

/// "the and of 3", "upbeat of 3", "& of 5", "el y del 4", "la mitad del 2"; without a count: "on the and", "on the half".
pub fn and_of(tokens: &[Token], index: usize, language: Language, typed: bool) -> Option<(When, usize)> {
    let here = token(tokens, index);
    let previous = before(tokens, index);
    let written = here.is_mark('&');
    let word_and = here.is(Concept::And) && (here.word == "and" || here.word == "y");
    let next = token(tokens, index + 1);
    // "la segunda mitad del 3", "en su segunda mitad"
    let second = here.is(Concept::SecondHalf);
    if !(here.is(Concept::Half) || word_and || second) {
        return None;
    }
    let linked = matches!(next.word.as_str(), "of" | "de" | "del")
        || (here.is(Concept::Half) && matches!(next.word.as_str(), "after" | "behind"));
    // "y del 5 al 8", "y del 2 en adelante": from one count on, no half.
    let spans = |end: usize| {
        word_and
            && language == Language::Spanish
            && (matches!(token(tokens, end).word.as_str(), "al" | "hasta" | "a")
                || token(tokens, end).word == "en" && token(tokens, end + 1).word == "adelante")
    };
    if linked && let Some((count, end)) = counted(tokens, index + 1).filter(|(_, end)| !spans(*end)) {
        return Some((
            When {
                count: Some(count),
                part: Part::And,
            },
            end,
        ));
    }
    let of_the_count = match second && previous.word == "su" {
        true => Some(index + 1),
        false if linked && !word_and => of_this_count(tokens, index + 1),
        false => None,
    };
    if let Some(end) = of_the_count {
        let part = Part::And;
        return Some((When { count: None, part }, end));
    }
    if word_and && language == Language::Spanish && typed && half_of_a_line(tokens, index) {
        return Some((
            When {
                count: None,
                part: Part::And,
            },
            index + 1,
        ));
    }
    let introduced = match language {
        Language::English => matches!(previous.word.as_str(), "the" | "its" | "that" | "an"),
        Language::Spanish => {
            matches!(previous.word.as_str(), "el" | "su" | "ese")
                || previous.word == "la" && !stands_on_it(tokens, index - 1)
        }
    };
    // "up on the and, and six is the same"
    let counted_on = token(tokens, index + 2).number.is_some();
    let closes = next.mark.is_some() || next.word.is_empty() || !next.is(Concept::And) || counted_on;
    let half_noun = here.is(Concept::Half) && !written && !matches!(next.word.as_str(), "of" | "de" | "a" | "the");
    if (word_and && introduced && closes) || (half_noun && (introduced || here.word.contains(' '))) || written {
        return Some((
            When {
                count: None,
                part: Part::And,
            },
            index + 1,
        ));
    }
    None
}

/// "the second half of the count", "la mitad de ese tiempo": of the count that the talk is at; the index behind it.
fn of_this_count(tokens: &[Token], of: usize) -> Option<usize> {
    let points = |at: usize| {
        let here = token(tokens, at);
        here.is(Concept::Article)
            || matches!(
                here.word.as_str(),
                "that" | "this" | "same" | "el" | "ese" | "este" | "mismo"
            )
    };
    let del = usize::from(token(tokens, of).word == "del");
    let noun = (of + 1..of + 4).find(|at| !points(*at))?;
    (noun > of + 1 - del && token(tokens, noun).is(Concept::BeatWord)).then_some(noun + 1)
}

/// In typed Spanish "y" behind a comma or before a colon, with a stroke behind it, is the half of the count: `2: i ab, y i arr`.
fn half_of_a_line(tokens: &[Token], index: usize) -> bool {
    let previous = before(tokens, index);
    let next = token(tokens, index + 1);
    let behind = previous.mark.is_some_and(|mark| matches!(mark, ',' | ';' | '.')) || index == 0;
    let struck = next.is_any(&[
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Slur,
        Concept::PullOff,
        Concept::HammerOn,
        Concept::SameString,
        Concept::StringWord,
        Concept::Damp,
    ]) || named_finger(next).is_some()
        || matches!(next.word.as_str(), "p" | "i" | "m" | "a" | "x" | "s")
        || next.is_mark(':')
        || next.number.is_some() && token(tokens, index + 2).is_mark('ª')
        || bare_name(next).is_some() && place_stands_at(tokens, index + 2);
    behind && struck && !has_its_own_count(tokens, index + 1)
}

/// "y golpe de anular en el dos": the count behind the stroke, in front of the next mark.
fn has_its_own_count(tokens: &[Token], index: usize) -> bool {
    let rest = tokens.get(index..).unwrap_or_default();
    let clause = rest
        .iter()
        .take_while(|token| token.mark.is_none() || token.is_mark('ª'));
    let words: Vec<&Token> = clause.collect();
    words.windows(3).any(|words| {
        let [on, article, count] = words else { return false };
        on.is(Concept::On)
            && matches!(article.word.as_str(), "el" | "la")
            && (count.number.is_some() || count.is(Concept::Half))
    })
}

/// Words that a sentence may begin with in front of its count.
const LEADS: [Concept; 2] = [Concept::And, Concept::Then];

/// `1y`, `4&`, `3+`, "2 and" in front of a stroke or a colon.
pub fn count_and(tokens: &[Token], index: usize, language: Language) -> Option<(When, usize)> {
    let here = token(tokens, index);
    let count = here.number.filter(|number| (1..=24).contains(number))?;
    let next = token(tokens, index + 1);
    let after = token(tokens, index + 2);
    let when = When {
        count: Some(count),
        part: Part::And,
    };
    let sign = next.is_mark('&') || next.is_mark('+') || next.is(Concept::And) && next.word != "e";
    if !sign {
        return None;
    }
    if next.joined && after.number.is_none() && !(next.is_mark('&') && after.is(Concept::And)) {
        return Some((when, index + 2));
    }
    if after.is_mark(':') || after.is_mark('=') {
        return Some((when, index + 2));
    }
    if next.is_mark('+') {
        return None;
    }
    let introduced = match language {
        Language::English => matches!(before(tokens, index).word.as_str(), "on" | "the" | "and" | "at"),
        Language::Spanish => matches!(before(tokens, index).word.as_str(), "en" | "el" | "al"),
    };
    // "7 and is B, same string", "8 and, F sharp, fourth string"
    let opens = index == 0 || index == 1 && before(tokens, 1).is_any(&LEADS);
    let told_of = after.is(Concept::Is) || after.is_mark(',') && token(tokens, index + 3).has(Kind::Name);
    if opens && told_of && !next.is_mark('&') {
        return Some((when, index + 2));
    }
    let closes = after.mark.is_some() || after.word.is_empty();
    // "index down and index up, a pair of quavers, 2 &.", "índice abajo, índice arriba, 5 y."
    let last = token(tokens, index + 3).word.is_empty() && token(tokens, index + 3).mark.is_none();
    let apart = before(tokens, index).is_mark(',') && after.is_mark(',');
    let behind = closes && (last || apart) && tokens.iter().take(index).any(|token| token.is(Concept::Up));
    let said_once = tokens
        .iter()
        .take(index)
        .filter(|token| token.number.is_some())
        .all(|token| token.number == Some(count));
    if behind && said_once {
        return Some((when, index + 2));
    }
    // "índice abajo y arriba cinco y seguimos en fa"
    let up = here.spelled && before(tokens, index).is(Concept::Up);
    if up && !next.is_mark('&') && (closes || after.is_any(&[Concept::Keep, Concept::And])) {
        return Some((when, index + 2));
    }
    (introduced && closes && !next.is_mark('&') && before(tokens, index).word != "and").then_some((when, index + 2))
}
