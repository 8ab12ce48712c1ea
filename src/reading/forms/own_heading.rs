use super::super::lexicon::{Concept, Language};
use super::super::moments::token;
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use super::chord_span::range;
use super::pattern_begins::role_at;
use crate::music::pattern::Role;

/// A bracket and a count in it.
pub const NEEDS: [Needs; 2] = [
    Needs::Here(Says::NOTHING.mark('(')),
    Needs::Here(Says::NOTHING.kind(&[Kind::Number, Kind::Ordinal])),
];

/// A title has at most so many words.
const LONGEST: usize = 5;

/// `ABANICO (tiempos 3 y 4)`, `Soft arpeggio (only beats 1 and 2)`: a line that is nothing but a title and the counts it
/// is for begins a variation, whatever the teacher calls it.
pub fn read(asked: &Asked) -> Vec<Located> {
    let Some(heading) = heading(asked) else {
        return Vec::new();
    };
    let tokens = asked.tokens;
    let base = match asked.context.language {
        Language::English => "variation",
        Language::Spanish => "variación",
    };
    let title: Vec<String> = tokens
        .iter()
        .take(heading.bracket)
        .map(|word| word.raw.to_lowercase())
        .collect();
    let located = |statement| Located {
        statement,
        start: token(tokens, 0).start,
        end: tokens.last().map_or(0, |last| last.end),
    };
    vec![
        located(Statement::Begin {
            role: Role::Variation,
            name: format!("{base}: {}", title.join(" ")),
            number: None,
        }),
        located(Statement::Replaces {
            first: heading.first,
            last: heading.last,
        }),
    ]
}

struct Heading {
    /// Where the bracket opens.
    bracket: usize,
    first: i64,
    last: i64,
}

fn heading(asked: &Asked) -> Option<Heading> {
    let tokens = asked.tokens;
    let bracket = tokens.iter().position(|token| token.is_mark('('))?;
    let alone = asked.context.typed && asked.opens_line && asked.in_pattern;
    if !alone || !(1..=LONGEST).contains(&bracket) || !is_title(tokens.get(..bracket)?) {
        return None;
    }
    if (0..bracket).any(|at| role_at(tokens, at).is_some()) {
        return None;
    }
    let lead = |token: &Token| {
        token.is_any(&[Concept::BeatWord, Concept::Article, Concept::Alone, Concept::On])
            || matches!(token.word.as_str(), "only" | "just" | "solo" | "los" | "for" | "para")
    };
    let at = (bracket + 1..tokens.len()).find(|at| !lead(token(tokens, *at)))?;
    let (first, last, end) = range(asked, at)?;
    let told_of = at > bracket + 1;
    let closes = token(tokens, end).is_mark(')') && tokens.iter().skip(end + 1).all(|token| token.mark.is_some());
    let within = first >= 1 && last <= asked.context.last_count();
    (closes && within && (told_of || first < last)).then_some(Heading { bracket, first, last })
}

/// Words that are no stroke by themselves, the first of them with a capital.
fn is_title(words: &[Token]) -> bool {
    const STROKES: [Concept; 5] = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Silence,
        Concept::Tap,
    ];
    let capital = words
        .first()
        .is_some_and(|word| word.raw.starts_with(char::is_uppercase));
    let plain = |word: &Token| word.mark.is_none() && word.number.is_none() && word.raw.chars().count() > 1;
    capital && words.iter().all(plain) && !words.iter().all(|word| word.is_any(&STROKES))
}
