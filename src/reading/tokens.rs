//! Sentences to tokens: words, numbers and marks, with what each may stand for.

use std::borrow::Cow;
use std::ops::Deref;

use smol_str::{SmolStr, SmolStrBuilder};

use super::known::Known;
use super::lexicon::{Concept, Language, Lexicon};
use super::meanings::Meanings;
use super::numbers::Numbers;
use super::pieces::{Piece, pieces};
use super::says::{Kind, Kinds, Says, looks_of};

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
    /// What its words are beside their meanings; what is told of its numbers stands among them.
    kinds: Kinds,
}

/// Tokens are copied and counted off at every step: so small they take no more than two lines of memory.
const _: () = assert!(size_of::<Token>() <= 128, "a token is small");

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
        kinds: Kinds::NONE,
    };

    /// A word by itself, written as it is read, that stands in some tables.
    pub fn word(word: &str, tables: Kinds) -> Self {
        let digits = word.as_bytes().first().is_some_and(u8::is_ascii_digit);
        let word_itself = SmolStr::from(word);
        let mut token = Self {
            raw: word_itself.clone(),
            word: word_itself,
            number: if digits { word.parse().ok() } else { None },
            kinds: tables.or(looks_of(word, word)),
            ..Self::BLANK
        };
        token.settle_kinds();
        token
    }

    /// Several words that are one phrase.
    pub fn phrase(first: &str, behind: &[SmolStr], tables: Kinds) -> Self {
        let mut word = SmolStrBuilder::new();
        word.push_str(first);
        for next in behind {
            word.push(' ');
            word.push_str(next);
        }
        Self {
            word: word.finish(),
            kinds: tables,
            ..Self::BLANK
        }
    }

    /// A plain mark, of which no table holds anything.
    fn sign(sign: &str) -> Self {
        let sign = SmolStr::new_inline(sign);
        Self {
            raw: sign.clone(),
            word: sign,
            ..Self::BLANK
        }
    }

    /// It names these numbers as a word.
    pub fn name_numbers(&mut self, numbers: Numbers) {
        self.number = numbers.cardinal;
        self.spelled = numbers.cardinal.is_some();
        self.ordinal = numbers.ordinal;
        self.settle_kinds();
    }

    /// Its kinds by its numbers, where these were put right.
    fn settle_kinds(&mut self) {
        self.kinds = self
            .kinds
            .with(Kind::Number, self.number.is_some())
            .with(Kind::Ordinal, self.ordinal.is_some())
            .with(Kind::Misheard, self.misheard);
    }

    pub fn add_kind(&mut self, kind: Kind) {
        self.kinds = self.kinds.and(kind);
    }

    /// Takes over how it stands in the sentence, where that is not as it is read.
    fn write(&mut self, sentence: &str, folded: &str, words: usize) {
        self.raw = sentence.get(self.start..self.end).unwrap_or("").into();
        if words == 1 {
            self.kinds = self.kinds.or(looks_of(&self.raw, folded));
        }
    }

    pub fn is(&self, concept: Concept) -> bool {
        self.concepts.contains(&concept)
    }

    pub fn is_any(&self, concepts: &[Concept]) -> bool {
        self.concepts.contains_any(concepts)
    }

    pub fn is_mark(&self, mark: char) -> bool {
        self.mark == Some(mark)
    }

    /// What it is beside its meanings.
    pub fn kinds(&self) -> Kinds {
        self.kinds
    }

    /// All that it says.
    pub fn says(&self) -> Says {
        Says::of_token(self)
    }

    pub fn has(&self, kind: Kind) -> bool {
        self.kinds.contains(kind)
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

/// The tokens of a sentence, with what they say taken together.
#[derive(Debug, Default)]
pub struct Tokens {
    list: Vec<Token>,
    pub says: Says,
}

impl Tokens {
    pub fn of(list: Vec<Token>) -> Self {
        let says = Says::of(&list);
        Self { list, says }
    }

    /// Puts tokens right in the light of the rest of the note.
    pub fn settle(&mut self, change: impl FnOnce(&mut [Token])) {
        change(&mut self.list);
        self.list.iter_mut().for_each(Token::settle_kinds);
        self.says = Says::of(&self.list);
    }
}

impl Deref for Tokens {
    type Target = [Token];

    fn deref(&self) -> &[Token] {
        &self.list
    }
}

/// Cuts a sentence into tokens.
pub fn tokens(sentence: &str, language: Language, lexicon: &Lexicon) -> Vec<Token> {
    tokens_of(sentence, &pieces(sentence), language, lexicon)
}

/// The tokens of a sentence that has been cut into pieces.
pub fn tokens_of(sentence: &str, pieces: &[Piece], language: Language, lexicon: &Lexicon) -> Vec<Token> {
    let mut tokens = Vec::with_capacity(pieces.len());
    let mut rest = pieces;
    while let Some(piece) = rest.first() {
        let length = read_word(rest, language, lexicon, &mut tokens);
        let Some(token) = tokens.last_mut() else { break };
        token.start = piece.start;
        token.end = rest.get(length - 1).map_or(piece.end, |last| last.end);
        token.mark = piece.mark;
        token.joined = piece.joined;
        let as_read = length == 1 && !token.misheard && matches!(piece.folded, Cow::Borrowed(_));
        if !as_read {
            token.write(sentence, &piece.folded, length);
        }
        rest = rest.get(length..).unwrap_or(&[]);
    }
    if pieces.iter().any(|piece| matches!(&*piece.folded, "mi" | "si")) {
        part_the_notes(&mut tokens, lexicon);
    }
    if pieces.iter().any(|piece| piece.mark.is_some_and(is_quote)) {
        unquote_halves(&mut tokens);
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

/// Adds what the lexicon makes of the words at the front, but for where it stands; how many words it takes.
fn read_word(words: &[Piece], language: Language, lexicon: &Lexicon, tokens: &mut Vec<Token>) -> usize {
    let first = words.first().map_or("", |piece| &*piece.folded);
    match lexicon.known(first) {
        Some(known) if known.may_go_on(words) => {
            let (length, token) = read_phrase(words, known, language, lexicon);
            tokens.push(token);
            return length;
        }
        Some(known) if known.alone().is_some() => tokens.push(known.token.clone()),
        None if is_plain_mark(first) => tokens.push(Token::sign(first)),
        known => {
            tokens.push(known.map_or_else(|| Token::word(first, Kinds::NONE), |known| known.token.clone()));
            if let Some(token) = tokens.last_mut() {
                token.concepts = by_stem(first, language, lexicon);
            }
        }
    }
    1
}

fn is_plain_mark(word: &str) -> bool {
    matches!(word.as_bytes(), [mark] if mark.is_ascii_punctuation())
}

/// The same where a phrase may begin.
fn read_phrase(words: &[Piece], known: &Known, language: Language, lexicon: &Lexicon) -> (usize, Token) {
    let found = known.longest(words);
    let by_its_stem = || Token {
        concepts: by_stem(&known.token.word, language, lexicon),
        ..known.token.clone()
    };
    let (length, token) = found.map_or_else(|| (1, by_its_stem()), |(length, token)| (length, token.clone()));
    let meant = known
        .meant(words)
        .filter(|(heard, _)| *heard >= length && !token.is(Concept::Plain));
    match meant {
        Some((length, term)) => (length, misheard(term, length, lexicon)),
        None => (length, token),
    }
}

/// What a word stands for that the lexicon knows in another form.
fn by_stem(word: &str, language: Language, lexicon: &Lexicon) -> Meanings {
    match word.strip_suffix("'s") {
        Some(stem) => lexicon.concepts(stem),
        None => drawn_together(word, language).map_or(Meanings::NONE, |full| lexicon.concepts(&full)),
    }
}

/// The term that so many words were a mishearing of.
fn misheard(term: &SmolStr, length: usize, lexicon: &Lexicon) -> Token {
    let known = lexicon.known(term).filter(|_| length == 1);
    let token = known.map_or_else(|| Token::word(term, lexicon.tables(term)), |known| known.token.clone());
    let mut token = Token {
        concepts: lexicon.concepts(term),
        misheard: true,
        ..token
    };
    token.settle_kinds();
    token
}

/// "a mi séptima": the name of a chord, where two words stand for something else by themselves.
fn part_the_notes(tokens: &mut Vec<Token>, lexicon: &Lexicon) {
    let named = |token: &Token| {
        token.is_any(&[
            Concept::Minor,
            Concept::Major,
            Concept::Seventh,
            Concept::Flat,
            Concept::Phrygian,
        ]) || token.number == Some(7)
    };
    let mut at = 0;
    while at + 1 < tokens.len() {
        if let (Some(pair), Some(next)) = (tokens.get(at), tokens.get(at + 1))
            && pair.word == "a mi"
            && named(next)
        {
            let apart = |word: &str, start: usize, end: usize| Token {
                start,
                end,
                concepts: lexicon.concepts(word),
                ..Token::word(word, lexicon.tables(word))
            };
            let (start, end) = (pair.start, pair.end);
            let parts = [apart("a", start, start + 1), apart("mi", end - 2, end)];
            tokens.splice(at..=at, parts);
        }
        // "cambiamos a Si bemol": a name, and no "if".
        let si = tokens.get(at).is_some_and(|token| token.word == "si");
        if si
            && tokens.get(at + 1).is_some_and(named)
            && let Some(name) = tokens.get_mut(at)
        {
            name.concepts = Meanings::NONE;
        }
        at += 1;
    }
}

fn is_quote(mark: char) -> bool {
    matches!(mark, '"' | '“' | '”' | '«' | '»' | '\'' | '‘' | '’')
}

/// `en el "y" del 1`: the quotes around the half of a count say nothing.
fn unquote_halves(tokens: &mut Vec<Token>) {
    let quote = |token: &Token| token.mark.is_some() && token.raw.chars().all(is_quote);
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
            token.settle_kinds();
            token.concepts = Meanings::NONE;
        }
        // "la cuerda fina" reads as "la fina cuerda".
        if language == Language::Spanish && at > 0 {
            tokens.swap(at - 1, at);
        }
    }
}
