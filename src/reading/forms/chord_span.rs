use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::says::{Kind, Needs, Says};
use super::super::spans::{count_list, span_at};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;

/// A name, and counts or a word for all of them.
pub const NEEDS: [Needs; 2] = [
    Needs::Here(Says::NOTHING.kind(&[Kind::Name])),
    Needs::Here(Says::NOTHING.kind(&[Kind::Number, Kind::Throughout]).meaning(&[
        Concept::FirstHalf,
        Concept::SecondHalf,
        Concept::All,
    ])),
];

/// `Am 1-3, G 4-6`, `A 7`, "A minor for the 1 2 3 and E7 for the 4 5 6", `3-6, Bb: …`.
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    // In a typed line a bare Spanish name may be one beside its counts.
    if asked.names.is_empty() && !asked.context.typed {
        return Vec::new();
    }
    let alike = (0..tokens.len()).any(|at| token(tokens, at).is_mark('=') && token(tokens, at + 1).number.is_some());
    if alike || asked.says_any(&[Concept::Same, Concept::AccentWord]) {
        return Vec::new();
    }
    let counted = asked.has_number() || asked.says_any(&[Concept::FirstHalf, Concept::SecondHalf]);
    let out = if counted { spans(asked) } else { Vec::new() };
    if out.is_empty() {
        return super::chords_told::read(asked);
    }
    out
}

/// Chords and their counts, one after the other.
fn spans(asked: &Asked) -> Vec<Located> {
    let mut out = Vec::new();
    // `LH for A: 1 2 3 side by side`: fingers.
    let hand = token(asked.tokens, 0).is(Concept::LeftHand);
    let of_a_chord = matches!(token(asked.tokens, 1).word.as_str(), "for" | "de" | "para");
    if hand && of_a_chord && asked.context.typed {
        return out;
    }
    let mut index = 0;
    while index < asked.tokens.len() {
        let found = chord_first(asked, index).or_else(|| span_first(asked, index));
        match found {
            Some((located, end)) => {
                out.push(located);
                index = end;
            }
            None => index += 1,
        }
    }
    out
}

fn chord_first(asked: &Asked, index: usize) -> Option<(Located, usize)> {
    let tokens = asked.tokens;
    let word = asked.name_at(index).cloned().or_else(|| bare_name(asked, index))?;
    let mut at = index + word.length;
    let mut linked = false;
    while token(tokens, at).is_any(&[Concept::Article, Concept::BeatWord])
        || matches!(
            token(tokens, at).word.as_str(),
            "for"
                | "en"
                | "on"
                | "over"
                | "from"
                | "desde"
                | "del"
                | "de"
                | "in"
                | "para"
                | "during"
                | "="
                | ":"
                | "("
                | "chord"
                | "covers"
                | "has"
                | "gets"
                | "holds"
                | "takes"
                | "lasts"
                | "entra"
                | "llega"
                | "viene"
                | "comes"
                | "enters"
                | "starts"
                | "los"
                | "las"
        )
    {
        linked |= !matches!(token(tokens, at).word.as_str(), "(" | ":" | "=");
        at += 1;
        if at > index + word.length + 4 {
            return None;
        }
    }
    // "en Mi al principio, en Fa desde el 3, …"
    let opens = token(tokens, at).word == "al" && token(tokens, at + 1).word == "principio";
    if opens && chords_on_counts(asked) >= 2 {
        return Some((told_over(tokens, index..at + 2, &word, (1, 1), false), at + 2));
    }
    let from_the = matches!(before(tokens, at.saturating_sub(1)).word.as_str(), "from" | "desde");
    let ordinal = token(tokens, at)
        .ordinal
        .filter(|_| from_the && linked && !asked.context.typed);
    if let Some(count) =
        ordinal.filter(|_| token(tokens, at + 1).mark.is_some() || token(tokens, at + 1).word.is_empty())
    {
        return Some((told_over(tokens, index..at + 1, &word, (count, count), false), at + 1));
    }
    let (first, last, end) = range(asked, at)?;
    let single = first == last;
    let and = token(tokens, end).is(Concept::And) && chords_on_counts(asked) >= 3;
    let listed = and
        || token(tokens, end).is_mark(',')
        || token(tokens, end).word.is_empty()
        || token(tokens, end).is_mark('.')
        || token(tokens, end).is_mark(';');
    let no_strokes = !tokens
        .iter()
        .any(|token| token.is_any(&[Concept::Down, Concept::Up, Concept::Golpe]));
    let fits = if single {
        let among_spans = (0..tokens.len()).any(|at| span_at(tokens, at).is_some());
        listed && no_strokes && (asked.context.typed && among_spans || chords_on_counts(asked) >= 3)
    } else {
        asked.context.typed && no_strokes || linked
    };
    fits.then(|| (told_over(tokens, index..end, &word, (first, last), false), end))
}

/// A chord over counts, told in the words of `told`.
pub fn told_over(
    tokens: &[Token],
    told: std::ops::Range<usize>,
    word: &super::super::pitch_words::PitchWord,
    (first, last): (i64, i64),
    strokes_follow: bool,
) -> Located {
    Located {
        statement: Statement::ChordOver {
            chord: word.chord(),
            first,
            last,
            strokes_follow,
        },
        start: token(tokens, told.start).start,
        end: token(tokens, told.end.saturating_sub(1)).end,
    }
}

/// "A on 1, E7 on 4, A on 7": how many chords the sentence puts on a count of their own.
fn chords_on_counts(asked: &Asked) -> usize {
    let tokens = asked.tokens;
    (0..tokens.len())
        .filter_map(|at| asked.name_at(at).map(|word| at + word.length))
        .filter(|behind| {
            let count = *behind + 1 + usize::from(token(tokens, *behind + 1).is(Concept::Article));
            token(tokens, *behind).is(Concept::On) && token(tokens, count).number.is_some()
        })
        .count()
}

/// "do en 1 a 3": in a typed line a bare Spanish name in front of "en" and counts.
fn bare_name(asked: &Asked, index: usize) -> Option<super::super::pitch_words::PitchWord> {
    if !asked.context.typed {
        return None;
    }
    let next = token(asked.tokens, index + 1);
    let capital = token(asked.tokens, index).raw.starts_with(char::is_uppercase);
    let over_counts = capital && span_at(asked.tokens, index + 1).is_some();
    let leads =
        over_counts || next.word == "en" && (2..5).any(|step| token(asked.tokens, index + step).number.is_some());
    leads
        .then(|| super::chord_shape::solfa_name(token(asked.tokens, index)))
        .flatten()
        .map(|mut word| {
            word.qualified = false;
            word
        })
}

/// What counts that stand in front of their chord begin with.
const COUNTS: Says = Says::NOTHING.kind(&[Kind::Number, Kind::Ordinal]).meaning(&[
    Concept::FirstHalf,
    Concept::SecondHalf,
    Concept::Last,
]);

/// `3-6, Bb: 3 i dn …`, `1-3 Am`, "1 to 3 is A minor".
fn span_first(asked: &Asked, index: usize) -> Option<(Located, usize)> {
    let tokens = asked.tokens;
    if !token(tokens, index).says().any_of(COUNTS) {
        return None;
    }
    let (first, last, behind) = span_at(tokens, index)
        .or_else(|| group(asked, index))
        .or_else(|| listed(asked, index))?;
    let mut at = behind;
    while token(tokens, at).is_any(&[Concept::Is, Concept::Keep])
        || matches!(
            token(tokens, at).word.as_str(),
            "," | "on"
                | "we're"
                | "we are"
                | "we stay"
                | "estamos"
                | "seguimos"
                | "van"
                | "still"
                | "="
                | "("
                | "the"
                | ":"
                | "over"
                | "en"
                | "el"
                | "sobre"
                | "todavia"
                | "aun"
                | "chord"
        )
    {
        at += 1;
        if at > behind + 3 {
            return None;
        }
    }
    let spanish = asked.context.typed && asked.context.language == super::super::lexicon::Language::Spanish;
    let closes =
        token(tokens, at + 1).mark.is_some() || matches!(token(tokens, at + 1).word.as_str(), "" | "otra" | "de");
    let word = asked.name_at(at).cloned().or_else(|| {
        (spanish && closes)
            .then(|| super::chord_shape::solfa_name(token(tokens, at)))
            .flatten()
    })?;
    let end = at + word.length;
    let strokes_follow =
        token(tokens, end).is_mark(':') || token(tokens, end).is_mark(')') && token(tokens, end + 1).is_mark(':');
    Some((told_over(tokens, index..end, &word, (first, last), strokes_follow), end))
}

/// "1 and 2 are on B flat", "el 1 y el 2 van en re menor": counts in a list, said to be on a chord.
fn listed(asked: &Asked, index: usize) -> Option<(i64, i64, usize)> {
    let (first, last, end) = count_list(asked.tokens, index).filter(|(first, last, _)| last > first)?;
    let links = |at: usize| token(asked.tokens, at).is(Concept::On) || token(asked.tokens, at).word == "en";
    let said_of =
        token(asked.tokens, end).is(Concept::Is) || matches!(token(asked.tokens, end).word.as_str(), "van" | "son");
    (said_of && links(end + 1)).then_some((first, last, end))
}

/// `1-3`, "1 2 3", "1, 2 and 3", "first four", "last two", "first half", `7`.
pub fn range(asked: &Asked, index: usize) -> Option<(i64, i64, usize)> {
    let tokens = asked.tokens;
    if let Some(span) = span_at(tokens, index) {
        return Some(span);
    }
    if let Some(group) = group(asked, index) {
        return Some(group);
    }
    let first = count(tokens, index)?;
    let mut last = first;
    let mut end = index + 1;
    loop {
        let mut at = end;
        // "el tres y el cuatro, el uno y el dos quietos": round the end only where a word or mark links them.
        let linked = token(tokens, at).is_any(&[Concept::And]) || token(tokens, at).mark.is_some();
        // "cambia solamente el uno, el dos sigue igual": without marks another thought begins.
        let told_of = (end + 1..end + 3)
            .find(|at| token(tokens, *at).number.is_some())
            .is_some_and(|at| {
                let behind = token(tokens, at + 1);
                behind.is_any(&[Concept::Same, Concept::AsUsual])
                    || matches!(behind.word.as_str(), "sigue" | "stays" | "queda")
            });
        if !linked && told_of {
            break;
        }
        while token(tokens, at).is_mark(',')
            || token(tokens, at).is(Concept::And)
            || token(tokens, at).is(Concept::Article)
            || token(tokens, at).is_mark('&')
            || token(tokens, at).word == "del"
            // "en el 3 y en el 4"
            || before(tokens, at).is(Concept::And) && matches!(token(tokens, at).word.as_str(), "en" | "on" | "al")
        {
            at += 1;
        }
        // "12, 1 and 2, three counts": how many they are.
        let how_many = token(tokens, at).spelled && token(tokens, at + 1).is(Concept::BeatWord);
        match count(tokens, at).filter(|_| !how_many) {
            // "12, 1 and 2" goes round the end of the compás.
            Some(next) if next == last + 1 || next == 1 && linked && asked.context.beats == Some(last) => {
                last = next;
                end = at + 1;
            }
            _ => break,
        }
    }
    Some((first, last, end))
}

fn count(tokens: &[Token], index: usize) -> Option<i64> {
    let next = token(tokens, index + 1);
    let of_a_name = token(tokens, index).joined && before(tokens, index).mark.is_none() && index > 0;
    token(tokens, index).number.filter(|number| {
        !of_a_name
            && (1..=24).contains(number)
            && !next.is_any(&[
                Concept::Times,
                Concept::StringWord,
                Concept::FretWord,
                Concept::Unit,
                Concept::ChordWord,
            ])
    })
}

/// "first four beats", "last two", "first half", "los dos primeros", "las cuatro últimas".
fn group(asked: &Asked, index: usize) -> Option<(i64, i64, usize)> {
    let tokens = asked.tokens;
    let here = token(tokens, index);
    let beats = asked.context.beats;
    if here.is(Concept::FirstHalf) {
        return beats.map(|beats| (1, beats / 2, index + 1));
    }
    if here.is(Concept::SecondHalf) {
        return beats.map(|beats| (beats / 2 + 1, beats, index + 1));
    }
    let next = token(tokens, index + 1);
    let mut end = index + 2;
    // "G7 has the second six"
    if here.ordinal == Some(2)
        && let Some(number) = next
            .number
            .filter(|number| beats.is_some_and(|beats| *number * 2 == beats || *number == beats))
    {
        return Some((number + 1, number * 2, end));
    }
    let (number, last) = if here.ordinal == Some(1) && next.number.is_some() {
        (next.number?, false)
    } else if here.is(Concept::Last) && next.number.is_some() {
        (next.number?, true)
    } else if here.number.is_some() && matches!(next.word.as_str(), "primeros" | "primeras" | "primeros tiempos") {
        (here.number?, false)
    } else if here.number.is_some() && next.is(Concept::Last) {
        (here.number?, true)
    } else {
        return None;
    };
    if token(tokens, end).is(Concept::BeatWord) {
        end += 1;
    }
    // "the first one": no count.
    if !(2..=12).contains(&number)
        || token(tokens, end).is_any(&[Concept::StringWord, Concept::FretWord, Concept::Times])
    {
        return None;
    }
    match (last, beats) {
        (false, _) => Some((1, number, end)),
        (true, Some(beats)) if number <= beats => Some((beats - number + 1, beats, end)),
        (true, _) => None,
    }
}
