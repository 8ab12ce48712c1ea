//! Counts and parts of counts as people say them: "the and of 3", "1y", "halfway through beat 3", "la última parte del 2".

use num_rational::Ratio;

use super::clauses::named_finger;
use super::context::Context;
use super::halves::{and_of, count_and};
use super::lexicon::{Concept, Language};
use super::says::{Kind, Says};
use super::tokens::Token;

/// A part of a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    Whole,
    /// The "and": the half, or the first third where a count has three parts.
    And,
    /// The "a" behind the and: the last third, or the last quarter of four.
    A,
    /// The n-th of the parts that the count has, from 1.
    Nth(i64),
    /// The last of the parts that the count has.
    Last,
    Exactly(Ratio<i64>),
}

/// A moment as said; without a count it is in the count that the talk is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct When {
    pub count: Option<i64>,
    pub part: Part,
}

impl When {
    pub fn count(count: i64) -> Self {
        Self {
            count: Some(count),
            part: Part::Whole,
        }
    }
}

static BLANK: Token = Token::BLANK;

/// The token at an index, or a blank one past either end.
pub fn token(tokens: &[Token], index: usize) -> &Token {
    tokens.get(index).unwrap_or(&BLANK)
}

pub fn before(tokens: &[Token], index: usize) -> &Token {
    index.checked_sub(1).map_or(&BLANK, |at| token(tokens, at))
}

/// Skips "of", "the", "beat" and the like in front of a count.
fn skip_link(tokens: &[Token], mut index: usize) -> usize {
    while matches!(
        token(tokens, index).word.as_str(),
        "of" | "de" | "del" | "the" | "el" | "beat" | "count" | "tiempo" | "through" | "after" | "number" | "en" | "on"
    ) {
        index += 1;
    }
    index
}

/// A count that stands behind "of": digits, a number word, "the first", up to 24.
pub fn counted(tokens: &[Token], index: usize) -> Option<(i64, usize)> {
    let at = skip_link(tokens, index);
    let here = token(tokens, at);
    let next = token(tokens, at + 1);
    if let Some(number) = here.number.filter(|number| (1..=24).contains(number)) {
        return (!next.is_any(&[Concept::StringWord, Concept::FretWord])).then_some((number, at + 1));
    }
    // "la segunda mitad del segundo": the beat is not said again.
    let alone = next.mark.is_some() || next.word.is_empty();
    if alone && here.ordinal.is_some() && here.word.ends_with('o') {
        return here.ordinal.map(|ordinal| (ordinal, at + 1));
    }
    let ordinal = here.ordinal.filter(|_| next.is(Concept::BeatWord))?;
    Some((ordinal, at + 2))
}

/// Words without a meaning of their own that a moment may begin with.
pub const MOMENT_WORDS: [&str; 14] = [
    "halfway", "midway", "between", "entre", "middle", "mid", "mitad", "a", "number", "numero", "count", "beat",
    "tiempo", "pulso",
];

/// What a token has to be for a moment to begin with it.
pub const MOMENT: Says = Says::NOTHING
    .kind(&[Kind::Number, Kind::Ordinal, Kind::Moment])
    .meaning(&[Concept::Half, Concept::SecondHalf, Concept::And, Concept::Last]);

/// Reads a moment told at a token; it and the index behind it.
type Read = fn(&[Token], usize, &Context) -> Option<(When, usize)>;

const COUNTED: Says = Says::NOTHING.kind(&[Kind::Number]);
const BY_ITS_WORD: Says = Says::NOTHING.kind(&[Kind::Moment]);

/// How a moment may be told by more than a bare count, each with what it begins with, in the order asked.
pub(super) const MOMENTS: [(Says, Read); 8] = [
    (COUNTED, |tokens, at, _| exact(tokens, at)),
    (COUNTED, |tokens, at, context| numbered_part(tokens, at, context.typed)),
    (BY_ITS_WORD, |tokens, at, _| halfway(tokens, at)),
    (
        BY_ITS_WORD.kind(&[Kind::Ordinal]).meaning(&[Concept::Last]),
        |tokens, at, context| named_part(tokens, at, context.language, context.thirds),
    ),
    (BY_ITS_WORD, |tokens, at, context| {
        the_a(tokens, at, context.language, context.thirds)
    }),
    (
        Says::NOTHING.meaning(&[Concept::Half, Concept::SecondHalf, Concept::And]),
        |tokens, at, context| and_of(tokens, at, context.language, context.typed),
    ),
    (COUNTED, |tokens, at, context| count_and(tokens, at, context.language)),
    (BY_ITS_WORD, |tokens, at, _| on_the_number(tokens, at)),
];

/// A moment told by more than a bare count. Returns it and the index behind it.
#[inline]
pub fn moment_at(tokens: &[Token], index: usize, context: &Context) -> Option<(When, usize)> {
    let says = token(tokens, index).says();
    says.any_of(MOMENT).then(|| moment_told(tokens, index, says, context))?
}

fn moment_told(tokens: &[Token], index: usize, says: Says, context: &Context) -> Option<(When, usize)> {
    let mut asked = MOMENTS.iter().filter(|(begins, _)| says.any_of(*begins));
    asked.find_map(|(_, read)| read(tokens, index, context))
}

/// "chick on the number, ka on the and", "on the count itself", "en el número": the whole of the count that the talk is at.
fn on_the_number(tokens: &[Token], index: usize) -> Option<(When, usize)> {
    let behind = token(tokens, index + 1);
    let itself = matches!(behind.word.as_str(), "itself" | "mismo" | "justo");
    let named = match token(tokens, index).word.as_str() {
        "number" | "numero" => true,
        "count" | "beat" | "tiempo" | "pulso" => itself,
        _ => false,
    };
    let article = matches!(before(tokens, index).word.as_str(), "the" | "el");
    let on = before(tokens, index.saturating_sub(1)).is(Concept::On);
    let end = index + 1 + usize::from(itself);
    let next = token(tokens, end);
    let closes = next.mark.is_some() || next.word.is_empty() || next.is(Concept::And);
    let when = When {
        count: None,
        part: Part::Whole,
    };
    (named && article && on && closes && index >= 2).then_some((when, end))
}

/// `7+1/3`, `4.5`, `2½`.
fn exact(tokens: &[Token], index: usize) -> Option<(When, usize)> {
    let count = token(tokens, index).number.filter(|_| !token(tokens, index).spelled)?;
    let joined = |offset: usize| token(tokens, index + offset).joined;
    let mark = |offset: usize| token(tokens, index + offset).mark.filter(|_| joined(offset));
    if mark(1) == Some('+') && mark(3) == Some('/') {
        let over = token(tokens, index + 2).number?;
        let under = token(tokens, index + 4)
            .number
            .filter(|under| (1..=16).contains(under))?;
        let part = Ratio::new(over, under);
        return (part < Ratio::from_integer(1)).then_some((
            When {
                count: Some(count),
                part: Part::Exactly(part),
            },
            index + 5,
        ));
    }
    if mark(1) == Some('.') && joined(2) && token(tokens, index + 2).word == "5" && count <= 16 {
        return Some((
            When {
                count: Some(count),
                part: Part::And,
            },
            index + 3,
        ));
    }
    (mark(1) == Some('½')).then_some((
        When {
            count: Some(count),
            part: Part::And,
        },
        index + 2,
    ))
}

/// `3: p s4, 2nd: i s3; 3rd: m s2`, `2ª i arr`: a part of the line's count, by its number. In front of a string's fret,
/// or with "string" behind, the number is a string's.
fn numbered_part(tokens: &[Token], index: usize, typed: bool) -> Option<(When, usize)> {
    let nth = token(tokens, index)
        .number
        .filter(|nth| (2..=4).contains(nth) && typed)?;
    let suffix = token(tokens, index + 1);
    let written = suffix.joined
        && (suffix.is_mark('ª')
            || suffix.is_mark('º')
            || matches!(suffix.word.as_str(), "nd" | "rd" | "th" | "a" | "o" | "ª" | "º"));
    let previous = before(tokens, index);
    let parted = previous.word.is_empty()
        || previous
            .mark
            .is_some_and(|mark| matches!(mark, ',' | ';' | '.' | ':' | '/'));
    let bracketed =
        matches!(previous.word.as_str(), "la" | "the") && before(tokens, index.saturating_sub(1)).is_mark('(');
    let next = token(tokens, index + 2);
    let struck = next.is_mark(':')
        || named_finger(next).is_some()
        || next.is_any(&[
            Concept::Down,
            Concept::Up,
            Concept::Golpe,
            Concept::Rasgueado,
            Concept::PullOff,
            Concept::HammerOn,
            Concept::Slur,
            Concept::Damp,
            Concept::Silence,
        ])
        || matches!(next.word.as_str(), "p" | "i" | "m" | "a" | "x")
        || bracketed && next.is_mark(',');
    (written && (parted || bracketed) && struck).then_some((
        When {
            count: None,
            part: Part::Nth(nth),
        },
        index + 2,
    ))
}

/// "halfway through beat 3", "between 2 and 3", "a mitad del 3", "entre el 2 y el 3".
fn halfway(tokens: &[Token], index: usize) -> Option<(When, usize)> {
    let half = |count: i64| When {
        count: Some(count),
        part: Part::And,
    };
    let word = token(tokens, index).word.as_str();
    let middle = matches!(word, "a mitad" | "mitad") && token(tokens, index + 1).word == "del";
    if middle || matches!(word, "halfway" | "midway" | "in the middle of" | "middle of") {
        let (count, end) = counted(tokens, index + 1)?;
        return Some((half(count), end));
    }
    if matches!(word, "between" | "entre") {
        let (first, end) = counted(tokens, index + 1)?;
        let and = token(tokens, end).is(Concept::And).then_some(end + 1)?;
        let (second, end) = counted(tokens, and)?;
        let follows = second == first + 1 || second == 1;
        return follows.then_some((half(first), end));
    }
    None
}

/// "on the a": the last of the three steps of "one and a".
fn the_a(tokens: &[Token], index: usize, language: Language, thirds: bool) -> Option<(When, usize)> {
    let here = token(tokens, index);
    let next = token(tokens, index + 1);
    let article = match language {
        Language::English => matches!(before(tokens, index).word.as_str(), "the" | "its"),
        Language::Spanish => matches!(before(tokens, index).word.as_str(), "el" | "la"),
    };
    let behind_article = article && thirds;
    let closes = next.mark.is_some() || next.word.is_empty() || next.is(Concept::Article);
    if !(behind_article && here.raw == "a") {
        return None;
    }
    if matches!(next.word.as_str(), "of")
        && let Some((count, end)) = counted(tokens, index + 1)
    {
        return Some((
            When {
                count: Some(count),
                part: Part::A,
            },
            end,
        ));
    }
    closes.then_some((
        When {
            count: None,
            part: Part::A,
        },
        index + 1,
    ))
}

/// "the second part of the 3", "the last step", "en la última parte del 1", "el tercer tercio".
fn named_part(tokens: &[Token], index: usize, language: Language, thirds: bool) -> Option<(When, usize)> {
    let here = token(tokens, index);
    let next = token(tokens, index + 1);
    let is_third = matches!(next.word.as_str(), "third" | "thirds" | "tercio");
    let part = if here.is(Concept::Last) {
        // "the last third" says how many parts there are.
        if is_third {
            Part::Exactly(Ratio::new(2, 3))
        } else {
            Part::Last
        }
    } else if is_third && matches!(here.word.as_str(), "middle" | "mid") {
        Part::Exactly(Ratio::new(1, 3))
    } else {
        Part::Nth(here.ordinal.filter(|nth| (1..=4).contains(nth))?)
    };
    // "tres notas, la primera con el pulgar en la quinta, la segunda con el índice"
    let of_so_many = |at: usize| {
        let counted = token(tokens, at).number.is_some() && !token(tokens, at + 1).word.is_empty();
        counted
            && matches!(
                token(tokens, at + 1).word.as_str(),
                "notas" | "corcheas" | "partes" | "notes" | "quavers"
            )
    };
    let one_of_them = matches!(before(tokens, index).word.as_str(), "la" | "the")
        && here.ordinal.is_some()
        && (next.is(Concept::With) && (index + 2..index + 4).any(|at| named_finger(token(tokens, at)).is_some())
            || next.is(Concept::Is) && (index + 2..index + 5).any(|at| token(tokens, at).is(Concept::StringWord)))
        && (0..index).any(of_so_many);
    if one_of_them {
        return Some((When { count: None, part }, index + 1));
    }
    let mut end = index + 1;
    let bare = thirds
        && language == Language::Spanish
        && here.word == "tercero"
        && before(tokens, index).word == "el"
        && (token(tokens, end).mark.is_some() || token(tokens, end).word.is_empty());
    if bare {
        return Some((When { count: None, part }, end));
    }
    if matches!(token(tokens, end).word.as_str(), "of" | "note")
        && token(tokens, end + 1).word == "the"
        && token(tokens, end + 2).is(Concept::Triplet)
    {
        end += 3;
    } else if token(tokens, end).is(Concept::PartWord)
        || matches!(token(tokens, end).word.as_str(), "corchea" | "quaver")
        || is_third && !token(tokens, end + 1).is_any(&[Concept::StringWord, Concept::FingerWord, Concept::FretWord])
        || (language == Language::English && token(tokens, end).word == "triplet")
    {
        end += 1;
    } else {
        return None;
    }
    if matches!(token(tokens, end).word.as_str(), "of" | "de" | "del" | "in")
        && let Some((count, end)) = counted(tokens, end)
    {
        return Some((
            When {
                count: Some(count),
                part,
            },
            end,
        ));
    }
    Some((When { count: None, part }, end))
}
