use super::super::lexicon::Concept;
use super::super::moments::{Part, before, moment_at, token};
use super::super::remarks::announced_at;
use super::super::sayings::{any_among, sayings};
use super::super::says::{Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::position::Position;

pub const NEEDS: [Needs; 1] = [Needs::OrBefore(Says::NOTHING.meaning(&[Concept::AccentWord]))];

/// "accents on 3, 6, 8, 10 and 12", "the weight … it's on 2, 3 and 4", "se carga el 2, el 3 y el 4".
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let spoken_of = |tokens: &[Token]| tokens.iter().any(|token| token.is(Concept::AccentWord));
    if asked.in_pattern
        || !spoken_of(tokens) && !spoken_of(asked.previous)
        || is_of_others(tokens)
        || is_supposed(tokens)
        || is_counted_otherwise(asked)
    {
        return Vec::new();
    }
    let word = tokens.iter().position(|token| token.is(Concept::AccentWord));
    if word.is_some_and(|at| waits_for_counts(tokens, at)) {
        return Vec::new();
    }
    let is_name = |at: usize| asked.name_at(at).is_some();
    let said = asked
        .previous
        .iter()
        .position(|token| token.is(Concept::AccentWord))
        .unwrap_or(0);
    let said = if of_each_group(asked.previous, said) { said } else { 0 };
    let how_many = |tokens: &[Token]| {
        let word = tokens.iter().position(|token| token.is(Concept::AccentWord))?;
        announced_at(tokens, word).map(|_| word - 1)
    };
    let announced = how_many(asked.previous);
    // "you push it up to 104. Chords, you need just two.": something else is counted.
    let chords = tokens
        .iter()
        .any(|token| token.is(Concept::ChordWord) || matches!(token.word.as_str(), "chords" | "acordes"));
    let carried = spoken_of(asked.previous)
        && !chords
        && !asked
            .previous
            .iter()
            .enumerate()
            .skip(said)
            .filter(|(at, _)| Some(*at) != announced && !token(asked.previous, at + 1).is(Concept::BeatWord))
            .any(|(_, token)| token.number.is_some_and(|n| n <= 13) || token.ordinal.is_some())
        && !(0..tokens.len()).any(is_name);
    let from = match word {
        Some(at) => at + 1,
        None if carried => 0,
        None => return Vec::new(),
    };
    if let (Some(word), Some(at)) = (word, all_counts(asked)) {
        let beats = asked.context.beats.unwrap_or(0);
        return vec![Located {
            statement: Statement::Accents((1..=beats).map(Position::count).collect()),
            start: token(tokens, at.min(word)).start,
            end: token(tokens, at.max(word)).end,
        }];
    }
    let turns = word.and_then(|_| by_turns(asked, from));
    let waits = turns.is_some();
    let mut found = turns.unwrap_or_else(|| counts(asked, from, tokens.len()));
    if found.is_empty() && word.is_some() && !waits && !of_each_group(tokens, from) {
        found = counts(asked, 0, from);
        // "there are five accents": how many they are.
        let announced = how_many(tokens);
        found.retain(|(_, at)| Some(*at) != announced);
    }

    let every = tokens.iter().any(|token| token.is(Concept::All));
    // "pesan los cinco"
    let all_of_them = |index: usize| matches!(before(tokens, index).word.as_str(), "los" | "all" | "the");
    let every = every || matches!(found.as_slice(), [(_, index)] if all_of_them(*index));
    if let ([(only, index)], Some(beats), true) = (found.as_slice(), asked.context.beats, every)
        && *only == Position::count(beats)
    {
        let index = *index;
        found = (1..=beats).map(|count| (Position::count(count), index)).collect();
    }
    let row = found
        .iter()
        .enumerate()
        .all(|(order, (position, _))| *position == Position::count(order as i64 + 1));
    if word.is_none() && row && found.len() >= 4 {
        return Vec::new();
    }
    if found.is_empty() || (asked.in_pattern && found.len() < 3) {
        return Vec::new();
    }
    let start = found
        .iter()
        .map(|(_, index)| token(tokens, *index).start)
        .min()
        .unwrap_or(0);
    let end = found
        .iter()
        .map(|(_, index)| token(tokens, *index).end)
        .max()
        .unwrap_or(0);
    let positions = found.into_iter().map(|(position, _)| position).collect();
    vec![Located {
        statement: Statement::Accents(positions),
        start: word.map_or(start, |at| token(tokens, at).start.min(start)),
        end,
    }]
}

/// "the one that's leaning on the door": what leans on something else than a count is no accent.
fn waits_for_counts(tokens: &[Token], word: usize) -> bool {
    let said = token(tokens, word).word.as_str();
    let leads = said.ends_with(" on") || said.ends_with(" en");
    let counted =
        (word + 1..word + 4).any(|at| token(tokens, at).number.is_some() || token(tokens, at).ordinal.is_some());
    leads && !counted
}

/// "the accent is on the first of each group": the counts in front of it are none of the accents.
fn of_each_group(tokens: &[Token], from: usize) -> bool {
    let behind = tokens.get(from..).unwrap_or(&[]);
    let group = |token: &Token| matches!(token.word.as_str(), "grupo" | "grupito" | "group");
    behind.iter().any(|token| token.is(Concept::All)) && behind.iter().any(group)
}

/// "if you put the weight on 3 it falls down the stairs"
fn is_supposed(tokens: &[Token]) -> bool {
    let said = tokens.iter().position(|token| token.is(Concept::AccentWord));
    said.is_some_and(|said| {
        (said.saturating_sub(5)..said).any(|at| matches!(token(tokens, at).word.as_str(), "if" | "si"))
    })
}

/// "if you count it in 12, the accents come on 1, 3, 5, 8 and 11": where they fall in another way of counting than this
/// lesson's.
fn is_counted_otherwise(asked: &Asked) -> bool {
    let tokens = asked.tokens;
    let (Some(said), Some(beats)) = (
        tokens.iter().position(|token| token.is(Concept::AccentWord)),
        asked.context.beats,
    ) else {
        return false;
    };
    let begins = |token: &Token| matches!(token.word.split(' ').next(), Some("if" | "si" | "when" | "cuando"));
    let Some(from) = (0..said).rfind(|at| begins(token(tokens, *at))) else {
        return false;
    };
    let counting = |token: &Token| any_among(&sayings().words.counting, &token.word);
    let Some(counts) = (from..said).find(|at| counting(token(tokens, *at))) else {
        return false;
    };
    (counts..said).any(|at| token(tokens, at).number.is_some_and(|number| number != beats))
}

/// "the others lean on 6": what other people do.
fn is_of_others(tokens: &[super::super::tokens::Token]) -> bool {
    let said = tokens
        .iter()
        .position(|token| token.is(Concept::AccentWord))
        .unwrap_or(0);
    (said.saturating_sub(4)..said).any(|at| {
        matches!(
            token(tokens, at).word.as_str(),
            "others" | "otros" | "hay quien" | "people" | "they"
        )
    })
}

/// "the weight is on the odd ones", "en los pares": every second count, where no count is named before them.
fn by_turns(asked: &Asked, from: usize) -> Option<Vec<(Position, usize)>> {
    if asked.tokens.iter().skip(from).any(|token| token.number.is_some()) {
        return None;
    }
    let at = (from..asked.tokens.len()).find(|at| {
        let behind = |back: usize| before(asked.tokens, at.saturating_sub(back));
        let on =
            behind(0).is(Concept::On) || matches!(behind(0).word.as_str(), "the" | "los") && behind(1).is(Concept::On);
        on && matches!(
            token(asked.tokens, *at).word.as_str(),
            "odd" | "even" | "impares" | "pares"
        )
    })?;
    let first = if matches!(token(asked.tokens, at).word.as_str(), "odd" | "impares") {
        1
    } else {
        2
    };
    let Some(beats) = asked.context.beats else {
        return Some(Vec::new());
    };
    Some(
        (first..=beats)
            .step_by(2)
            .map(|count| (Position::count(count), at))
            .collect(),
    )
}

/// "one two three four five": counted aloud in speech, not a list of accents, which has marks where the others have. The
/// index behind.
fn counted_aloud(asked: &Asked, index: usize) -> Option<usize> {
    let number = |at: usize| token(asked.tokens, at).number;
    let opens = index > 0 && before(asked.tokens, index).mark.is_some();
    let aloud = |first: &i64| !asked.context.punctuated || *first == 1 && opens;
    let first = number(index).filter(aloud).filter(|_| !asked.context.typed)?;
    let length = (0i64..)
        .take_while(|step| number(index + *step as usize) == Some(first + step))
        .count();
    (length >= 4).then_some(index + length)
}

/// "All five of them are accents", "los cinco pesan": as many as the compás has, and all of them.
fn all_counts(asked: &Asked) -> Option<usize> {
    let beats = asked.context.beats?;
    let every = |at: usize| before(asked.tokens, at).is(Concept::All) || before(asked.tokens, at).word == "los";
    let them = |at: usize| {
        matches!(
            token(asked.tokens, at + 1).word.as_str(),
            "of them" | "counts" | "beats" | "tiempos"
        )
    };
    (0..asked.tokens.len()).find(|at| token(asked.tokens, *at).number == Some(beats) && every(*at) && them(*at))
}

/// "every one of them splits in three", "se parte en tres": into how many parts, and no count.
fn splits_in(here: &Token, next: &Token) -> bool {
    matches!(
        here.word.as_str(),
        "splits" | "split" | "divides" | "divided" | "subdivides" | "parte" | "parten" | "divide" | "dividen"
    ) && matches!(next.word.as_str(), "in" | "into" | "en")
}

/// "grupitos", "groups"; "esos" and "those" are the counts themselves.
fn is_a_thing(word: &str) -> bool {
    word.ends_with('s')
        && !matches!(
            word,
            "esos" | "estos" | "ellos" | "those" | "these" | "yes" | "es" | "pues"
        )
}

/// The counts between two tokens; a clause about the light ones, about time or about something else ends them.
fn counts(asked: &Asked, from: usize, to: usize) -> Vec<(Position, usize)> {
    let tokens = asked.tokens;
    let mut found: Vec<(Position, usize)> = Vec::new();
    let mut index = from;
    while index < to {
        let here = token(tokens, index);
        if here.is(Concept::Light) {
            let clause = (from..index)
                .rev()
                .find(|at| token(tokens, *at).is_mark(',') || token(tokens, *at).is_mark('.'))
                .unwrap_or(from);
            found.retain(|(_, at)| {
                *at <= clause && clause > from || token(tokens, clause).mark.is_some() && *at < clause
            });
            index += 1;
            continue;
        }
        if here.is_any(&[Concept::Condition, Concept::TempoWord, Concept::Capo, Concept::KeyWord])
            || here.is_any(&[Concept::Negation, Concept::Silence]) && !found.is_empty()
            || here.word == "tempo"
            || splits_in(here, token(tokens, index + 1))
        {
            break;
        }
        if asked.context.typed && matches!(here.word.as_str(), "foot" | "pie" | "palmas") {
            found.clear();
            break;
        }
        // "on three six eight ten twelve same as always, and I want it between one thirty and one forty"
        let listed = found.last().filter(|_| found.len() >= 3).map_or(index, |(_, at)| *at);
        if !asked.context.punctuated && !asked.context.typed && index > listed + 4 {
            break;
        }
        if let Some(end) = counted_aloud(asked, index) {
            index = end;
            continue;
        }
        // "on the one and on the four": two counts, and no "one and".
        let another = here.number.is_some()
            && token(tokens, index + 1).is(Concept::And)
            && token(tokens, index + 2).is(Concept::On);
        if let Some((when, end)) = moment_at(tokens, index, asked.context).filter(|_| !another) {
            if let (Some(count), Part::And) = (when.count, when.part) {
                found.push((Position::new(count, 1, 2), index));
            }
            index = end;
            continue;
        }
        let next = token(tokens, index + 1);
        if let Some(count) = here
            .ordinal
            .filter(|_| next.is(Concept::BeatWord) && !next.word.ends_with('s'))
        {
            found.push((Position::count(count), index));
            index += 2;
            continue;
        }
        // "son dos grupitos de tres": so many of them.
        let many = here.number.is_some_and(|number| number >= 2) && here.spelled;
        let things = next.concepts.is_empty() && next.mark.is_none() && next.number.is_none() && is_a_thing(&next.word);
        if many && things && !found.is_empty() {
            break;
        }
        // "cinco: tres, seis, ocho, diez y doce": how many they are.
        let how_many = found.is_empty() && next.is_mark(':') && token(tokens, index + 2).number.is_some();
        let unit = next.is_any(&[Concept::Unit, Concept::BeatWord, Concept::Times]) || next.is_mark('%') || how_many;
        let dashed = next.is_mark('-') && next.joined
            || next.joined && next.mark.is_none() && !next.word.is_empty()
            || here.spelled && asked.context.typed;
        // "los dos se marcan con el pie": both of them
        let both = here.spelled && here.number == Some(2) && before(tokens, index).word == "los";
        // "come down on the one"
        let lead = before(tokens, index.saturating_sub(1)).word.split(' ').next_back();
        let led = matches!(lead, Some("on" | "are" | "is" | "and"));
        let counted =
            both || matches!(
                before(tokens, index).word.as_str(),
                "those" | "these" | "esos" | "estos"
            ) || matches!(before(tokens, index).word.as_str(), "the" | "of") && here.spelled && !led;
        if let Some(number) = here
            .number
            .filter(|number| (1..=24).contains(number) && !unit && !dashed && !counted)
        {
            let position = Position::count(number);
            if !found.iter().any(|(known, _)| *known == position) {
                found.push((position, index));
            }
        }
        index += 1;
    }
    found
}
