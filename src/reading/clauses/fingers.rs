use super::super::context::Context;
use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Says};
use super::super::tokens::{Token, compact};
use super::names::is_sign;
use super::strings::written_string;
use crate::music::hand::Finger;

/// Right-hand fingers at a token: a name, a letter, or a row of letters. Also how the little finger was written.
pub fn right_fingers(
    tokens: &[Token],
    index: usize,
    context: &Context,
) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let here = token(tokens, index);
    if let Some(finger) = named_finger(here) {
        let cut = here.is(Concept::FingerX) && here.word == "little" && !fingerish(tokens, index + 1);
        if here.word == "medio" && token(tokens, index + 1).is(Concept::BeatWord) {
            return None;
        }
        let mut end = index + 1;
        if token(tokens, end).is(Concept::FingerWord) {
            end += 1;
        }
        return (!cut).then_some((vec![finger], None, end));
    }
    here.has(Kind::FingerLetter).then(|| letters(tokens, index, context))?
}

/// "index, middle, index, middle": fingers named one by one, with at most a comma between them; the index behind them.
pub fn fingers_one_by_one(tokens: &[Token], index: usize, context: &Context) -> (Vec<Finger>, usize) {
    let single = |at: usize| right_fingers(tokens, at, context).filter(|(fingers, ..)| fingers.len() == 1);
    let (mut row, mut at) = (Vec::new(), index);
    while let Some((fingers, _, end)) = single(at) {
        row.extend(fingers);
        at = end + usize::from(token(tokens, end).is_mark(','));
    }
    (row, at)
}

/// Right-hand fingers at a token, also by a sign of the writer's own that stands for nothing else, and the index behind.
pub fn fingers_or_sign(tokens: &[Token], index: usize, context: &Context) -> Option<(Vec<Finger>, usize)> {
    let here = token(tokens, index);
    let sign = context.aliases.iter().find(|sign| {
        let stands = matches!(sign.words.as_slice(), [word] if is_sign(here, word));
        sign.action.is_none() && !sign.fingers.is_empty() && stands
    });
    match sign {
        Some(sign) => Some((sign.fingers.clone(), index + 1)),
        None => right_fingers(tokens, index, context).map(|(fingers, _, end)| (fingers, end)),
    }
}

pub(super) fn fingerish(tokens: &[Token], index: usize) -> bool {
    let next = token(tokens, index);
    next.is(Concept::FingerWord)
        || next.mark.is_some()
        || next.word.is_empty()
        || next.is_any(&[Concept::Down, Concept::Up, Concept::And])
        || named_finger(next).is_some()
}

/// The fingers of the right hand, by the words for them.
pub const FINGERS: [(Concept, Finger); 5] = [
    (Concept::FingerP, Finger::P),
    (Concept::FingerI, Finger::I),
    (Concept::FingerM, Finger::M),
    (Concept::FingerA, Finger::A),
    (Concept::FingerX, Finger::X),
];

/// What a word has to be for a finger to be named by it.
pub const NAMED_FINGER: Says = Says::NOTHING.meaning(&[
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerM,
    Concept::FingerA,
    Concept::FingerX,
]);

/// The same, or its letter.
pub const RIGHT_FINGER: Says = NAMED_FINGER.kind(&[Kind::FingerLetter]);

pub fn named_finger(token: &Token) -> Option<Finger> {
    if token.concepts.is_empty() {
        return None;
    }
    let named = FINGERS.iter().find(|(concept, _)| token.is(*concept));
    named.map(|(_, finger)| *finger)
}

/// Whether a word, as written and folded, may be a finger's letter or a row of them.
pub fn may_be_finger_letters(raw: &str, word: &str) -> bool {
    word.len() <= 2 && letter_finger(word).is_some() || !raw.is_empty() && are_letters(raw)
}

fn are_letters(raw: &str) -> bool {
    raw.bytes().all(|byte| matches!(byte, b'p' | b'i' | b'm' | b'a' | b'x'))
}

pub fn letter_finger(word: &str) -> Option<Finger> {
    match word {
        "p" => Some(Finger::P),
        "i" => Some(Finger::I),
        "m" => Some(Finger::M),
        "a" => Some(Finger::A),
        "x" | "e" | "c" | "ch" | "q" | "s" => Some(Finger::X),
        _ => None,
    }
}

/// Finger letters. In typed notes a lone letter counts in front of a stroke or string, behind "with", or in a row;
/// in speech only a row of letters does.
pub(super) fn letters(
    tokens: &[Token],
    index: usize,
    context: &Context,
) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let mut fingers = Vec::new();
    let mut little = None;
    let mut at = index;
    loop {
        let here = token(tokens, at);
        let single = |raw: &str| raw.chars().count() <= 2 && !raw.contains(' ');
        let Some(finger) = letter_finger(&here.word).filter(|_| here.mark.is_none() && single(&here.raw)) else {
            break;
        };
        // "i baja e i sube": the Spanish "and" in front of an i.
        let and =
            here.word == "e" && at == index && token(tokens, at + 1).word == "i" && before(tokens, at).is_any(&STROKES);
        if and || here.joined && at == index && before(tokens, at).number.is_some() {
            break;
        }
        if token(tokens, at + 1).joined && token(tokens, at + 1).number.is_some() {
            break;
        }
        let slashed = token(tokens, at + 1).is_mark('/') && token(tokens, at + 1).joined;
        let preposition = here.word == "a"
            && at == index
            && before(tokens, at).is_any(&[Concept::Slur, Concept::PullOff, Concept::HammerOn, Concept::On]);
        let small_word = || from_one_place(tokens, index) || is_article(tokens, index, context);
        let preposition = preposition || here.word == "a" && at == index && small_word();
        if slashed && matches!(here.word.as_str(), "c" | "w") || preposition {
            break;
        }
        let capital = here.raw.chars().next().is_some_and(char::is_uppercase);
        if capital
            && (finger == Finger::A || here.word == "c" || here.word == "e" || at > index && here.word == "i")
            && fingers.len() < 2
        {
            break;
        }
        fingers.push(finger);
        if finger == Finger::X && here.word != "x" {
            little = Some(here.raw.to_string());
        }
        at += 1;
        if (token(tokens, at).is_mark('-') && token(tokens, at).joined)
            || token(tokens, at).is_mark(',')
                && row_goes_on(tokens, at + 1)
                && (fingers.len() >= 2 || token(tokens, at + 2).is_mark(',') && row_goes_on(tokens, at + 3))
        {
            at += 1;
        }
    }
    if fingers.is_empty() {
        return joined_row(tokens, index);
    }
    if fingers.len() >= 2 {
        let article = !context.typed
            && fingers.len() == 2
            && fingers.contains(&Finger::A)
            && !fingers.contains(&Finger::M)
            && !fingers.contains(&Finger::P);
        return (!article).then_some((fingers, little, at));
    }
    if let Some(pair) = two_letters(tokens, index, context) {
        return Some((pair, None, index + 3));
    }
    let previous = before(tokens, index);
    let next = token(tokens, index + 1);
    let letter = token(tokens, index).word.as_str();
    let with_slash = previous.is_mark('/') && index >= 2 && token(tokens, index - 2).word == "w";
    let held =
        with_slash || previous.is(Concept::With) || previous.is_mark('(') && next.is_mark(')') || previous.is_mark('+');
    let closes = next.mark.is_some() || next.word.is_empty();
    if !context.typed {
        let spoken = held && closes && letter != "e" && letter != "c" && letter != "s";
        return spoken.then_some((fingers, little, index + 1));
    }
    let led = next.is_any(&STROKES)
        || next.is(Concept::StringWord)
        || matches!(next.word.as_str(), "plays" | "toca")
        || matches!(next.word.as_str(), "s" | "c")
            && token(tokens, index + 2).joined
            && token(tokens, index + 2).number.is_some()
        || numbered_string(tokens, index + 1)
        || string_behind(tokens, index + 1);
    // "& i and m together", where each finger has its string
    let own = !context.own_strings.is_empty();
    let another = |at: usize| row_goes_on(tokens, at);
    let pair = own
        && (next.is(Concept::And) && another(index + 2)
            || previous.is(Concept::And) && another(index.saturating_sub(2)));
    let behind_stroke = previous.is_any(&[Concept::Golpe, Concept::Down, Concept::Up, Concept::Rasgueado]) && closes;
    let opens =
        previous.is_mark(',') || previous.is_mark(':') || own && previous.is_mark('&') || previous.word.is_empty();
    let starts = opens && closes && (letter != "a" || own) || pair;
    let alone = closes && (previous.is(Concept::All) || previous.word == "still" || previous.word == "siempre")
        || next.word == "alone" && letter != "a";
    let told = led || held && closes || behind_stroke || starts || alone;
    told.then_some((fingers, little, index + 1))
}

/// "m and a together", "m and a down": in speech two letters that strike at once; one of them is no word by itself.
fn two_letters(tokens: &[Token], index: usize, context: &Context) -> Option<Vec<Finger>> {
    let letter = |at: usize| {
        let here = token(tokens, at);
        let plain = matches!(here.raw.as_str(), "p" | "i" | "m" | "a");
        letter_finger(&here.word).filter(|_| plain)
    };
    let (first, second) = (letter(index)?, letter(index + 2)?);
    let behind = token(tokens, index + 3);
    let strikes = behind.is_any(&STROKES)
        || behind.mark.is_some()
        || matches!(
            behind.word.as_str(),
            "together" | "both" | "at once" | "juntos" | "flick" | "a la vez"
        );
    let unlike = first != second && (matches!(first, Finger::P | Finger::M) || matches!(second, Finger::P | Finger::M));
    let linked = token(tokens, index + 1).is(Concept::And) && !context.typed;
    (linked && strikes && unlike).then(|| vec![first, second])
}

/// "tirón del 3 a s4 f2", "el 1 pasa de c2 a c1": from one place to another.
fn from_one_place(tokens: &[Token], index: usize) -> bool {
    let number = before(tokens, index);
    let lead = |back: usize| index.checked_sub(back).map_or("", |at| token(tokens, at).word.as_str());
    let of_a_string = number.joined && matches!(lead(3), "del" | "de" | "from");
    number.number.is_some() && (matches!(lead(2), "del" | "de") || of_a_string)
}

/// What a finger's letter stands in front of.
const STROKES: [Concept; 7] = [
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::Rasgueado,
    Concept::Alzapua,
    Concept::PullOff,
    Concept::Pluck,
];

/// "On 4 you play a golpe", "3 is a down with the index": behind a verb, or in a sentence that says fingers by their names,
/// no finger's letter.
fn is_article(tokens: &[Token], index: usize, context: &Context) -> bool {
    let lead = before(tokens, index);
    let prose = &sayings().words.prose;
    let said_of = lead.is_any(&[Concept::Is, Concept::Play]) || among(prose, &lead.word) || lead.word == "with";
    // Behind a stroke or a letter it would be the next one's finger.
    let shorthand = lead.is_any(&[Concept::Down, Concept::Up, Concept::Golpe]) || letter_finger(&lead.word).is_some();
    let word = |token: &Token| token.word.len() > 1 && named_finger(token).is_some() || among(prose, &token.word);
    let named = || tokens.iter().any(word);
    let count = index.saturating_sub(1 + usize::from(lead.is_mark(',')));
    let on_a_count = token(tokens, count).number.is_some() && before(tokens, count).is(Concept::On);
    let names = token(tokens, index + 1).is_any(&STROKES);
    context.language == Language::English && names && (said_of || !shorthand && (on_a_count || named()))
}

/// "p en la 6ª", "i on the 3rd string".
fn string_behind(tokens: &[Token], index: usize) -> bool {
    if !token(tokens, index).is(Concept::On) {
        return false;
    }
    let led = token(tokens, index + 1).is(Concept::Article) || token(tokens, index + 1).word == "the";
    let at = index + 1 + usize::from(led);
    // "m on the 2nd."
    let behind = token(tokens, at + 1);
    let suffixed = token(tokens, at).number.is_some_and(|string| (1..=6).contains(&string))
        && behind.joined
        && matches!(behind.word.as_str(), "st" | "nd" | "rd" | "th");
    if led && (suffixed || token(tokens, at).ordinal.is_some_and(|string| string <= 6)) {
        return true;
    }
    // "i en c3"
    if written_string(tokens, at).is_some() {
        return true;
    }
    let ordinal = token(tokens, at).ordinal.is_some() || token(tokens, at).number.is_some();
    // "p en la cuarta al aire", "p en la 4 en el segundo traste"
    let held = || {
        (at + 1..at + 5)
            .take_while(|at| token(tokens, *at).mark.is_none())
            .any(|at| token(tokens, at).is_any(&[Concept::StringWord, Concept::FretWord, Concept::Open]))
    };
    numbered_string(tokens, at) || ordinal && held()
}

/// `4ª`, `6ª/3`, `5/2`: a string by its number.
fn numbered_string(tokens: &[Token], index: usize) -> bool {
    let string = token(tokens, index)
        .number
        .is_some_and(|number| (1..=6).contains(&number));
    let sign = token(tokens, index + 1);
    let pair = matches!(sign.mark, Some('/' | ':')) && token(tokens, index + 2).number.is_some();
    string && sign.joined && (sign.is_mark('ª') || pair && token(tokens, index + 2).joined)
}

pub(super) fn row_goes_on(tokens: &[Token], index: usize) -> bool {
    let here = token(tokens, index);
    letter_finger(&here.word).is_some() && here.raw.chars().count() == 1 && here.raw == here.word
}

/// `xami`, `pimami`, `im` written as one word, where it can be nothing else.
pub(super) fn joined_row(tokens: &[Token], index: usize) -> Option<(Vec<Finger>, Option<String>, usize)> {
    let begins = &token(tokens, index).raw;
    if begins.is_empty() || !are_letters(begins) {
        return None;
    }
    let (word, length) = compact(tokens, index);
    let row = word.len() >= 3
        && word.len() <= 8
        && !matches!(word.as_str(), "mia" | "pia" | "mami" | "api" | "amp" | "imp" | "map");
    let fingers = (0..word.len()).filter_map(|at| letter_finger(word.get(at..at + 1)?));
    (row && are_letters(&word)).then(|| (fingers.collect(), None, index + length))
}
