//! What tells nothing new: rows that say over what has been told, and lines that say what a word means.

use super::clauses::named_finger;
use super::lexicon::Concept;
use super::listed::all_of;
use super::sayings::{WordList, among, sayings};
use super::says::Kind;
use super::tokens::{Token, Tokens};

/// "Thumb, pinch, pinch, tap, wait, 9 and-a, 10": what has been told, said over as a row of a word or two each.
pub fn is_said_over(tokens: &[Token]) -> bool {
    let commas = tokens.iter().filter(|token| token.is_mark(',')).count();
    let words = tokens.iter().filter(|token| token.mark.is_none()).count();
    let strokes = [Concept::Down, Concept::Up, Concept::Golpe, Concept::Tap, Concept::Pluck];
    let struck = tokens.iter().filter(|token| token.is_any(&strokes)).count();
    let placed = [
        Concept::StringWord,
        Concept::FretWord,
        Concept::On,
        Concept::BeatWord,
        Concept::Is,
    ];
    commas >= 5
        && words <= commas * 2
        && struck >= 3
        && !tokens.iter().any(|token| token.is(Concept::Correction))
        && !tokens.iter().any(|token| token.is_any(&placed))
}

/// In a transcript without marks: "1 y 2 y 3 y 4", "tac arriba abajo arriba", what is counted or said over between what is
/// told. Where each stretch begins and ends, in bytes.
pub fn stretches_said_over(tokens: &[Token]) -> Vec<(usize, usize)> {
    let mut stretches = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let stretch = tokens.get(at..).unwrap_or(&[]);
        let length = stretch.iter().take_while(|token| may_be_said_over(token)).count();
        let stretch = stretch.get(..length).unwrap_or(&[]);
        let lead = at.checked_sub(1).and_then(|at| tokens.get(at));
        if let (Some(first), Some(last), true) = (stretch.first(), stretch.last(), tells_nothing(stretch, lead)) {
            stretches.push((first.start, last.end));
        }
        at += length.max(1);
    }
    stretches
}

fn is_stroke(token: &Token) -> bool {
    token.is_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Tap])
}

fn may_be_said_over(token: &Token) -> bool {
    let sounds = &sayings().words.sounds;
    let counted = token.number.is_some_and(|number| (1..=12).contains(&number));
    counted || is_stroke(token) || token.word == "y" || token.word == "and" || among(sounds, &token.word)
}

/// Four counts in a row, or three strokes that no count and no finger leads.
fn tells_nothing(stretch: &[Token], lead: Option<&Token>) -> bool {
    let counts: Vec<i64> = stretch.iter().filter_map(|token| token.number).collect();
    let in_a_row = counts
        .windows(2)
        .filter(|pair| matches!(pair, [one, next] if *next == one + 1))
        .count();
    let strokes = stretch.iter().filter(|token| is_stroke(token)).count();
    let struck_first = stretch.first().is_some_and(is_stroke);
    let links = [
        Concept::On,
        Concept::Article,
        Concept::BeatWord,
        Concept::Is,
        Concept::With,
    ];
    // "un dos tres"
    let begun = lead.is_some_and(|lead| lead.word == "un") && counts.first() == Some(&2);
    let led = lead.is_some_and(|lead| named_finger(lead).is_some() || lead.is_any(&links)) && !begun;
    let sounds = stretch.iter().any(|token| among(&sayings().words.sounds, &token.word));
    in_a_row >= 3
        || in_a_row >= 2 && begun
        || strokes >= 3 && !led && counts.is_empty() && (sounds || !struck_first)
        || strokes >= 2 && in_a_row >= 1 && !led && (sounds || strokes >= 3)
}

/// `alzapúa: thumb alone, three to a count: down, down, up`: a line that says what a word means.
pub fn explains_a_technique(tokens: &[Token]) -> bool {
    let techniques = [
        Concept::Alzapua,
        Concept::Rasgueado,
        Concept::Abanico,
        Concept::Picado,
        Concept::Tremolo,
    ];
    let [word, colon, ..] = tokens else { return false };
    word.is_any(&techniques) && colon.is_mark(':')
}

/// The words of the tables that are asked here.
pub fn words_of_papers() -> impl Iterator<Item = (&'static str, Kind)> {
    let words = &sayings().words;
    let table = |kind, list: &'static WordList| all_of(kind, list.iter());
    table(Kind::OtherPaper, &words.other_papers)
        .chain(table(Kind::Dated, &words.dated))
        .chain(table(Kind::SaidThen, &words.said_then))
}

/// "(old sheet says Q on 8. crossed out)", "la edición anterior imprimía …": what another paper says is not what is played.
pub fn quotes_another_paper(tokens: &Tokens) -> bool {
    let words = &sayings().words;
    let named = || tokens.iter().any(|token| among(&words.other_papers, &token.word));
    let dated = |pair: &[Token]| match pair {
        [old, paper] => among(&words.dated, &old.word) && among(&words.sheets, &paper.word),
        _ => false,
    };
    tokens.says.has(Kind::OtherPaper) && named()
        || tokens.says.has(Kind::SaidThen) && admits_a_mistake(tokens)
        || tokens.says.has(Kind::Dated) && tokens.windows(2).any(dated)
}

/// "last week I said up on 9 and I was wrong": told of another day.
fn admits_a_mistake(tokens: &[Token]) -> bool {
    let said = tokens
        .iter()
        .any(|token| among(&sayings().words.said_then, &token.word));
    let then = tokens.windows(2).any(
        |pair| matches!(pair, [last, week] if last.word == "last" && matches!(week.word.as_str(), "week" | "time")),
    ) || tokens
        .iter()
        .any(|token| matches!(token.word.as_str(), "last week" | "la semana pasada" | "last time"));
    said && then
}

/// `5:3 = fifth string third fret`: how the note writes a string and its fret.
pub fn defines_pairs(tokens: &[Token]) -> bool {
    let says = |concept: Concept| tokens.iter().any(|token| token.is(concept));
    let sign = tokens.iter().any(|token| token.is_mark('='));
    sign && says(Concept::StringWord) && says(Concept::FretWord) && tokens.iter().any(|token| token.number.is_some())
}
