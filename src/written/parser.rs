//! A place in a line, and the small steps over it. Every step returns None and stays where it was when the text is another.

use std::cell::OnceCell;
use std::rc::Rc;

use crate::text::Span;

use super::begins::Words;
use super::item::{Item, LineContext, OwnWord, Spanned};
use super::shorthand::{Meaning, own_word_at};

/// Reads one line. `at` never leaves the text and always stands between two letters.
pub struct Parser<'t, 'c> {
    pub text: &'t str,
    pub at: usize,
    pub context: &'c LineContext<'c>,
    pub items: Vec<Spanned<Item>>,
    /// What stands where, once a step has asked.
    pub words: Rc<OnceCell<Words>>,
}

impl<'t, 'c> Parser<'t, 'c> {
    pub fn new(text: &'t str, context: &'c LineContext<'c>) -> Self {
        Self {
            text,
            at: 0,
            context,
            items: Vec::new(),
            words: Rc::default(),
        }
    }

    /// Runs a step; when it does not apply, nothing has happened.
    #[inline]
    pub fn attempt<T>(&mut self, step: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let (at, items) = (self.at, self.items.len());
        let result = step(self);
        if result.is_none() {
            self.at = at;
            self.items.truncate(items);
        }
        result
    }

    pub fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    pub fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub fn at_end(&mut self) -> bool {
        self.spaces();
        self.rest().is_empty()
    }

    /// Nothing that is played begins here: the line ends, or a mark parts one thing from the next.
    pub fn closes(&self) -> bool {
        let rest = self.rest().trim_start_matches([' ', '\t', '\u{a0}']);
        let Some(mark) = rest.chars().next() else { return true };
        let parts = matches!(mark, ',' | ';' | '/' | ':' | ')');
        parts && !self.context.own_words.iter().any(|own| own.word.starts_with(mark))
    }

    pub fn spaces(&mut self) {
        let bytes = self.text.as_bytes();
        while let Some(byte) = bytes.get(self.at) {
            self.at += match byte {
                b' ' | b'\t' => 1,
                // A no-break space.
                0xC2 if bytes.get(self.at + 1) == Some(&0xA0) => 2,
                _ => return,
            };
        }
    }

    /// The next letter, if it is this one; no spaces skipped.
    pub fn sign(&mut self, sign: char) -> bool {
        let found = if sign.is_ascii() {
            self.text.as_bytes().get(self.at) == Some(&(sign as u8))
        } else {
            self.peek() == Some(sign)
        };
        if found {
            self.at += sign.len_utf8();
        }
        found
    }

    /// The same after spaces.
    pub fn spaced_sign(&mut self, sign: char) -> bool {
        let start = self.at;
        self.spaces();
        let found = self.sign(sign);
        if !found {
            self.at = start;
        }
        found
    }

    /// How many plain letters stand here; None where a letter beyond them does, so that somebody has to look closer.
    fn plain_letters(&self) -> Option<usize> {
        let rest = self.rest().as_bytes();
        let length = rest.iter().take_while(|byte| byte.is_ascii_alphabetic()).count();
        rest.get(length).is_none_or(u8::is_ascii).then_some(length)
    }

    pub fn literal(&mut self, text: &str) -> bool {
        let start = self.at;
        self.spaces();
        let found = self.rest().starts_with(text);
        self.at = if found { self.at + text.len() } else { start };
        found
    }

    /// A whole number of at most four digits, after spaces.
    pub fn number(&mut self) -> Option<i64> {
        let start = self.at;
        self.spaces();
        let number = self.digits();
        if number.is_none() {
            self.at = start;
        }
        number
    }

    pub fn digits(&mut self) -> Option<i64> {
        let rest = self.rest();
        let length = rest.bytes().take_while(u8::is_ascii_digit).count();
        if length == 0 || length > 4 {
            return None;
        }
        self.at += length;
        rest.get(..length)?.parse().ok()
    }

    /// A number written in digits or, up to twelve, in words.
    pub fn spoken_number(&mut self) -> Option<i64> {
        if let Some(number) = self.number() {
            return Some(number);
        }
        self.attempt(|line| number_word(line.plain_word()?))
    }

    /// Letters up to the next thing that is none, after spaces.
    pub fn plain_word(&mut self) -> Option<&'t str> {
        self.attempt(|line| {
            line.spaces();
            let rest = line.rest();
            let any_letters = || rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
            let length = line.plain_letters().unwrap_or_else(any_letters);
            line.at += length;
            rest.get(..length).filter(|word| !word.is_empty())
        })
    }

    pub fn next_is_alphanumeric(&self) -> bool {
        self.peek().is_some_and(char::is_alphanumeric)
    }

    /// Takes the next words when they mean this.
    pub fn meaning(&mut self, wanted: Meaning) -> bool {
        self.meaning_of(|meaning| (meaning == wanted).then_some(())).is_some()
    }

    /// Takes the next words when the function finds something in their meaning.
    pub fn meaning_of<T>(&mut self, pick: impl FnOnce(Meaning) -> Option<T>) -> Option<T> {
        let (meaning, length) = self.look()?;
        let picked = pick(meaning)?;
        self.at += length;
        Some(picked)
    }

    /// One of the note's own words.
    pub fn own_word(&mut self) -> Option<&'c OwnWord> {
        if self.context.own_words.is_empty() {
            return None;
        }
        let mut here = self.ahead();
        here.spaces();
        let (own, length) = own_word_at(here.rest(), self.context.own_words)?;
        self.at = here.at + length;
        Some(own)
    }

    /// `"…"`, in which `\"`, `\\` and `\n` stand for themselves.
    pub fn quoted(&mut self) -> Option<String> {
        self.attempt(|line| {
            line.spaces();
            if !line.sign('"') {
                return None;
            }
            let mut text = String::new();
            let mut letters = line.rest().char_indices();
            while let Some((at, letter)) = letters.next() {
                match letter {
                    '"' => {
                        line.at += at + 1;
                        return Some(text);
                    }
                    '\\' => match letters.next()?.1 {
                        'n' => text.push('\n'),
                        'r' => text.push('\r'),
                        other => text.push(other),
                    },
                    other => text.push(other),
                }
            }
            None
        })
    }

    /// All that is left of the line as text: quoted, or as it stands. None when empty.
    pub fn free_text(&mut self) -> Option<String> {
        if let Some(text) = self.attempt(|line| line.quoted().filter(|_| line.at_end())) {
            return Some(text);
        }
        let text = self.rest().trim();
        if text.is_empty() || text.starts_with('"') {
            return None;
        }
        self.at = self.text.len();
        Some(text.to_owned())
    }

    pub fn push(&mut self, start: usize, item: Item) {
        let trimmed = self.text.get(start..self.at).unwrap_or("");
        let leading = trimmed.len() - trimmed.trim_start().len();
        let trailing = trimmed.len() - trimmed.trim_end().len();
        let span = Span::new(start + leading, self.at.saturating_sub(trailing).max(start + leading));
        self.items.push(Spanned {
            value: item,
            span,
            time: None,
        });
    }

    /// `~rule` or `~"the rule"` written close behind what it marks.
    pub fn mark(&mut self) -> Option<String> {
        self.attempt(|line| {
            if !line.sign('~') {
                return None;
            }
            if line.peek() == Some('"') {
                return line.quoted();
            }
            let rest = line.rest();
            let length = rest
                .find(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_'))
                .unwrap_or(rest.len());
            line.at += length;
            rest.get(..length).filter(|rule| !rule.is_empty()).map(str::to_owned)
        })
    }

    /// The same place, to look ahead from.
    pub fn ahead(&self) -> Parser<'t, 'c> {
        Parser {
            text: self.text,
            at: self.at,
            context: self.context,
            items: Vec::new(),
            words: Rc::clone(&self.words),
        }
    }
}

/// The number that a word is, in capitals or not.
fn number_word(word: &str) -> Option<i64> {
    let mut low = [0; 6];
    let low = low.get_mut(..word.len())?;
    low.copy_from_slice(word.as_bytes());
    low.make_ascii_lowercase();
    let number = match &*low {
        b"one" | b"uno" | b"una" => 1,
        b"two" | b"dos" => 2,
        b"three" | b"tres" => 3,
        b"four" | b"cuatro" => 4,
        b"five" | b"cinco" => 5,
        b"six" | b"seis" => 6,
        b"seven" | b"siete" => 7,
        b"eight" | b"ocho" => 8,
        b"nine" | b"nueve" => 9,
        b"ten" | b"diez" => 10,
        b"eleven" | b"once" => 11,
        b"twelve" | b"doce" => 12,
        _ => return None,
    };
    Some(number)
}
