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
        let likened = is_likened(tokens, at, at + length);
        if let (Some(first), Some(last), true) = (
            stretch.first(),
            stretch.last(),
            !likened && tells_nothing(stretch, lead),
        ) {
            stretches.push((first.start, last.end));
        }
        at += length.max(1);
    }
    stretches
}

/// "five six seven eight is the exact same right hand as one two three four": counts that are told like others.
fn is_likened(tokens: &[Token], start: usize, end: usize) -> bool {
    let same = |at: usize| tokens.get(at).is_some_and(|token| token.is(Concept::Same));
    let is = tokens.get(end).is_some_and(|token| token.is(Concept::Is));
    let as_they_are = start > 0
        && tokens
            .get(start - 1)
            .is_some_and(|token| matches!(token.word.as_str(), "as" | "que"));
    is && (end + 1..end + 5).any(same) || as_they_are && (start.saturating_sub(7)..start).any(same)
}

/// So many moments in a row without a count say over what was told, wherever the talk is.
const LONG_ROW: usize = 5;

/// A row of words that says over what was told: for the count the talk is at, if that is `told`, or for more.
pub fn says_a_row_over(tokens: &[Token], told: bool) -> bool {
    row_of_words(tokens).is_some_and(|row| told || row >= LONG_ROW)
}

/// "Put together. Thumb, up. Tap. Rrran, up. C, B flat. Thumb and tap.": how many moments a row has, where a word or two
/// stand for each and no count is said.
fn row_of_words(tokens: &[Token]) -> Option<usize> {
    // "How many strokes is that? Four. Down, down, up, down.": a number by itself in front of the row is no count.
    let answers = matches!(tokens, [number, stop, ..] if number.spelled && stop.is_mark('.'));
    let counted = |token: &Token| token.number.is_some() || token.is(Concept::On);
    if tokens.iter().skip(usize::from(answers)).any(counted) {
        return None;
    }
    let sounds = &sayings().words.sounds;
    let word = |token: &Token| {
        is_stroke(token) || named_finger(token).is_some() || among(sounds, &token.word) || token.is(Concept::Rasgueado)
    };
    let links = [
        Concept::And,
        Concept::With,
        Concept::Silence,
        Concept::Flat,
        Concept::Plain,
    ];
    let plain = |token: &Token| word(token) || token.has(Kind::Name) || token.is_any(&links);
    let parted = |token: &Token| token.is_mark(',') || token.is_mark('.') || token.is_mark(':');
    let items: Vec<&[Token]> = tokens.split(parted).filter(|item| !item.is_empty()).collect();
    let opens = items
        .iter()
        .position(|item| item.iter().any(word))
        .unwrap_or(items.len());
    let (title, row) = items.split_at(opens);
    let (first, behind) = row.split_first()?;
    // "So far that's thumb, up, tap"
    let lead = first.iter().take_while(|token| !word(token)).count();
    let led = first.first().is_some_and(|token| token.is(Concept::So));
    let short = |item: &[Token]| item.len() <= 3 && item.iter().all(plain);
    let whole = first.get(lead..).is_some_and(short) && behind.iter().all(|item| short(item));
    let titled = title.iter().map(|item| item.len()).sum::<usize>() <= 4 && (lead == 0 || led && lead <= 4);
    let struck = tokens.iter().any(|token| word(token) && named_finger(token).is_none());
    let least = if led { 3 } else { 4 };
    (whole && titled && struck && row.len() >= least).then_some(row.len())
}

/// "Now 4, 5, 6.": a few counts in a row, and nothing of them.
pub fn counts_alone(tokens: &[Token]) -> Option<(i64, i64)> {
    let plain = |token: &Token| {
        token.number.is_some()
            || token.mark.is_some()
            || token.is_any(&[Concept::And, Concept::Then, Concept::So, Concept::Article])
            || matches!(
                token.word.as_str(),
                "now" | "ahora" | "el" | "okay" | "right" | "bueno" | "next"
            )
    };
    if !tokens.iter().all(plain) {
        return None;
    }
    let numbers = numbers_of(tokens);
    let (first, last) = (*numbers.first()?, *numbers.last()?);
    let in_a_row = numbers.iter().copied().eq(first..=last);
    (in_a_row && (2..=6).contains(&numbers.len())).then_some((first, last))
}

/// "1, 2, 3, 4, 5, 6, 7, toc.": counts in a row, and a sound or a stroke for the last of them.
pub fn counts_over(tokens: &[Token]) -> bool {
    let told = [
        Concept::StringWord,
        Concept::FretWord,
        Concept::On,
        Concept::Is,
        Concept::Silence,
        Concept::Same,
    ];
    let says = |token: &Token| token.is_any(&told) || named_finger(token).is_some();
    let strokes = tokens.iter().filter(|token| is_stroke(token)).count();
    if strokes > 1 || tokens.iter().any(says) {
        return false;
    }
    let numbers = numbers_of(tokens);
    let follows = |pair: &[i64]| matches!(pair, [one, next] if *next == one + 1 || *next == 1);
    numbers.len() >= 6 && numbers.windows(2).all(follows)
}

fn numbers_of(tokens: &[Token]) -> Vec<i64> {
    tokens.iter().filter_map(|token| token.number).collect()
}

/// "entonces pulgar con golpe abajo arriba abajo arriba y rasgueado uno dos y tres y cuatro": in a transcript without marks
/// the strokes of some counts in a row, and behind them nothing but the counts.
pub fn sums_up(tokens: &[Token]) -> bool {
    let counts = |token: &Token| token.number.is_some();
    let struck = tokens.iter().filter(|token| is_stroke(token)).count();
    let placed = [
        Concept::On,
        Concept::Is,
        Concept::StringWord,
        Concept::FretWord,
        Concept::Half,
    ];
    let placed = tokens.iter().any(|token| token.is_any(&placed));
    let last = tokens.iter().rposition(is_stroke).unwrap_or(0);
    let behind = tokens.get(last + 1..).unwrap_or(&[]);
    let plain = |token: &Token| {
        counts(token) || token.is_any(&[Concept::And, Concept::Lift, Concept::Rasgueado]) || token.mark.is_some()
    };
    let numbers = numbers_of(tokens);
    // Each count stands in a row of three at least: "uno y dos y tres y cuatro", and again behind the strokes.
    let follows = |pair: &[i64]| matches!(pair, [one, next] if *next == one + 1);
    let rows: Vec<&[i64]> = numbers.chunk_by(|one, next| follows(&[*one, *next])).collect();
    let counted = !rows.is_empty() && rows.iter().all(|row| row.len() >= 3);
    struck >= 4 && counted && !placed && behind.iter().all(plain)
}

fn is_stroke(token: &Token) -> bool {
    token.is_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Tap, Concept::Pluck])
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
    // "in handout 13 I had typed up here", "en clase puse en la pizarra el 7 arriba"
    let paper = tokens.iter().any(|token| among(&sayings().words.sheets, &token.word));

    let said = tokens
        .iter()
        .any(|token| among(&sayings().words.said_then, &token.word));
    let then = tokens.windows(2).any(
        |pair| matches!(pair, [last, week] if last.word == "last" && matches!(week.word.as_str(), "week" | "time")),
    ) || tokens
        .iter()
        .any(|token| matches!(token.word.as_str(), "last week" | "la semana pasada" | "last time"));
    said && (then || paper)
}

/// `5:3 = fifth string third fret`: how the note writes a string and its fret.
pub fn defines_pairs(tokens: &[Token]) -> bool {
    let says = |concept: Concept| tokens.iter().any(|token| token.is(concept));
    let sign = tokens.iter().any(|token| token.is_mark('='));
    sign && says(Concept::StringWord) && says(Concept::FretWord) && tokens.iter().any(|token| token.number.is_some())
}
