//! What stands in a line and what a step has to find there: a step that needs something else is not taken.

use std::cell::Cell;

use super::parser::Parser;
use super::shorthand::{Meaning, SHORTEST_ORDINAL, sign_at, words_at};

/// What words or signs stand somewhere, or what a step needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Begins {
    /// A bit for each meaning.
    meanings: u128,
    /// A bit for each [`Sign`].
    signs: u16,
}

/// What a letter alone shows.
#[derive(Debug, Clone, Copy)]
pub enum Sign {
    Digit,
    /// `A` to `G`.
    Capital,
    Letter,
    /// A word of four letters or more.
    LongWord,
    Comma,
    Bracket,
    Accent,
    /// `x`, `×`: so many times.
    Cross,
    /// `V`, in front of a variation's number.
    Heading,
}

impl Begins {
    pub const NOTHING: Self = Self { meanings: 0, signs: 0 };
    pub const ANYTHING: Self = Self {
        meanings: u128::MAX,
        signs: u16::MAX,
    };

    /// These meanings as well.
    pub const fn meaning(mut self, meanings: &[Meaning]) -> Self {
        let mut rest = meanings;
        while let [meaning, behind @ ..] = rest {
            self.meanings |= 1 << *meaning as u32;
            rest = behind;
        }
        self
    }

    /// These signs as well.
    pub const fn sign(mut self, signs: &[Sign]) -> Self {
        let mut rest = signs;
        while let [sign, behind @ ..] = rest {
            self.signs |= 1 << *sign as u16;
            rest = behind;
        }
        self
    }

    /// Whether anything of what is needed stands `here`.
    pub fn fits(self, here: Self) -> bool {
        self.meanings & here.meanings != 0 || self.signs & here.signs != 0 || self == Self::ANYTHING
    }
}

/// A meaning, and the bytes of what has it.
pub type Found = (Meaning, usize);

/// What stands at a byte of a line.
#[derive(Debug, Clone, Copy)]
enum Look {
    /// Nobody has asked.
    Unasked,
    Nothing,
    Words(Meaning, u32),
}

/// The words of a line by their bytes: all steps look at the same ones, again and again.
#[derive(Debug)]
pub struct Words {
    looks: Vec<Cell<Look>>,
}

impl Words {
    pub fn of(text: &str) -> Self {
        Self {
            looks: vec![Cell::new(Look::Unasked); text.len()],
        }
    }

    fn look_at(&self, text: &str, at: usize) -> Option<Found> {
        let look = self.looks.get(at)?;
        match look.get() {
            Look::Nothing => None,
            Look::Words(meaning, length) => Some((meaning, length as usize)),
            Look::Unasked => {
                let found = text.get(at..).and_then(found_at);
                let length = found.and_then(|(_, length)| u32::try_from(length).ok());
                look.set(match (found, length) {
                    (Some((meaning, _)), Some(length)) => Look::Words(meaning, length),
                    _ => Look::Nothing,
                });
                found
            }
        }
    }
}

fn found_at(text: &str) -> Option<Found> {
    sign_at(text).or_else(|| words_at(text))
}

/// What the first of some bytes shows.
const fn first_sign(rest: &[u8]) -> Begins {
    let none = Begins::NOTHING;
    match rest {
        [b'0'..=b'9', ..] => none.sign(&[Sign::Digit]),
        [b',', ..] => none.sign(&[Sign::Comma]),
        [b'(', ..] => none.sign(&[Sign::Bracket]),
        [b'>', ..] => none.sign(&[Sign::Accent]),
        [b'A'..=b'G', ..] => none.sign(&[Sign::Letter, Sign::Capital]),
        [b'v' | b'V', ..] => none.sign(&[Sign::Letter, Sign::Heading]),
        // The cross of printers begins with a byte beyond the plain ones.
        [b'x' | 0x80.., ..] => none.sign(&[Sign::Letter, Sign::Cross]),
        [b'a'..=b'z' | b'A'..=b'Z', ..] => none.sign(&[Sign::Letter]),
        _ => none,
    }
}

impl Parser<'_, '_> {
    fn words(&self) -> &Words {
        self.words.get_or_init(|| Words::of(self.text))
    }

    /// The meaning of the next words or sign, not yet taken.
    pub fn look(&mut self) -> Option<Found> {
        let start = self.at;
        self.spaces();
        let here = self.at;
        self.at = start;
        let (meaning, length) = self.words().look_at(self.text, here)?;
        Some((meaning, here - start + length))
    }

    /// What stands behind the number here.
    pub fn behind_number(&self) -> Begins {
        let mut ahead = self.ahead();
        let _ = ahead.number();
        ahead.begins()
    }

    /// What stands here, behind spaces.
    pub fn begins(&mut self) -> Begins {
        let start = self.at;
        self.spaces();
        let rest = self.text.as_bytes().get(self.at..).unwrap_or_default();
        self.at = start;
        let letter = |byte: &u8| byte.is_ascii_alphabetic() || !byte.is_ascii();
        let long = rest.get(..SHORTEST_ORDINAL).is_some_and(|word| word.iter().all(letter));
        let mut begins = first_sign(rest);
        if long {
            begins = begins.sign(&[Sign::LongWord]);
        }
        if let Some((meaning, _)) = self.look() {
            begins = begins.meaning(&[meaning]);
        }
        begins
    }
}
