//! "LH 1 on s6 f1", "dedo 3 en 5ª tr 5", "the third finger is on the fourth string, third fret": fingers of the left hand,
//! each with the place it is put on.

use super::clauses::{ordinal_at, written_string};
use super::lexicon::Concept;
use super::moments::{before, token};
use super::sayings::{among, sayings};
use super::says::Kind;
use super::tokens::Token;
use crate::music::hand::{Fret, GuitarString, LeftFinger};

/// A finger and its place; what is not said of the place is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placed {
    pub finger: LeftFinger,
    pub string: Option<GuitarString>,
    pub fret: Fret,
    /// It lies over more than one string.
    pub lies: bool,
    /// The tokens that say so.
    pub start: usize,
    pub end: usize,
}

/// Words between a finger and its place.
const BETWEEN: usize = 9;

/// Every finger of the left hand that a sentence puts somewhere.
pub fn placed_fingers(tokens: &[Token]) -> Vec<Placed> {
    let mut found: Vec<Placed> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let listed = found.last().is_some_and(|last| last.end + 3 > at);
        let placed = placed_finger(tokens, at, listed).or_else(|| on_a_fret_named(tokens, at));
        match placed.filter(|_| !is_behind_its_place(tokens, at)) {
            Some(placed) => {
                at = placed.end;
                found.push(placed);
            }
            None => at += 1,
        }
    }
    found
}

/// "the fifth string, third fret, with finger 3, and then …": what comes is the next note, not the finger's place.
fn is_behind_its_place(tokens: &[Token], index: usize) -> bool {
    let with = (index.saturating_sub(2)..index).any(|at| matches!(token(tokens, at).word.as_str(), "with" | "con"));
    with && (0..index).any(|at| place_at(tokens, at).is_some_and(|(string, ..)| string.is_some()))
}

/// "1ª tr 9 y 2ª tr 1: dedo 4 en el 9": the number is the fret of a place that the sentence names.
fn on_a_fret_named(tokens: &[Token], index: usize) -> Option<Placed> {
    let (finger, mut at) = finger_at(tokens, index)?;
    at += usize::from(matches!(token(tokens, at).word.as_str(), "en" | "on" | "at" | "al"));
    at += usize::from(token(tokens, at).is(Concept::Article));
    let fret = token(tokens, at).number.and_then(|fret| u8::try_from(fret).ok())?;
    let named = (0..index).filter_map(|at| place_at(tokens, at));
    let mut strings: Vec<GuitarString> = named
        .filter(|place| place.1 == fret)
        .filter_map(|place| place.0)
        .collect();
    strings.dedup();
    let [string] = strings.as_slice() else {
        return None;
    };
    Some(Placed {
        finger,
        string: Some(*string),
        fret,
        lies: false,
        start: index,
        end: at + 1,
    })
}

fn placed_finger(tokens: &[Token], index: usize, listed: bool) -> Option<Placed> {
    let (finger, behind) = finger_at(tokens, index)
        .or_else(|| bare_finger(tokens, index).filter(|_| listed || opens_list(tokens, index)))?;
    let mut lies = false;
    for at in behind..behind + BETWEEN {
        let here = token(tokens, at);
        if let Some((string, fret, end)) = place_at(tokens, at).filter(|_| at > behind || !here.joined) {
            return Some(Placed {
                finger,
                string,
                fret,
                lies,
                start: index,
                end,
            });
        }
        lies |= is_barre(here);
        let stops = here.is_any(&[Concept::Negation, Concept::Play, Concept::Pluck, Concept::FingerWord])
            || here.mark.is_some_and(|mark| !matches!(mark, ',' | ':' | '=' | '('))
            || here.number.is_some() && !token(tokens, at + 1).is(Concept::StringWord)
            || here.word.is_empty() && here.mark.is_none();
        if stops {
            return None;
        }
    }
    None
}

/// "lies across", "de ceja", "de cejilla", "tumbado".
pub fn is_barre(token: &Token) -> bool {
    let first = token.word.split(' ').next().unwrap_or("");
    token.is_any(&[Concept::Barre, Concept::Capo]) || first == "bars" || among(&sayings().words.lying, first)
}

/// "finger 3", "dedo tres", "the third finger", `LH 1`, `MI 1`, "little finger on": the finger and the index behind it.
pub fn finger_at(tokens: &[Token], index: usize) -> Option<(LeftFinger, usize)> {
    let (here, next) = (token(tokens, index), token(tokens, index + 1));
    let of_hand = |number: Option<i64>| {
        let number = number.filter(|number| (1..=4).contains(number))?;
        u8::try_from(number).ok()
    };
    let hand = here.is(Concept::LeftHand) || here.word == "mi" && next.mark.is_none() && next.number.is_some();
    if hand {
        let colon = usize::from(next.is_mark(':'));
        let number = token(tokens, index + 1 + colon);
        return of_hand(number.number).map(|finger| (finger, index + 2 + colon));
    }
    if here.is(Concept::FingerWord) {
        return of_hand(next.number.or(next.ordinal)).map(|finger| (finger, index + 2));
    }
    if next.is(Concept::FingerWord) {
        return of_hand(here.ordinal).map(|finger| (finger, index + 2));
    }
    // No other finger of the right hand stands on a single string and fret so seldom.
    let little = here.is(Concept::FingerX) && here.word.len() > 2 && next.is(Concept::On);
    little.then_some((4, index + 1))
}

/// `2 en 4ª tr 3` in a list of fingers.
fn bare_finger(tokens: &[Token], index: usize) -> Option<(LeftFinger, usize)> {
    let here = token(tokens, index);
    let finger = here.number.filter(|number| (1..=4).contains(number) && !here.joined)?;
    let leads = token(tokens, index + 1);
    let led = leads.is(Concept::On) || matches!(leads.word.as_str(), "en" | "on" | "in" | "at" | "for" | "para");
    u8::try_from(finger)
        .ok()
        .filter(|_| led)
        .map(|finger| (finger, index + 1))
}

/// "Fmaj7: 1 en 2ª t1, 2 en 3ª t2", "LH for Dm: 1 on s1 f1, 2 on s3 f2": two fingers or more, each with its string and
/// fret and nothing else, behind the name of a chord or of the hand.
pub fn lists_fingers(tokens: &[Token]) -> bool {
    let near = tokens.get(..tokens.len().min(FAR)).unwrap_or_default();
    let colons = near.iter().enumerate().filter(|(_, token)| token.is_mark(':'));
    colons
        .map(|(at, _)| at + 1)
        .any(|at| at < near.len() && opens_list(tokens, at))
}

/// How far from the beginning of its sentence a list of fingers begins.
const FAR: usize = 14;

fn opens_list(tokens: &[Token], index: usize) -> bool {
    if !before(tokens, index).is_mark(':') || bare_finger(tokens, index).is_none() {
        return false;
    }
    let whose = |token: &Token| token.has(Kind::Name) || token.is_any(&[Concept::LeftHand, Concept::FingerWord]);
    let mut fingers = Vec::new();
    let mut at = index;
    while let Some((finger, behind)) = bare_finger(tokens, at) {
        let place = place_at(tokens, behind + 1);
        let Some((Some(_), 1.., end)) = place.filter(|_| !fingers.contains(&finger)) else {
            break;
        };
        fingers.push(finger);
        at = end;
        while token(tokens, at).is_mark(',') || token(tokens, at).is_any(&[Concept::And]) {
            at += 1;
        }
    }
    fingers.len() >= 2 && tokens.iter().take(index).any(whose)
}

/// A string and its fret in either order, or a fret alone where the words for it say so; the index behind.
pub fn place_at(tokens: &[Token], index: usize) -> Option<(Option<GuitarString>, Fret, usize)> {
    if let Some((string, behind)) = string_at(tokens, index) {
        let (fret, end) = fret_at(tokens, over_links(tokens, behind), true)?;
        return Some((Some(string), fret, end));
    }
    let (fret, behind) = fret_at(tokens, index, false)?;
    let leads = token(tokens, behind);
    let linked = leads.is_any(&[Concept::On]) || matches!(leads.word.as_str(), "of" | "de" | "on" | "en" | "del");
    match string_at(tokens, over_links(tokens, behind)).filter(|_| linked) {
        Some((string, end)) => Some((Some(string), fret, end)),
        None => Some((None, fret, behind)),
    }
}

fn over_links(tokens: &[Token], mut at: usize) -> usize {
    let link = |token: &Token| {
        token.is_mark(',')
            || token.is_any(&[Concept::On, Concept::Article])
            || matches!(
                token.word.as_str(),
                "en" | "on" | "at" | "of" | "de" | "del" | "the" | "el" | "la" | "al" | "in" | "its"
            )
    };
    while link(token(tokens, at)) && !token(tokens, at).is(Concept::Open) {
        at += 1;
    }
    at
}

/// `s5`, "string 5", "fifth string", "5ª", "la quinta": the string and the index behind.
pub fn string_at(tokens: &[Token], index: usize) -> Option<(GuitarString, usize)> {
    let (here, next) = (token(tokens, index), token(tokens, index + 1));
    let of_guitar = |number: i64| u8::try_from(number).ok().filter(|number| (1..=6).contains(number));
    if let Some(string) = written_string(tokens, index) {
        return Some((string, index + 2));
    }
    if here.is(Concept::StringWord) {
        return Some((of_guitar(next.number?)?, index + 2));
    }
    let (number, end) = ordinal_at(tokens, index)?;
    let string = of_guitar(number)?;
    let noun = token(tokens, end);
    if noun.is(Concept::StringWord) {
        return Some((string, end + 1));
    }
    let fret_behind = noun.is(Concept::FretWord) && token(tokens, end + 1).number.is_some();
    let other = noun.is_any(&[
        Concept::FretWord,
        Concept::FingerWord,
        Concept::BeatWord,
        Concept::PartWord,
        Concept::Times,
        Concept::Variation,
    ]);
    let feminine = here.word.ends_with('a') || token(tokens, index + 1).is_mark('ª') || end > index + 1;
    let bare = feminine || matches!(before(tokens, index).word.as_str(), "the" | "la");
    (fret_behind && feminine || bare && !other).then_some((string, end))
}

/// `f3`, `tr3`, "fret 3", "tr. 3", "third fret", "open"; right behind its string also "en el tres".
fn fret_at(tokens: &[Token], index: usize, behind_string: bool) -> Option<(Fret, usize)> {
    let (here, next) = (token(tokens, index), token(tokens, index + 1));
    let of_guitar = |number: i64| u8::try_from(number).ok().filter(|number| (0..=22).contains(number));
    if behind_string && here.is(Concept::Open) {
        return Some((0, index + 1));
    }
    let letter = matches!(here.word.as_str(), "f" | "t" | "tr") && next.joined;
    if letter || here.is(Concept::FretWord) {
        let dot = usize::from(next.is_mark('.'));
        let number = token(tokens, index + 1 + dot);
        return Some((of_guitar(number.number?)?, index + 2 + dot));
    }
    if let Some((number, end)) = ordinal_at(tokens, index).filter(|(_, end)| token(tokens, *end).is(Concept::FretWord))
    {
        return Some((of_guitar(number)?, end + 1));
    }
    let led = matches!(before(tokens, index).word.as_str(), "el" | "al" | "en") && behind_string;
    let unit = next.is_any(&[
        Concept::BeatWord,
        Concept::Times,
        Concept::StringWord,
        Concept::FingerWord,
    ]);
    let number = here.number.filter(|_| led && !unit && !here.joined)?;
    Some((of_guitar(number)?, index + 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::{Language, lexicon};
    use crate::reading::tokens::tokens;

    fn told(text: &str) -> String {
        let language = match text.split_once("es: ") {
            Some(_) => Language::Spanish,
            None => Language::English,
        };
        let text = text.strip_prefix("es: ").unwrap_or(text);
        let fingers = placed_fingers(&tokens(text, language, lexicon(language)));
        let show = |placed: &Placed| {
            let string = placed.string.map_or(String::new(), |string| format!("s{string}"));
            let lies = if placed.lies { "-" } else { "" };
            format!("{}{lies}:{string}f{}", placed.finger, placed.fret)
        };
        fingers.iter().map(show).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn fingers_and_their_places() {
        let table = [
            (
                "LH 1 on s6 f1 and LH 4 on s1 f7 (B), both down at once",
                "1:s6f1 4:s1f7",
            ),
            ("LH 1 on s4 f2, 2 on s3 f2, 3 on s2 f2", "1:s4f2 2:s3f2 3:s2f2"),
            (
                "es: dedo 3 en 5ª tr 5 y dedo 3 en 3ª tr 6, dedo 4 en 4ª tr 5",
                "3:s5f5 3:s3f6 4:s4f5",
            ),
            ("es: MI 1 en c1 tr1, 3 en c2 tr3, 3 en c3 tr2", "1:s1f1 3:s2f3 3:s3f2"),
            ("es: dedo 1 de cejilla en el tr 3", "1-:f3"),
            (
                "the third finger is on the fourth string, third fret, and the third finger is also on the third string, second fret",
                "3:s4f3 3:s3f2",
            ),
            (
                "the first finger lies across the top two strings at the first fret",
                "1-:f1",
            ),
            (
                "first finger on the second string, second fret, that's C sharp, and the little finger on the first string, fifth fret",
                "1:s2f2 4:s1f5",
            ),
            ("finger 2 goes on the third fret of the fifth string", "2:s5f3"),
            ("finger 2 is at string 5 fret 3", "2:s5f3"),
            (
                "es: se pone el dedo 1 en la sexta cuerda, primer traste, y a la vez el dedo 4 en la primera cuerda, octavo traste",
                "1:s6f1 4:s1f8",
            ),
            ("es: el primer dedo pisa el tercer traste de la quinta", "1:s5f3"),
            ("es: el dedo 4 va en la segunda en el tres", "4:s2f3"),
            (
                "es: m 1ª tr 9 e i 2ª tr 1, las dos a la vez: dedo 4 en el 9 y dedo 1 en el 1",
                "4:s1f9 1:s2f1",
            ),
            (
                "LH for A(b9): 1 on s4 f2, 3 on s3 f3, 2 on s2 f2",
                "1:s4f2 3:s3f3 2:s2f2",
            ),
            ("es: Fmaj7: 1 en 2ª t1, 2 en 3ª t2 y 3 en 4ª t3", "1:s2f1 2:s3f2 3:s4f3"),
            ("LH 1 for f1, 3 for f3, 4 for f4", "1:f1 3:f3 4:f4"),
            // No finger, no place.
            ("the run: 1 on s4 f2, 1 on s3 f3", ""),
            ("es: la vuelta: 1 en 5ª t3, & en 4ª t2", ""),
            ("string 5 fret 3 with finger 3, string 4 fret 2 with finger 2", ""),
            ("the index plays the third string, second fret", ""),
            ("LH 3 2 3, the same 3 for the G and for the C", ""),
            ("es: el dedo 3 no llega a la quinta", ""),
            ("finger 3 stays, and the thumb plays string 4 fret 2", ""),
            ("three downs on the second fret", ""),
        ];
        let read: Vec<(&str, String)> = table.iter().map(|(text, _)| (*text, told(text))).collect();
        let wanted: Vec<(&str, String)> = table
            .iter()
            .map(|(text, fingers)| (*text, (*fingers).to_owned()))
            .collect();
        assert_eq!(read, wanted);
    }
}
