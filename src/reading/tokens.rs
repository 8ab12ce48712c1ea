//! Sentences to tokens: words, numbers and marks, with what each may stand for.

use std::borrow::Cow;

use smol_str::{SmolStr, SmolStrBuilder};

use super::lexicon::{Concept, Known, Language, Lexicon};
use super::meanings::Meanings;
use super::numbers::Numbers;
use super::pieces::pieces;

/// A word, a phrase of the lexicon, a number or a mark. Offsets are bytes of the sentence's text.
#[derive(Debug, Clone, PartialEq)]
pub struct Token {
    pub start: usize,
    pub end: usize,
    /// As written.
    pub raw: SmolStr,
    /// Folded; the words of a phrase stand apart by one space.
    pub word: SmolStr,
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
    /// One of its words may begin an entry of the tables of names and trades: only then are they asked.
    pub listed: bool,
}

impl Token {
    /// Stands for what is past either end of a sentence.
    pub const BLANK: Self = Self {
        start: 0,
        end: 0,
        raw: SmolStr::new_static(""),
        word: SmolStr::new_static(""),
        number: None,
        spelled: false,
        ordinal: None,
        mark: None,
        joined: false,
        concepts: Meanings::NONE,
        misheard: false,
        listed: false,
    };

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

/// The token and those joined to it, as written, up to a mark that is no part of a name: `F#m7`, `x02220`, `s5`.
pub fn compact(tokens: &[Token], index: usize) -> (SmolStr, usize) {
    let part = |token: &Token| {
        token.mark.is_none_or(|mark| matches!(mark, '#' | '♯' | '♭')) && !token.raw.as_bytes().contains(&b' ')
    };
    let rest = tokens.get(index..).unwrap_or(&[]);
    let Some(first) = rest.first().filter(|first| part(first)) else {
        return (SmolStr::default(), 0);
    };
    let length = 1 + rest
        .iter()
        .skip(1)
        .take_while(|token| token.joined && part(token))
        .count();
    if length == 1 {
        return (first.raw.clone(), 1);
    }
    (
        rest.iter().take(length).map(|token| token.raw.as_str()).collect(),
        length,
    )
}

/// Everything that the words of a sentence may stand for, each by itself.
pub fn meanings(tokens: &[Token]) -> Meanings {
    let each = tokens.iter().map(|token| token.concepts);
    each.fold(Meanings::NONE, Meanings::or)
}

/// Cuts a sentence into tokens.
pub fn tokens(sentence: &str, language: Language, lexicon: &Lexicon) -> Vec<Token> {
    let pieces = pieces(sentence);
    let words: Vec<&str> = pieces.iter().map(|piece| &*piece.folded).collect();
    let mut tokens = Vec::with_capacity(pieces.len());
    let mut index = 0;
    while let (Some(piece), Some(rest)) = (pieces.get(index), words.get(index..)) {
        let (length, read) = read_word(rest, language, lexicon);
        let end = pieces.get(index + length - 1).unwrap_or(piece).end;
        let as_read = length == 1 && !read.misheard && matches!(piece.folded, Cow::Borrowed(_));
        let raw = if as_read {
            read.word.clone()
        } else {
            sentence.get(piece.start..end).unwrap_or("").into()
        };
        tokens.push(Token {
            start: piece.start,
            end,
            raw,
            mark: piece.mark,
            joined: piece.joined,
            ..read
        });
        index += length;
    }
    unquote_halves(&mut tokens);
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

/// What the lexicon makes of the words at the front: how many it takes, and the token but for where it stands.
fn read_word(words: &[&str], language: Language, lexicon: &Lexicon) -> (usize, Token) {
    let first = words.first().copied().unwrap_or("");
    let known = lexicon.known(first);
    let found = known.and_then(|known| known.longest(words));
    let stem = || match first.strip_suffix("'s") {
        Some(stem) => Some(lexicon.concepts(stem)),
        None => drawn_together(first, language).map(|full| lexicon.concepts(&full)),
    };
    let (length, concepts) = found.unwrap_or_else(|| (1, stem().unwrap_or(Meanings::NONE)));
    let meant = known
        .and_then(|known| known.meant(words))
        .filter(|(heard, _)| *heard >= length && !concepts.contains(&Concept::Plain));
    if let Some((length, term)) = meant {
        let mut token = named(term.into(), lexicon.concepts(term), lexicon.known(term), length);
        token.misheard = true;
        token.listed = true;
        return (length, token);
    }
    let word = match words.get(..length) {
        Some(phrase) if length > 1 => joined(phrase),
        _ => first.into(),
    };
    (length, named(word, concepts, known, length))
}

/// A token of so many words with the numbers that it names.
fn named(word: SmolStr, concepts: Meanings, known: Option<&Known>, length: usize) -> Token {
    let numeral = numeral(&word).filter(|_| length == 1);
    let known = known.filter(|_| length == 1);
    let spelled = known.map_or(Numbers::default(), |known| known.numbers);
    Token {
        word,
        number: numeral.or(spelled.cardinal),
        spelled: numeral.is_none() && spelled.cardinal.is_some(),
        ordinal: spelled.ordinal,
        concepts,
        listed: length > 1 || known.is_some_and(|known| known.listed),
        ..Token::BLANK
    }
}

/// The words of a phrase, apart by one space.
fn joined(words: &[&str]) -> SmolStr {
    let mut phrase = SmolStrBuilder::new();
    for (index, word) in words.iter().enumerate() {
        if index > 0 {
            phrase.push(' ');
        }
        phrase.push_str(word);
    }
    phrase.finish()
}

fn numeral(word: &str) -> Option<i64> {
    let digits = word.as_bytes().first()?.is_ascii_digit();
    word.parse().ok().filter(|_| digits)
}

/// `en el "y" del 1`: the quotes around the half of a count say nothing.
fn unquote_halves(tokens: &mut Vec<Token>) {
    let quote = |token: &Token| matches!(token.raw.as_str(), "\"" | "“" | "”" | "«" | "»" | "'" | "‘" | "’");
    let half = |token: &Token| token.is(Concept::And) || matches!(token.word.as_str(), "a" | "&");
    let mut at = 0;
    while at + 2 < tokens.len() {
        let quoted =
            matches!(tokens.get(at..at + 3), Some([open, word, close]) if quote(open) && half(word) && quote(close));
        if quoted {
            tokens.remove(at + 2);
            tokens.remove(at);
            if let Some(word) = tokens.get_mut(at) {
                word.joined = false;
            }
        }
        at += 1;
    }
}

/// "the fat string", "la cuerda fina": the outer strings are also told by how they look or sound.
fn strings_by_look(tokens: &mut [Token], language: Language) {
    let outer = |word: &str| match word {
        "low" | "lowest" | "fat" | "fattest" | "thick" | "thickest" | "gorda" | "grave" | "gruesa" => Some(6),
        "high" | "highest" | "thin" | "thinnest" | "top" | "fina" | "aguda" | "delgada" => Some(1),
        _ => None,
    };
    let string = |token: &Token| matches!(token.word.as_str(), "string" | "cuerda");
    let spanish = language == Language::Spanish;
    let looks = tokens.iter().enumerate().filter(|(_, token)| string(token));
    let at = looks.filter_map(|(at, _)| if spanish { Some(at + 1) } else { at.checked_sub(1) });
    let by_look = |at: usize| Some((at, outer(&tokens.get(at)?.word)?));
    let found: Vec<(usize, i64)> = at.filter_map(by_look).collect();
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
