//! Sentences to tokens: words, numbers and marks, with what each may stand for.

use super::lexicon::{Concept, Language, Lexicon};
use super::meanings::Meanings;
use super::numbers;
use crate::text::fold;

/// A word, a phrase of the lexicon, a number or a mark. Offsets are bytes of the sentence's text.
#[derive(Debug, Clone, PartialEq)]
pub struct Token {
    pub start: usize,
    pub end: usize,
    /// As written.
    pub raw: String,
    /// Folded; the words of a phrase stand apart by one space.
    pub word: String,
    pub number: Option<i64>,
    /// The number was written as a word.
    pub spelled: bool,
    pub ordinal: Option<i64>,
    pub mark: Option<char>,
    /// Nothing stands between it and the token before.
    pub joined: bool,
    pub concepts: Meanings,
    /// `word` is what was meant; `raw` is what the recogniser heard.
    pub misheard: bool,
}

impl Token {
    pub fn is(&self, concept: Concept) -> bool {
        self.concepts.contains(&concept)
    }

    pub fn is_any(&self, concepts: &[Concept]) -> bool {
        self.concepts.contains_any(concepts)
    }

    pub fn is_mark(&self, mark: char) -> bool {
        self.mark == Some(mark)
    }
}

#[derive(Debug)]
struct Piece {
    start: usize,
    end: usize,
    folded: String,
    mark: Option<char>,
    joined: bool,
}

impl Piece {
    fn word(folded: &str, start: usize, end: usize, joined: bool) -> Self {
        Self {
            start,
            end,
            folded: folded.to_owned(),
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

/// "8's the landing": the `'s` behind a number is "is".
fn is_behind_a_number(letters: &[(usize, char)], index: usize) -> bool {
    let letter = |at: usize| letters.get(at).map(|(_, letter)| *letter);
    let numbered = index
        .checked_sub(1)
        .and_then(letter)
        .is_some_and(|before| before.is_ascii_digit());
    numbered
        && letter(index).is_some_and(is_apostrophe)
        && letter(index + 1) == Some('s')
        && letter(index + 2).is_none_or(|behind| !behind.is_alphanumeric())
}

/// Cuts a sentence into tokens.
pub fn tokens(sentence: &str, language: Language, lexicon: &Lexicon) -> Vec<Token> {
    let pieces = pieces(sentence);
    let words: Vec<&str> = pieces.iter().map(|piece| piece.folded.as_str()).collect();
    let mut tokens = Vec::with_capacity(pieces.len());
    let mut index = 0;
    while let (Some(piece), Some(rest)) = (pieces.get(index), words.get(index..)) {
        let found = lexicon.longest(rest);
        let (mut length, mut concepts) = found.unwrap_or((1, Meanings::NONE));
        let stem = rest
            .first()
            .and_then(|word| word.strip_suffix("'s"))
            .filter(|_| found.is_none());
        if let Some(stem) = stem {
            concepts = lexicon.concepts(stem);
        } else if let Some(full) = rest
            .first()
            .and_then(|word| drawn_together(word, language))
            .filter(|_| found.is_none())
        {
            concepts = lexicon.concepts(&full);
        }
        let mut word = match (length, rest.first()) {
            (1, Some(word)) => (*word).to_owned(),
            _ => rest.get(..length).unwrap_or(&[]).join(" "),
        };
        let meant = lexicon
            .meant(rest)
            .filter(|(heard, _)| *heard >= length && !concepts.contains(&Concept::Plain));
        if let Some((heard, term)) = meant {
            length = heard;
            concepts = lexicon.concepts(term);
            term.clone_into(&mut word);
        }
        let last = pieces.get(index + length - 1).unwrap_or(piece);
        let mut token = Token {
            start: piece.start,
            end: last.end,
            raw: sentence.get(piece.start..last.end).unwrap_or("").to_owned(),
            word,
            number: None,
            spelled: false,
            ordinal: None,
            mark: piece.mark,
            joined: piece.joined,
            concepts,
            misheard: meant.is_some(),
        };
        if length == 1 {
            number_word(&mut token, language);
        }
        tokens.push(token);
        index += length;
    }
    strings_by_look(&mut tokens, language);
    tokens
}

/// "apagao", "ligaos": what is said in Andalusia for "apagado", "ligados".
fn drawn_together(word: &str, language: Language) -> Option<String> {
    let stem = |ending: &str| word.strip_suffix(ending).filter(|stem| stem.len() > 2);
    if language != Language::Spanish {
        return None;
    }
    stem("ao")
        .map(|stem| format!("{stem}ado"))
        .or_else(|| stem("aos").map(|stem| format!("{stem}ados")))
}

/// "the fat string", "la cuerda fina": the outer strings are also told by how they look or sound.
fn strings_by_look(tokens: &mut [Token], language: Language) {
    let outer = |word: &str| match word {
        "low" | "lowest" | "fat" | "fattest" | "thick" | "thickest" | "gorda" | "grave" | "gruesa" => Some(6),
        "high" | "highest" | "thin" | "thinnest" | "top" | "fina" | "aguda" | "delgada" => Some(1),
        _ => None,
    };
    let by_look = |tokens: &[Token], at: usize| {
        let noun = if language == Language::Spanish {
            at.checked_sub(1).and_then(|before| tokens.get(before))
        } else {
            tokens.get(at + 1)
        };
        let string = noun.is_some_and(|noun| matches!(noun.word.as_str(), "string" | "cuerda"));
        let outer = tokens.get(at).and_then(|token| outer(&token.word));
        outer.filter(|_| string)
    };
    let found: Vec<(usize, i64)> = (0..tokens.len())
        .filter_map(|at| by_look(tokens, at).map(|string| (at, string)))
        .collect();
    for (at, string) in found {
        if let Some(token) = tokens.get_mut(at) {
            token.ordinal = Some(string);
            token.concepts = Meanings::NONE;
        }
        // "la cuerda fina" reads as "la fina cuerda".
        if language == Language::Spanish && at > 0 {
            tokens.swap(at - 1, at);
        }
    }
}

fn number_word(token: &mut Token, language: Language) {
    if let Ok(number) = token.word.parse::<i64>() {
        token.number = Some(number);
    } else if let Some(number) = numbers::cardinal(&token.word, language) {
        token.number = Some(number);
        token.spelled = true;
    }
    token.ordinal = numbers::ordinal(&token.word, language);
}

/// Runs of letters, runs of digits, single marks. A hyphen between letters parts words without being a mark.
fn pieces(sentence: &str) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    let letters: Vec<(usize, char)> = sentence.char_indices().collect();
    let mut index = 0;
    let mut joined = false;
    while let Some(&(start, letter)) = letters.get(index) {
        if letter.is_whitespace() {
            joined = false;
            index += 1;
            continue;
        }
        let class = class_of(letter);
        if let Some(string) = circled(letter) {
            let end = letters.get(index + 1).map_or(sentence.len(), |(at, _)| *at);
            circled_string(&mut pieces, start, end, string);
            let fret_follows = letters.get(index + 1).is_some_and(|(_, next)| next.is_ascii_digit());
            if fret_follows {
                pieces.push(Piece::word("f", end, end, true));
            }
            joined = true;
            index += 1;
            continue;
        }
        if is_behind_a_number(&letters, index) {
            let end = letters.get(index + 2).map_or(sentence.len(), |(at, _)| *at);
            pieces.push(Piece::word("is", start, end, false));
            joined = true;
            index += 2;
            continue;
        }
        if let Some(opaque) = opaque(&letters, index, sentence).filter(|_| !joined || class != Class::Mark) {
            let end = letters.get(index + opaque).map_or(sentence.len(), |(at, _)| *at);
            pieces.push(Piece {
                start,
                end,
                mark: None,
                folded: fold(sentence.get(start..end).unwrap_or("")).text,
                joined,
            });
            joined = true;
            index += opaque;
            continue;
        }
        let mut end_index = index + 1;
        if class != Class::Mark {
            while let Some(&(_, next)) = letters.get(end_index) {
                let after = letters.get(end_index + 1).map(|(_, c)| *c);
                let inside = class_of(next) == class
                    || (class == Class::Letter
                        && is_apostrophe(next)
                        && after.is_some_and(|c| class_of(c) == Class::Letter));
                if !inside {
                    break;
                }
                end_index += 1;
            }
        }
        let end = letters.get(end_index).map_or(sentence.len(), |(at, _)| *at);
        let raw = sentence.get(start..end).unwrap_or("");
        let folded = if raw.is_ascii() {
            raw.to_ascii_lowercase()
        } else {
            fold(raw).text
        };
        let hyphen = letter == '-'
            && letters
                .get(index.wrapping_sub(1))
                .is_some_and(|(_, c)| class_of(*c) == Class::Letter)
            && letters
                .get(index + 1)
                .is_some_and(|(_, c)| class_of(*c) == Class::Letter);
        if !hyphen {
            pieces.push(Piece {
                start,
                end,
                mark: (class == Class::Mark).then(|| mark_of(letter, &folded)),
                folded,
                joined,
            });
        }
        joined = true;
        index = end_index;
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

/// How many letters make up an address or a long string of letters and digits that begins here: one word to nobody but a
/// machine. "https://…/pull/189", "3c44100558"; not "x02220", "320003".
fn opaque(letters: &[(usize, char)], index: usize, sentence: &str) -> Option<usize> {
    let begins = index == 0
        || letters
            .get(index - 1)
            .is_none_or(|(_, before)| !before.is_alphanumeric());
    if !begins {
        return None;
    }
    let rest = sentence.get(letters.get(index)?.0..)?;
    if rest.starts_with("http://") || rest.starts_with("https://") || rest.starts_with("www.") {
        let ends = |letter: &char| letter.is_whitespace() || matches!(letter, ')' | ']' | '>' | '"' | '`');
        return Some(rest.chars().take_while(|letter| !ends(letter)).count());
    }
    let run = || rest.chars().take_while(char::is_ascii_alphanumeric);
    let length = run().count();
    let hex = length >= 7 && run().all(|letter| letter.is_ascii_digit() || ('a'..='f').contains(&letter));
    (hex && run().any(|c| c.is_ascii_digit()) && run().any(char::is_alphabetic)).then_some(length)
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

fn is_apostrophe(letter: char) -> bool {
    matches!(letter, '\'' | '’' | '´')
}
