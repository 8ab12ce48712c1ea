use std::ops::Range;

use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::pitch_words::PitchWord;
use super::super::says::Kind;
use super::super::solfa::bare_name;
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use super::chord_span::told_over;

/// Words for all counts, from the first on.
pub const THROUGHOUT: [&str; 5] = ["throughout", "todo", "toda", "the whole round", "right through"];

/// "A from the 12, Bb comes in with the 3, A again with the 10", "un acorde cada tres pulsos: lam, sol, fa, mi",
/// "Am for all of it": where the left hand goes, in a sentence that plays nothing.
pub fn read(asked: &Asked) -> Vec<Located> {
    if let Some(chord) = under_what_replaces(asked) {
        return vec![chord];
    }
    if let Some(chord) = all_over_counts(asked) {
        return vec![chord];
    }
    if asked.says_any(&PLAYS) {
        return throughout_in_a_part(asked).into_iter().collect();
    }
    let chords = chords(asked);
    let every = each_for(asked).filter(|_| chords.len() >= 2);
    if let Some(length) = every {
        return in_turn(asked, &chords, length);
    }
    if let [(at, word)] = chords.as_slice() {
        return throughout(asked, 0..asked.tokens.len(), *at, word)
            .into_iter()
            .collect();
    }
    let told: Vec<Located> = chords
        .iter()
        .filter_map(|(at, word)| reached(asked, *at, word))
        .collect();
    if told.len() >= 2 && told.len() == chords.len() {
        told
    } else {
        Vec::new()
    }
}

/// A sentence with one of these says more than where the left hand goes.
const PLAYS: [Concept; 14] = [
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::Tap,
    Concept::Rasgueado,
    Concept::Pluck,
    Concept::StringWord,
    Concept::FretWord,
    Concept::Caution,
    Concept::Condition,
    Concept::Replaces,
    Concept::FingerP,
    Concept::FingerI,
    Concept::Same,
];

/// "sustituye el 1 y el 2 por un arpegio de Mi", "un abanico para el 3 y el 4, sobre el sol": the chord that what takes the
/// place of some counts stands on.
fn under_what_replaces(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if !asked.in_pattern || asked.names.len() > 1 || super::replaces::replaces(asked).is_none() {
        return None;
    }
    (1..tokens.len()).find_map(|at| {
        let here = token(tokens, at);
        let lead = before(tokens, at);
        let arpeggio = lead.is(Concept::Arpeggio) && matches!(here.word.as_str(), "de" | "en" | "of" | "on" | "sobre");
        let over = matches!(here.word.as_str(), "sobre" | "over") && !lead.is(Concept::Arpeggio);
        let keeps = lead.word == "sin" && here.word.starts_with("solt") || here.is(Concept::Keep);
        let at = at + 1 + usize::from(token(tokens, at + 1).is(Concept::Article));
        let word = asked.name_at(at).cloned().or_else(|| listed_name(asked, at))?;
        let end = at + word.length;
        let other = token(tokens, end).is_any(&[Concept::StringWord, Concept::Phrygian]);
        ((arpeggio || over || keeps) && !other).then(|| Located {
            statement: Statement::ChordThroughout(word.chord()),
            start: token(tokens, at).start,
            end: token(tokens, end - 1).end,
        })
    })
}

/// "so one and two and, down up down up, all on the A": the chord of counts that are said over.
fn all_over_counts(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if asked.context.typed || !asked.in_pattern {
        return None;
    }
    let all = (1..tokens.len()).find(|at| {
        let over = token(tokens, at + 1);
        let linked = over.is(Concept::On) || matches!(over.word.as_str(), "over" | "sobre");
        token(tokens, *at).is(Concept::All) && linked
    })?;
    let at = all + 2 + usize::from(token(tokens, all + 2).is(Concept::Article) || token(tokens, all + 2).word == "the");
    let word = asked.name_at(at)?;
    let counts: Vec<i64> = tokens.iter().take(all).filter_map(|token| token.number).collect();
    let runs = counts
        .windows(2)
        .all(|pair| matches!(pair, [one, next] if *next == one + 1));
    let (first, last) = (*counts.first()?, *counts.last()?);
    (runs && first < last).then(|| told_over(tokens, at..at + word.length, word, (first, last), false))
}

/// The chords named, each with its token.
fn chords(asked: &Asked) -> Vec<(usize, PitchWord)> {
    let tokens = asked.tokens;
    let mut out: Vec<(usize, PitchWord)> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if !token(tokens, at).has(Kind::Name) {
            at += 1;
            continue;
        }
        let word = asked.name_at(at).cloned().or_else(|| listed_name(asked, at));
        match word {
            Some(word) => {
                let behind = at + word.length;
                out.push((at, word));
                at = behind;
            }
            None => at += 1,
        }
    }
    out
}

/// A bare Spanish name written with a capital: "y La regresa en el 12", "por este orden: Lam, Sol, Fa, Mi".
fn listed_name(asked: &Asked, at: usize) -> Option<PitchWord> {
    let here = token(asked.tokens, at);
    let capital = here.raw.chars().next().is_some_and(char::is_uppercase) && at > 0;
    let root = bare_name(here).filter(|_| capital && asked.context.typed)?;
    Some(PitchWord {
        root,
        quality: String::new(),
        added: String::new(),
        qualified: false,
        length: 1,
    })
}

/// "every three counts", "cada tres pulsos".
fn each_for(asked: &Asked) -> Option<i64> {
    let tokens = asked.tokens;
    let at = (0..tokens.len()).find(|at| {
        let each = matches!(token(tokens, *at).word.as_str(), "every" | "each" | "cada");
        each && token(tokens, at + 1).number.is_some() && token(tokens, at + 2).is(Concept::BeatWord)
    })?;
    token(tokens, at + 1).number.filter(|number| (1..=12).contains(number))
}

fn in_turn(asked: &Asked, chords: &[(usize, PitchWord)], length: i64) -> Vec<Located> {
    let starts = std::iter::successors(Some(1), |first| Some(first + length));
    let over =
        |(first, (at, word)): (i64, &(usize, PitchWord))| chord_over(asked, *at, word, first, first + length - 1);
    starts.zip(chords).map(over).collect()
}

fn chord_over(asked: &Asked, at: usize, word: &PitchWord, first: i64, last: i64) -> Located {
    told_over(asked.tokens, at..at + word.length, word, (first, last), false)
}

/// The count behind a chord, in front of the next mark: "A from the 12", "Bb comes in with the 3".
fn reached(asked: &Asked, at: usize, word: &PitchWord) -> Option<Located> {
    let tokens = asked.tokens;
    let behind = at + word.length;
    let found = (behind..(behind + 8).min(tokens.len()))
        .take_while(|at| token(tokens, *at).mark.is_none_or(|mark| mark == '\''))
        .find(|at| {
            token(tokens, *at)
                .number
                .is_some_and(|number| (1..=24).contains(&number))
        })?;
    let lead = before(tokens, found);
    let further = before(tokens, found.saturating_sub(1));
    let linked = |word: &str| {
        matches!(
            word,
            "from" | "with" | "on" | "at" | "en" | "desde" | "con" | "al" | "del"
        )
    };
    let of_fingers = |tokens: &[Token]| {
        tokens
            .iter()
            .any(|token| token.is_any(&[Concept::LeftHand, Concept::FingerWord]))
    };
    let with = |word: &str| matches!(word, "with" | "con");
    let by_a_finger = (with(&lead.word) || lead.is(Concept::Article) && with(&further.word))
        && (of_fingers(tokens) || of_fingers(asked.previous));
    let pointed =
        linked(&lead.word) || lead.is(Concept::Article) && linked(&further.word) || lead.is(Concept::BeatWord);
    let other = token(tokens, found + 1).is_any(&[Concept::Times, Concept::Unit, Concept::TempoWord]);
    let count = token(tokens, found)
        .number
        .filter(|_| pointed && !other && !by_a_finger)?;
    Some(chord_over(asked, at, word, count, count))
}

/// "Am for all of it": one chord from the first count on.
fn throughout(asked: &Asked, part: Range<usize>, at: usize, word: &PitchWord) -> Option<Located> {
    let end = part.end;
    let tokens = asked.tokens.get(part)?;
    let all = tokens
        .iter()
        .any(|token| token.is(Concept::All) && token.word.contains(' ') || THROUGHOUT.contains(&token.word.as_str()));
    let numbered = tokens.iter().any(|token| token.number.is_some());
    let plain = tokens.len() <= 10 && !numbered && !tokens.iter().any(|token| token.is(Concept::Negation));
    (all && plain && asked.in_pattern).then(|| Located {
        statement: Statement::ChordThroughout(word.chord()),
        start: token(asked.tokens, at).start,
        end: token(asked.tokens, end.saturating_sub(1)).end,
    })
}

/// "four: index comes back up, A the whole way": between two marks a chord and how long it stays, and nothing else.
fn throughout_in_a_part(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let ends = (0..=tokens.len()).filter(|at| token(tokens, *at).mark.is_some() || *at == tokens.len());
    let named = chords(asked);
    let mut start = 0;
    for end in ends {
        let part = start..end;
        start = end + 1;
        let plays = tokens
            .get(part.clone())?
            .iter()
            .any(|token| token.is_any(&PLAYS) || token.is(Concept::FingerA));
        let mut inside = named.iter().filter(|(at, _)| part.contains(at));
        let (Some((at, word)), None, false) = (inside.next(), inside.next(), plays) else {
            continue;
        };
        // "va todo el mi menor, el pulgar baja": the whole of the chord, not the whole of the time.
        let of_the_chord = part
            .clone()
            .any(|at| matches!(token(tokens, at).word.as_str(), "todo" | "toda"));
        if part.len() <= 8
            && !of_the_chord
            && let Some(found) = throughout(asked, part, *at, word)
        {
            return Some(found);
        }
    }
    None
}
