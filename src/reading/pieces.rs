//! A sentence cut into words, numbers and marks, as they stand.

use std::borrow::Cow;

use crate::text::folded;

/// A word, a number or a mark as it stands in the sentence.
#[derive(Debug)]
pub struct Piece<'a> {
    pub start: usize,
    pub end: usize,
    pub folded: Cow<'a, str>,
    pub mark: Option<char>,
    pub joined: bool,
}

impl Piece<'_> {
    /// A word that does not stand in the sentence as it is read.
    fn word(folded: &str, start: usize, end: usize, joined: bool) -> Self {
        Self {
            start,
            end,
            folded: Cow::Owned(folded.to_owned()),
            mark: None,
            joined,
        }
    }
}

/// `③`: a string by its number in a circle, as printed music has it.
fn circled(letter: char) -> Option<u32> {
    ('①'..='⑥').contains(&letter).then(|| letter as u32 - '①' as u32 + 1)
}

/// `④3` reads as `s4f3`.
fn circled_string(pieces: &mut Vec<Piece>, start: usize, end: usize, string: u32) {
    pieces.push(Piece::word("s", start, end, false));
    pieces.push(Piece::word(&string.to_string(), start, end, true));
}

/// "8's the landing": the `'s` behind a number is "is". An apostrophe stands at the byte.
fn is_behind_a_number(sentence: &str, at: usize) -> bool {
    let numbered = letter_before(sentence, at).is_some_and(|before| before.is_ascii_digit());
    let behind = at + letter_at(sentence, at).map_or(0, char::len_utf8);
    numbered
        && letter_at(sentence, behind) == Some('s')
        && letter_at(sentence, behind + 1).is_none_or(|behind| !behind.is_alphanumeric())
}

/// `w/`, `w/o`, `c/`: words of people who write quickly. The slash stands at the byte.
fn slashed(sentence: &str, at: usize, letter: &Piece) -> Option<Piece<'static>> {
    let next = letter_at(sentence, at + 1);
    let parts = next.is_none_or(|next| next.is_whitespace() || next.is_alphabetic());
    let word = match &*letter.folded {
        "w" => "with",
        "c" => "con",
        _ => return None,
    };
    (parts && !letter.joined && next != Some('o')).then(|| Piece::word(word, letter.start, at + 1, false))
}

impl AsRef<str> for Piece<'_> {
    fn as_ref(&self) -> &str {
        &self.folded
    }
}

/// Runs of letters, runs of digits, single marks. A hyphen between letters parts words without being a mark.
pub fn pieces(sentence: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::with_capacity(sentence.len() / 3 + 2);
    let mut start = 0;
    let mut joined = false;
    while let Some(begins) = sentence.as_bytes().get(start) {
        if *begins == b' ' {
            joined = false;
            start += 1;
            continue;
        }
        if let Some(word) = plain_word(sentence, start, joined).or_else(|| plain_sign(sentence, start, joined)) {
            joined = true;
            start = word.end;
            pieces.push(word);
            continue;
        }
        let Some(letter) = letter_at(sentence, start) else {
            break;
        };
        if letter.is_whitespace() {
            joined = false;
            start += letter.len_utf8();
            continue;
        }
        if letter == '/'
            && let Some(word) = pieces
                .last()
                .filter(|_| joined)
                .and_then(|last| slashed(sentence, start, last))
        {
            pieces.pop();
            pieces.push(word);
            start += 1;
            continue;
        }
        let class = class_of(letter);
        if let Some(string) = circled(letter) {
            let end = start + letter.len_utf8();
            circled_string(&mut pieces, start, end, string);
            if letter_at(sentence, end).is_some_and(|next| next.is_ascii_digit()) {
                pieces.push(Piece::word("f", end, end, true));
            }
            joined = true;
            start = end;
            continue;
        }
        if is_apostrophe(letter) && is_behind_a_number(sentence, start) {
            let end = start + letter.len_utf8() + 1;
            pieces.push(Piece::word("is", start, end, false));
            joined = true;
            start = end;
            continue;
        }
        let opaque = opaque(sentence, start).filter(|_| !joined || class != Class::Mark);
        let end = opaque.unwrap_or_else(|| run_end(sentence, start, letter));
        let folded = folded(sentence.get(start..end).unwrap_or(""));
        let mark = class == Class::Mark && opaque.is_none();
        if !(letter == '-' && parts_words(sentence, start)) {
            pieces.push(Piece {
                start,
                end,
                mark: mark.then(|| mark_of(letter, &folded)),
                folded,
                joined,
            });
        }
        joined = true;
        start = end;
    }
    pieces
}

/// The mark as tokens know it: `’` is `'`, while the raised letters of `3ª` and `4º` stay what they are.
fn mark_of(letter: char, folded: &str) -> char {
    match letter {
        'ª' | 'º' | '½' => letter,
        _ => folded.chars().next().unwrap_or(letter),
    }
}

/// A number of a few figures, or a plain mark that stands for nothing but itself.
fn plain_sign(sentence: &str, start: usize, joined: bool) -> Option<Piece<'_>> {
    let rest = sentence.as_bytes().get(start..)?;
    let first = *rest.first()?;
    let length = match first {
        b'0'..=b'9' => rest.iter().take_while(|figure| figure.is_ascii_digit()).count(),
        b'\'' | b'/' | b'-' => return None,
        _ => usize::from(first.is_ascii_punctuation()),
    };
    // Letters grow together with figures into marks of versions, and many figures are one already.
    let grows = first.is_ascii_digit() && (length > 6 || rest.get(length).is_some_and(u8::is_ascii_alphabetic));
    let sign = sentence.get(start..start + length).filter(|_| length > 0 && !grows)?;
    Some(Piece {
        start,
        end: start + length,
        folded: Cow::Borrowed(sign),
        mark: (!first.is_ascii_digit()).then(|| char::from(first)),
        joined,
    })
}

/// The bit that a plain letter has and its capital has not.
const CAPITAL: u8 = b'a' ^ b'A';

/// A word of plain letters and nothing else, the most common piece: nothing that it could grow together with stands
/// behind it, and it begins no address.
fn plain_word(sentence: &str, start: usize, joined: bool) -> Option<Piece<'_>> {
    let rest = sentence.as_bytes().get(start..)?;
    let mut length = 0;
    let mut common = CAPITAL;
    for letter in rest.iter().take_while(|letter| letter.is_ascii_alphabetic()) {
        common &= letter;
        length += 1;
    }
    let alone = match rest.get(length) {
        None | Some(b' ' | b',') => true,
        Some(b':' | b'.') => !matches!(rest, [b'h' | b'w', ..]),
        Some(next) => next.is_ascii() && !next.is_ascii_digit() && *next != b'\'',
    };
    let word = sentence.get(start..start + length).filter(|_| alone && length > 0)?;
    let folded = if common == CAPITAL {
        Cow::Borrowed(word)
    } else {
        Cow::Owned(word.to_ascii_lowercase())
    };
    Some(Piece {
        start,
        end: start + length,
        folded,
        mark: None,
        joined,
    })
}

fn letter_at(sentence: &str, at: usize) -> Option<char> {
    sentence.get(at..)?.chars().next()
}

fn letter_before(sentence: &str, at: usize) -> Option<char> {
    sentence.get(..at)?.chars().next_back()
}

/// Where the run of letters or digits ends that a letter begins; a mark stands alone.
fn run_end(sentence: &str, start: usize, letter: char) -> usize {
    let class = class_of(letter);
    let mut end = start + letter.len_utf8();
    if class == Class::Mark {
        return end;
    }
    loop {
        end += plain_run(sentence.as_bytes().get(end..).unwrap_or(&[]), class);
        let Some(next) = letter_at(sentence, end) else {
            return end;
        };
        let behind = end + next.len_utf8();
        let inside = || class == Class::Letter && is_apostrophe(next) && is_letter(letter_at(sentence, behind));
        if class_of(next) != class && !inside() {
            return end;
        }
        end = behind;
    }
}

/// How many plain letters or digits follow.
fn plain_run(bytes: &[u8], class: Class) -> usize {
    let goes_on = |byte: &&u8| match class {
        Class::Letter => byte.is_ascii_alphabetic(),
        _ => byte.is_ascii_digit(),
    };
    bytes.iter().take_while(goes_on).count()
}

/// Whether the sign at a byte stands between two letters.
fn parts_words(sentence: &str, at: usize) -> bool {
    is_letter(letter_before(sentence, at)) && is_letter(letter_at(sentence, at + 1))
}

/// Where an address or a long string of letters and digits ends that begins here: one word to nobody but a machine.
/// "https://…/pull/189", "3c44100558"; not "x02220", "320003".
fn opaque(sentence: &str, start: usize) -> Option<usize> {
    let rest = sentence.get(start..)?;
    let may = matches!(rest.as_bytes().first()?, b'0'..=b'9' | b'a'..=b'f' | b'h' | b'w');
    if !may || letter_before(sentence, start).is_some_and(char::is_alphanumeric) {
        return None;
    }
    if rest.starts_with("http://") || rest.starts_with("https://") || rest.starts_with("www.") {
        let ends = |letter: char| letter.is_whitespace() || matches!(letter, ')' | ']' | '>' | '"' | '`');
        return Some(rest.find(ends).map_or(sentence.len(), |length| start + length));
    }
    let is_hex = |byte: &u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    let length = rest.bytes().take_while(|byte| is_hex(byte)).count();
    if length < 7 || rest.as_bytes().get(length).is_some_and(u8::is_ascii_alphanumeric) {
        return None;
    }
    let run = rest.get(..length)?;
    (run.contains(|c: char| c.is_ascii_digit()) && run.contains(char::is_alphabetic)).then_some(start + length)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Class {
    Letter,
    Digit,
    Mark,
}

fn class_of(letter: char) -> Class {
    if letter.is_ascii_alphabetic() {
        Class::Letter
    } else if letter.is_ascii_digit() {
        Class::Digit
    } else if letter.is_ascii() || matches!(letter, 'ª' | 'º') {
        Class::Mark
    } else if letter.is_alphabetic() || unicode_normalization::char::is_combining_mark(letter) {
        Class::Letter
    } else {
        Class::Mark
    }
}

fn is_letter(letter: Option<char>) -> bool {
    letter.is_some_and(|letter| class_of(letter) == Class::Letter)
}

fn is_apostrophe(letter: char) -> bool {
    matches!(letter, '\'' | '’' | '´')
}
