use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::key::Tempo;

pub const NEEDS: [Needs; 2] = [
    Needs::OrBefore(
        Says::NOTHING
            .meaning(&[Concept::TempoWord, Concept::Crotchets, Concept::Quavers])
            .kind(&[Kind::Between, Kind::Roughly]),
    ),
    Needs::Here(Says::NOTHING.kind(&[Kind::Number])),
];

/// Words that stand in front of two numbers.
pub const BETWEEN: [&str; 4] = ["between", "entre", "from", "de"];

/// "Tempo: 180-210", "somewhere from 80 to 110, one click for each number", "La velocidad, 60".
pub fn tempo(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    // "negra = 126"
    let equated = tokens
        .windows(3)
        .any(|three| matches!(three, [note, sign, number] if note.is_any(&[Concept::Crotchets, Concept::Quavers]) && sign.is_mark('=') && number.number.is_some_and(|n| n >= 30)));
    let word = equated || asked.says(Concept::TempoWord);
    let carried = asked.previous.iter().any(|token| token.is(Concept::TempoWord))
        && !asked.previous.iter().any(|token| token.number.is_some_and(|n| n >= 30));
    // "En casa, diez minutos al día con el metrónomo, primero a 60": how to practise, not how fast it goes.
    let practised = asked.in_pattern && word && {
        let says = |word: &str| {
            matches!(
                word,
                "casa" | "al dia" | "home" | "every day" | "a day" | "todos los dias" | "cada dia"
            )
        };
        let pairs = tokens
            .windows(2)
            .any(|pair| matches!(pair, [one, other] if one.word == "al" && other.word == "dia"));
        pairs || tokens.iter().any(|token| says(&token.word))
    };
    if practised {
        return Vec::new();
    }
    if !word && !carried {
        return between(asked).or_else(|| roughly(asked)).into_iter().collect();
    }
    let mut index = 0;
    let mut single = None;
    while index < tokens.len() {
        let Some((low, behind)) = big_number(tokens, index) else {
            index += 1;
            continue;
        };
        let stands = (10..=highest(tokens, index, behind)).contains(&low)
            && (low >= 30 || word && tempo_beside(tokens, index, behind))
            && !token(tokens, behind).is_any(&[Concept::Times, Concept::Unit])
            || unit_of(tokens, behind) && (10..=400).contains(&low);
        let higher = |(high, _): &(i64, usize)| *high > low && *high <= 400;
        let range = range_end(tokens, behind).filter(higher);
        let range = range.or_else(|| reached_later(tokens, behind).filter(higher));
        if stands {
            let (high, end) = range.unwrap_or((low, behind));
            let told = tempo_of(tokens, (index, end), (low, high));
            if range.is_some() {
                return told.into_iter().collect();
            }
            // "140, no, sorry, that was last week's, it's 132"
            if single.is_some() && corrected(tokens, index) {
                single = None;
            }
            // "Vamos a unos cien, entre noventa y ciento diez": the range that is given as well is recorded.
            single = single.or(told);
        }
        index = behind;
    }
    single.into_iter().collect()
}

/// A number before this one was taken back.
fn corrected(tokens: &[Token], index: usize) -> bool {
    let words = tokens.get(..index).unwrap_or(tokens);
    let number = words
        .iter()
        .rposition(|token| token.number.is_some_and(|number| number >= 30));
    words
        .iter()
        .skip(number.unwrap_or(0))
        .any(|token| token.is(Concept::Correction))
}

/// No music is as fast as this; where the tempo is named beside it, the number is meant all the same.
fn highest(tokens: &[Token], index: usize, behind: usize) -> i64 {
    const TUNING: std::ops::RangeInclusive<i64> = 415..=466;
    let beside = tempo_beside(tokens, index, behind + 1)
        || (behind..behind + 4).any(|at| token(tokens, at).is(Concept::TempoWord));
    let tuned = token(tokens, index)
        .number
        .is_some_and(|number| TUNING.contains(&number));
    if beside && !tuned { 999 } else { 400 }
}

fn tempo_of(tokens: &[Token], (from, end): (usize, usize), (low, high): (i64, i64)) -> Option<Located> {
    let tempo = Tempo {
        low: u32::try_from(low).ok()?,
        high: u32::try_from(high).ok()?,
    };
    Some(Located {
        statement: Statement::Tempo(tempo),
        start: token(tokens, from).start,
        end: token(tokens, end.saturating_sub(1)).end,
    })
}

/// "start it at 80 and over the weeks you push it up to 104": where the tempo goes in time, and the index behind.
fn reached_later(tokens: &[Token], from: usize) -> Option<(i64, usize)> {
    let goes_on = |at: &usize| !token(tokens, *at).is_mark('.') && !token(tokens, *at).is_mark(';');
    let lead = (from..(from + 14).min(tokens.len()))
        .take_while(goes_on)
        .find(|at| matches!(token(tokens, *at).word.as_str(), "up to" | "hasta" | "as far as"))?;
    big_number(tokens, lead + 1)
}

/// "it goes somewhere between 96 and 108": two numbers that can be nothing else, before any stroke is told.
fn between(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let leads = |at: &usize| BETWEEN.contains(&token(tokens, *at).word.as_str());
    let (at, low, high, end) = (0..tokens.len()).filter(leads).find_map(|at| {
        let (low, behind) = big_number(tokens, at + 1)?;
        let (high, end) = range_end(tokens, behind)?;
        Some((at, low, high, end))
    })?;
    let parted =
        token(tokens, end).mark.is_some() || token(tokens, end).word.is_empty() || token(tokens, end).is(Concept::And);
    let settles = asked.says_any(&[Concept::Capo, Concept::KeyWord, Concept::Phrygian]) || tokens.len() <= 8;
    let early = !asked.opening || settles;
    let plausible = 40 <= low && low < high && high <= 300 && !asked.in_pattern && early;
    tempo_of(tokens, (at, end), (low, high)).filter(|_| plausible && parted)
}

/// "slow, four beats, around 64": a number that is roughly said where the talk is of the palo and its pace.
fn roughly(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let words = &sayings().words;
    let at = (0..tokens.len()).find(|at| among(&words.roughly, &token(tokens, *at).word))?;
    let number = at + 1 + usize::from(token(tokens, at + 1).word == "de");
    let (low, behind) = big_number(tokens, number)?;
    let range = range_end(tokens, behind).filter(|(high, _)| *high > low && *high <= 300);
    let (high, end) = range.unwrap_or((low, behind));
    let closes = token(tokens, end).mark.is_some() || token(tokens, end).word.is_empty();
    let paced = || tokens.iter().any(|token| among(&words.paces, &token.word));
    let settles = asked.says_any(&[Concept::Capo, Concept::Phrygian]) || paced();
    let tempo = Tempo {
        low: u32::try_from(low).ok()?,
        high: u32::try_from(high).ok()?,
    };
    ((40..=300).contains(&low) && closes && settles && !asked.in_pattern).then(|| Located {
        statement: Statement::Tempo(tempo),
        start: token(tokens, at).start,
        end: token(tokens, end.saturating_sub(1)).end,
    })
}

fn tempo_beside(tokens: &[Token], index: usize, behind: usize) -> bool {
    let before = (index.saturating_sub(3)..index).any(|at| token(tokens, at).is(Concept::TempoWord));
    before || (behind..behind + 3).any(|at| unit_of(tokens, at))
}

/// The tempo word of "126 bpm" belongs to the number before it; that of "12 counts, tempo 126" does not.
fn unit_of(tokens: &[Token], index: usize) -> bool {
    token(tokens, index).is(Concept::TempoWord) && big_number(tokens, index + 1).is_none()
}

/// "a hundred and ten", "ciento veinte", "96".
fn big_number(tokens: &[Token], index: usize) -> Option<(i64, usize)> {
    let here = token(tokens, index);
    let article = matches!(here.word.as_str(), "a" | "one")
        && token(tokens, index + 1).number == Some(100)
        && token(tokens, index + 1).spelled;
    let start = if article { index + 1 } else { index };
    let first = token(tokens, start).number?;
    if !token(tokens, start).spelled {
        return Some((first, start + 1));
    }
    let mut total = first;
    let mut at = start + 1;
    if first < 10 && token(tokens, at).number == Some(100) {
        total = first * 100;
        at += 1;
    } else if first < 10 && token(tokens, at).spelled && token(tokens, at).number.is_some_and(|n| n >= 20) {
        total = first * 100 + token(tokens, at).number.unwrap_or(0);
        at += 1;
    }
    loop {
        let joins = token(tokens, at).is(Concept::And);
        let next = if joins { at + 1 } else { at };
        let Some(more) = token(tokens, next).number.filter(|_| token(tokens, next).spelled) else {
            break;
        };
        let scale = if total % 100 == 0 {
            100
        } else if total % 10 == 0 {
            10
        } else {
            1
        };
        // "between one thirty and one forty": what stands behind the "and" is a number of its own.
        let own = joins && more < 10 && token(tokens, next + 1).spelled && token(tokens, next + 1).number.is_some();
        if more >= scale || own || (joins && total < 20) {
            break;
        }
        total += more;
        at = next + 1;
    }
    Some((total, at))
}

fn range_end(tokens: &[Token], index: usize) -> Option<(i64, usize)> {
    let mut at = index;
    let link = token(tokens, at);
    let linked = link.is_mark('-')
        || matches!(
            link.word.as_str(),
            "to" | "and" | "a" | "y" | "up to" | "hasta" | "or" | "o" | "al"
        );
    // "112 y de ahí hasta 132"
    let further = (index..index + 4)
        .find(|at| token(tokens, *at).word == "hasta")
        .filter(|at| {
            (index..*at).all(|at| {
                matches!(
                    token(tokens, at).word.as_str(),
                    "y" | "de" | "ahi" | "," | "para arriba"
                )
            })
        });
    if !linked && further.is_none() {
        return None;
    }
    at = further.unwrap_or(at) + 1;
    while matches!(token(tokens, at).word.as_str(), "about" | "maybe" | "los" | "the") {
        at += 1;
    }
    big_number(tokens, at)
}
