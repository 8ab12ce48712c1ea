use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::says::{Needs, Says};
use super::super::statement::{Located, Statement};
use super::Asked;
use super::palo::palo_named;

pub const NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.meaning(&[Concept::LessonWord]))];

/// "look at the lesson farruca-prologue", "as in the alegrías lesson", "lo de la rumba en sol lo vemos otro día".
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let announced = tokens.iter().any(|token| token.is(Concept::Later));
    let Some(word) = tokens
        .iter()
        .position(|token| matches!(token.word.as_str(), "lesson" | "leccion" | "clase"))
    else {
        return Vec::new();
    };
    if let Some((start, end, words)) = slug_near(asked, word) {
        return vec![Located {
            statement: Statement::Reference {
                target: words.clone(),
                words,
                announced,
            },
            start,
            end,
        }];
    }
    let nearby = tokens
        .get(word.saturating_sub(4)..(word + 5).min(tokens.len()))
        .unwrap_or(&[]);
    let looks_elsewhere = tokens.iter().any(|token| {
        matches!(
            token.word.as_str(),
            "see"
                | "look"
                | "from"
                | "as in"
                | "como en"
                | "mira"
                | "in"
                | "en"
                | "remember"
                | "recordad"
                | "igual que"
        )
    });
    match palo_named(nearby, &asked.context.own_palos) {
        Some((slug, at, length)) if looks_elsewhere => vec![Located {
            statement: Statement::Reference {
                target: slug,
                words: nearby
                    .get(at..at + length)
                    .unwrap_or(&[])
                    .iter()
                    .map(|token| token.raw.as_str())
                    .collect::<Vec<_>>()
                    .join(" "),
                announced,
            },
            start: token(nearby, at).start,
            end: token(nearby, at + length - 1).end,
        }],
        _ => Vec::new(),
    }
}

/// A word with hyphens near "lesson": the stem of a note.
fn slug_near(asked: &Asked, word: usize) -> Option<(usize, usize, String)> {
    let text = asked.text;
    let center = token(asked.tokens, word).start;
    let mut best: Option<(usize, usize, usize, String)> = None;
    let mut offset = 0;
    for part in text.split(|c: char| c.is_whitespace() || matches!(c, ',' | '(' | ')' | '"' | ':' | ';')) {
        let start = offset;
        offset += part.len() + 1;
        let slug = part.trim_matches(['.', '!', '?', '\'', '`', '"']);
        let hyphenated = slug.contains('-')
            && slug
                .split('-')
                .all(|piece| piece.chars().count() >= 2 && piece.chars().all(char::is_alphanumeric))
            && slug.chars().any(char::is_alphabetic);
        let distance = start.abs_diff(center);
        if hyphenated && distance < 60 && best.as_ref().is_none_or(|(known, ..)| distance < *known) {
            best = Some((distance, start, start + part.len(), slug.to_lowercase()));
        }
    }
    best.map(|(_, start, end, slug)| (start, end, slug))
}
