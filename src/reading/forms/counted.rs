use super::super::clauses::named_finger;
use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::tokens::Token;
use super::Asked;

/// "three plucked notes: s5 f1, s4 f3": the number said, and how many stand in the list behind the colon.
pub fn numbered(asked: &Asked) -> Option<(usize, usize)> {
    let tokens = asked.tokens;
    let colon = tokens
        .iter()
        .rposition(|token| token.is_mark(':'))
        .filter(|_| asked.context.typed)?;
    let said = (0..colon).find_map(|index| {
        let number = token(tokens, index).number.filter(|number| (2..=16).contains(number))?;
        let noun = (index + 1..index + 4)
            .take_while(|at| *at < colon && token(tokens, *at).mark.is_none())
            .any(|at| {
                let here = token(tokens, at);
                matches!(here.word.as_str(), "notes" | "notas" | "strokes" | "toques")
                    || here.is_any(&[Concept::Semiquavers, Concept::Quavers])
            });
        noun.then_some(number)
    })?;
    let given = tokens
        .get(colon + 1..)?
        .split(|token| token.is_mark(',') || token.is_mark(';'))
        .filter(|part| part.iter().any(sounds))
        .count();
    (given >= 2).then_some((usize::try_from(said).ok()?, given))
}

/// "RAS in triplets, both counts full: a dn, m dn, i dn": how many strokes the list holds that a rasgueado is the head of.
pub fn listed_behind(asked: &Asked) -> Option<usize> {
    let tokens = asked.tokens;
    let colon = tokens.iter().rposition(|token| token.is_mark(':'))?;
    let headed = tokens.iter().take(colon).any(|token| token.is(Concept::Rasgueado));
    let list = tokens
        .get(colon + 1..)?
        .split(|token| token.is_mark(',') || token.is_mark(';'));
    headed.then(|| list.filter(|part| part.iter().any(sounds)).count())
}

/// "you only need three grips:", "tres posturas:": how many chords the list behind holds.
pub fn chords_numbered(asked: &Asked) -> Option<usize> {
    if !asked.context.typed || !asked.names.is_empty() || !asked.says(Concept::ChordWord) {
        return None;
    }
    let tokens = asked.tokens;
    let at = tokens.iter().position(|token| token.is(Concept::ChordWord))?;
    let number = (at.saturating_sub(2)..at).find_map(|at| token(tokens, at).number.filter(|n| (2..=8).contains(n)))?;
    let heads = tokens.last().is_some_and(|last| last.is_mark(':')) || at + 3 >= tokens.len();
    usize::try_from(number).ok().filter(|_| heads)
}

/// "cinco notas, i m alternando": how many notes a variation is said to have, in front of its counts.
pub fn notes_numbered(asked: &Asked) -> Option<usize> {
    let tokens = asked.tokens;
    let noun = |at: &usize| matches!(token(tokens, *at).word.as_str(), "notes" | "notas");
    let at = (1..tokens.len()).find(noun)?;
    let number = token(tokens, at - 1)
        .number
        .filter(|number| (2..=16).contains(number))?;
    let divided = matches!(
        token(tokens, at + 1).word.as_str(),
        "to" | "a" | "per" | "in" | "por" | "en" | "each" | "cada" | "for"
    );
    let listed = tokens.iter().any(|token| token.is_mark(':'));
    usize::try_from(number).ok().filter(|_| !divided && !listed)
}

/// "a five-stroke rasgueado, little, ring, middle, index", "un rasgueado de cinco: e a m i i": the number said, and how
/// many strokes the fingers named behind it are.
pub fn rasgueado_numbered(asked: &Asked) -> Option<(usize, usize)> {
    if !asked.says(Concept::Rasgueado) {
        return None;
    }
    let tokens = asked.tokens;
    let rasgueado = tokens.iter().position(|token| token.is(Concept::Rasgueado))?;
    if tokens
        .iter()
        .skip(rasgueado + 1)
        .any(|token| token.is(Concept::Rasgueado))
    {
        return None;
    }
    let said = (0..tokens.len()).find_map(|index| strokes_said(tokens, rasgueado, index))?;
    let (given, last_is_apart) = fingers_behind(tokens, rasgueado)?;
    let said = usize::try_from(said).ok()?;
    // "…, and the index up": of the rasgueado, or the stroke after it.
    (given >= 3 && !(last_is_apart && said + 1 == given)).then_some((said, given))
}

/// "five strokes" anywhere in the sentence, "of five" right behind the rasgueado where no counts are meant.
fn strokes_said(tokens: &[Token], rasgueado: usize, index: usize) -> Option<i64> {
    let number = token(tokens, index).number.filter(|number| (2..=10).contains(number))?;
    let stroke_word = |at: usize| {
        let word = token(tokens, at).word.as_str();
        matches!(word, "stroke" | "strokes" | "golpes" | "toques" | "dedos" | "fingers")
    };
    let even = usize::from(matches!(token(tokens, index + 1).word.as_str(), "even" | "equal"));
    let dash = usize::from(token(tokens, index + 1).is_mark('-'));
    let strokes = stroke_word(index + 1 + even + dash);
    let of = matches!(before(tokens, index).word.as_str(), "of" | "de") && index == rasgueado + 2;
    let next = token(tokens, index + 1);
    let bare = next.mark.is_some() || next.word.is_empty();
    (strokes || of && bare).then_some(number)
}

/// The fingers named one after another behind the rasgueado, and whether the last stands behind an "and".
fn fingers_behind(tokens: &[Token], rasgueado: usize) -> Option<(usize, bool)> {
    let is_finger = |token: &Token| named_finger(token).is_some();
    let first = (rasgueado + 1..tokens.len()).find(|at| is_finger(token(tokens, *at)))?;
    let (mut given, mut apart, mut joined) = (0, false, false);
    for here in tokens.iter().skip(first) {
        let between = here.is_any(&[Concept::Down, Concept::Up])
            || matches!(here.word.as_str(), "the" | "el" | "la" | "finger" | "dedo")
            || here.is_mark(',');
        let and = matches!(here.word.as_str(), "and" | "y");
        if is_finger(here) {
            given += 1;
            apart = joined;
            joined = false;
        } else if and {
            joined = true;
        } else if !between {
            break;
        }
    }
    Some((given, apart))
}

fn sounds(token: &Token) -> bool {
    token.is_any(&[
        Concept::Down,
        Concept::Up,
        Concept::StringWord,
        Concept::FretWord,
        Concept::Open,
        Concept::PullOff,
        Concept::HammerOn,
        Concept::Slur,
    ]) || matches!(token.word.as_str(), "s" | "f" | "dn" | "up")
}

/// A string said to sound open and fretted at once: the string and the fret.
pub fn open_and_fretted(asked: &Asked) -> Option<(u8, u8)> {
    let tokens = asked.tokens;
    if !asked.context.typed || !asked.says_any(&[Concept::Open, Concept::Barre]) {
        return None;
    }
    let together = tokens.iter().any(|token| {
        token.is(Concept::With) && !matches!(token.word.as_str(), "with" | "w" | "con" | "c" | "plus")
            || matches!(
                token.word.as_str(),
                "both" | "ambos" | "ambas" | "under" | "debajo" | "las dos" | "los dos"
            )
    });
    let no_fret = |at: usize| {
        token(tokens, at).joined
            && token(tokens, at).number == Some(0)
            && matches!(before(tokens, at).word.as_str(), "f" | "t" | "tr")
    };
    let barred = asked.says(Concept::Barre) && (0..tokens.len()).any(no_fret);
    let open = asked.says(Concept::Open) || barred;
    if !(together && open) {
        return None;
    }
    let named = |words: &[&str], concept: Concept| {
        let mut found: Vec<i64> = (0..tokens.len())
            .filter_map(|index| {
                let here = token(tokens, index);
                let short = words.contains(&here.word.as_str()) && token(tokens, index + 1).joined;
                let long = here.is(concept);
                if short || long {
                    return token(tokens, index + 1)
                        .number
                        .or_else(|| before(tokens, index).ordinal);
                }
                None
            })
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    };
    let strings = named(&["s", "c"], Concept::StringWord);
    let frets: Vec<i64> = named(&["f", "t", "tr"], Concept::FretWord)
        .into_iter()
        .filter(|fret| *fret > 0)
        .collect();
    match (strings.as_slice(), frets.as_slice()) {
        ([string], [fret]) => Some((u8::try_from(*string).ok()?, u8::try_from(*fret).ok()?)),
        _ => None,
    }
}
