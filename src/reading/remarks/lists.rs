use crate::music::remark::{Remark, Things};
use crate::reading::context::Context;
use crate::reading::lexicon::Concept;
use crate::reading::listed::all_of;
use crate::reading::moments::{before, token};
use crate::reading::pitch_words::pitch_at;
use crate::reading::sayings::{among, sayings};
use crate::reading::says::Kind;
use crate::reading::tokens::{Token, Tokens};
use crate::text::Place;

/// How many: a number a list can have.
fn how_many(tokens: &[Token], at: usize) -> Option<usize> {
    let number = token(tokens, at).number.filter(|number| (2..=8).contains(number))?;
    usize::try_from(number).ok()
}

/// "there are five accents": the number, in front of their list.
pub fn accents_announced(tokens: &Tokens) -> Option<usize> {
    if !tokens.says.means(Concept::AccentWord) || tokens.says.means(Concept::Correction) {
        return None;
    }
    let word = (1..tokens.len()).find(|at| token(tokens, *at).is(Concept::AccentWord))?;
    announced_at(tokens, word)
}

/// The number right in front of the word for accents: how many there are, and no accent.
pub fn announced_at(tokens: &[Token], word: usize) -> Option<usize> {
    let plural = token(tokens, word).word.ends_with('s');
    let listed = word >= 2
        && before(tokens, word - 1).mark.is_some_and(|mark| mark != ':')
        && before(tokens, word - 2).number.is_some();
    how_many(tokens, word.checked_sub(1)?).filter(|_| plural && !listed)
}

/// "four chords for this, and they are A, and D, and E7", "las posturas son dos, el Do, x32010, y el Sol siete": how many
/// are said, and how many the same sentence names in one closed list.
pub fn chords_listed(tokens: &Tokens, context: &Context) -> Option<(usize, usize)> {
    if !tokens.says.means(Concept::ChordWord) || !tokens.says.has(Kind::Name) {
        return None;
    }
    let word = tokens.iter().position(|token| token.is(Concept::ChordWord))?;
    let leads = |at: usize| token(tokens, at).is(Concept::Is) || token(tokens, at).mark.is_some();
    let behind = (word + 1..word + 3)
        .take_while(|at| leads(*at))
        .last()
        .map_or(0, |at| at + 1);
    let in_front = word.checked_sub(1).map(|at| (at, how_many(tokens, at)));
    let said_behind = how_many(tokens, behind).filter(|_| behind > 0 && token(tokens, behind + 1).mark.is_some());
    let (number, said) = match in_front {
        Some((at, Some(said))) => (at, said),
        _ => (behind, said_behind?),
    };
    let mut names = Vec::new();
    let (mut at, mut closed, mut parted) = (number.max(word) + 1, false, false);
    let end = (at..tokens.len()).find(|at| token(tokens, *at).is_mark('.') || token(tokens, *at).is_mark(';'));
    let end = end.unwrap_or(tokens.len());
    while at < end {
        if let Some(pitch) = pitch_at(tokens, at, context.language, true) {
            let chord = pitch.chord();
            closed = parted;
            if !names.contains(&chord) {
                names.push(chord);
            }
            at += pitch.length;
            parted = false;
            continue;
        }
        parted |= token(tokens, at).is(Concept::And);
        if !names.is_empty() && !between_names(token(tokens, at)) {
            break;
        }
        at += 1;
    }
    // Where the sentence goes on, the rest of them may stand there.
    let whole = closed && (at..end).all(|at| token(tokens, at).mark.is_some());
    let told = names.len() >= 2 && (whole || names.len() > said);
    told.then_some((said, names.len()))
}

/// "two notes on every one of those three counts: F sharp, E, D sharp, C sharp, B": how many notes that makes, and how many
/// names its list holds, where it holds nothing else.
pub fn notes_listed(tokens: &Tokens, context: &Context) -> Option<(usize, usize)> {
    const LEAST: usize = 3;
    if !tokens.says.has(Kind::Name) || !tokens.says.means(Concept::BeatWord) {
        return None;
    }
    let colon = tokens.iter().position(|token| token.is_mark(':'))?;
    let each = |at: &usize| {
        matches!(
            token(tokens, *at).word.as_str(),
            "each" | "every" | "every one" | "cada" | "cada uno"
        )
    };
    let each = (0..colon).find(each)?;
    let notes = |at: &usize| matches!(token(tokens, *at).word.as_str(), "notes" | "notas");
    let per_count = how_many(tokens, (1..each).rfind(notes)?.checked_sub(1)?)?;
    let counted = |at: &usize| token(tokens, at + 1).is(Concept::BeatWord) && token(tokens, at + 1).word.ends_with('s');
    let counts = how_many(tokens, (each + 1..colon).find(counted)?)?;
    let mut given = 0;
    let mut at = colon + 1;
    while at < tokens.len() {
        let here = token(tokens, at);
        let parts = here.mark.is_some() || here.is_any(&[Concept::And, Concept::Then]);
        match pitch_at(tokens, at, context.language, context.typed) {
            Some(name) => (given, at) = (given + 1, at + name.length),
            None if parts => at += 1,
            None => return None,
        }
    }
    (given >= LEAST).then_some((per_count * counts, given))
}

/// Marks, small words and the frets of a shape.
fn between_names(token: &Token) -> bool {
    token.mark.is_some()
        || token.number.is_some()
        || token.is_any(&[
            Concept::And,
            Concept::Article,
            Concept::Is,
            Concept::Then,
            Concept::With,
        ])
        || token.word.starts_with('x') && token.word.len() <= 6
        || matches!(
            token.word.as_str(),
            "which" | "that" | "que" | "equis" | "cero" | "nought" | "zero" | "open"
        )
}

/// Things announced by a number and told first, second, third, until somebody says that this was all.
#[derive(Debug, Clone, Default)]
pub struct Points {
    open: Option<Open>,
}

#[derive(Debug, Clone)]
struct Open {
    said: usize,
    given: usize,
    place: Place,
}

impl Points {
    /// Hears one sentence; the list, when it is closed.
    pub fn hear(&mut self, tokens: &Tokens, place: Place) -> Option<(Remark, Place)> {
        if let Some(said) = points_announced(tokens) {
            let given = 0;
            self.open = Some(Open { said, given, place });
        }
        let open = self.open.as_mut()?;
        for at in 0..tokens.len() {
            let next = i64::try_from(open.given + 1).unwrap_or(i64::MAX);
            open.given += usize::from(nth_point(tokens, at) == Some(next));
        }
        if !closes(tokens) {
            return None;
        }
        let Open { said, given, place } = self.open.take()?;
        let what = Things::Points;
        (given >= 2).then_some((Remark::Listed { what, said, given }, place))
    }
}

/// The words for what is announced by its number.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    all_of(Kind::Point, sayings().words.points.iter())
}

/// "cuatro deberes para esta semana", "three things for Tuesday".
fn points_announced(tokens: &Tokens) -> Option<usize> {
    if !tokens.says.has(Kind::Number) || !tokens.says.has(Kind::Point) {
        return None;
    }
    let noun = |at: &usize| among(&sayings().words.points, &token(tokens, *at).word);
    let at = (1..tokens.len()).find(noun)?;
    how_many(tokens, at - 1).or_else(|| how_many(tokens, at.checked_sub(2)?))
}

/// "El primero, …", "And the third is …".
fn nth_point(tokens: &[Token], at: usize) -> Option<i64> {
    let here = token(tokens, at);
    let nth = here.ordinal.filter(|nth| (1..=8).contains(nth));
    let nth = nth.or_else(|| (here.word == "firstly").then_some(1))?;
    let next = token(tokens, at + 1);
    let behind =
        next.mark.is_some_and(|mark| matches!(mark, ',' | ':' | '.')) || next.is(Concept::Is) || next.word == "one";
    let small = |at: &usize| token(tokens, *at).is_any(&[Concept::Article, Concept::And, Concept::Then, Concept::So]);
    let lead = (0..at).rev().take_while(small).last().unwrap_or(at);
    let opens = lead == 0 || before(tokens, lead).mark.is_some();
    (behind && opens).then_some(nth)
}

/// "y esos son todos", "that's all", "ya está".
fn closes(tokens: &[Token]) -> bool {
    let words = &sayings().words;
    (0..tokens.len()).any(|at| {
        let (here, next) = (token(tokens, at), token(tokens, at + 1));
        let pair = [here.word.as_str(), next.word.as_str()].join(" ");
        let ends = next.mark.is_some() || next.word.is_empty();
        let all = here.is(Concept::All)
            && ends
            && (at.saturating_sub(2)..at)
                .any(|at| token(tokens, at).is(Concept::Is) || token(tokens, at).word == "that's");
        all || among(&words.that_is_all, &pair) || among(&words.that_is_all, &here.word)
    })
}
