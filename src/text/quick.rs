//! Tables of words that are asked for every word of a note.

use std::collections::{HashMap, HashSet};
use std::hash::{BuildHasherDefault, Hasher};

/// A sum over eight letters at a time. For short words it is quicker than the library's own, and these tables hold our
/// words, not a stranger's.
#[derive(Debug, Clone, Copy, Default)]
pub struct WordSum(u64);

/// The golden ratio's part of 2^64, made odd: it spreads neighbours over all the bits.
const SPREAD: u64 = 0x9e37_79b9_7f4a_7c15;

impl WordSum {
    fn add(&mut self, eight: u64) {
        self.0 = (self.0.rotate_left(5) ^ eight).wrapping_mul(SPREAD);
    }
}

impl Hasher for WordSum {
    /// A table takes the low bits, and a product has mixed the high ones.
    fn finish(&self) -> u64 {
        self.0 ^ self.0 >> 32
    }

    fn write(&mut self, bytes: &[u8]) {
        let (eights, rest) = bytes.as_chunks::<8>();
        for eight in eights {
            self.add(u64::from_le_bytes(*eight));
        }
        self.add(rest.iter().fold(1, |sum, byte| sum << 8 | u64::from(*byte)));
    }

    /// What ends a word tells no words apart.
    fn write_u8(&mut self, _: u8) {}
}

pub type QuickMap<V> = HashMap<String, V, BuildHasherDefault<WordSum>>;
pub type QuickSet = HashSet<String, BuildHasherDefault<WordSum>>;

/// The first letters of some words: whether a word can be one of them, at the cost of one look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Begins {
    letters: u128,
    /// One of them is no word at all: it fits in front of anything.
    anything: bool,
}

impl Begins {
    pub const NOTHING: Self = Self {
        letters: 0,
        anything: false,
    };

    pub fn add(&mut self, word: Option<impl AsRef<str>>) {
        match word.as_ref().and_then(bit_of) {
            Some(bit) => self.letters |= bit,
            None => self.anything = true,
        }
    }

    /// Whether a word may be one of them.
    pub fn fits(self, word: Option<impl AsRef<str>>) -> bool {
        self.anything
            || word
                .as_ref()
                .and_then(bit_of)
                .is_some_and(|bit| self.letters & bit != 0)
    }
}

/// All letters beyond the plain ones share a bit.
fn bit_of(word: &impl AsRef<str>) -> Option<u128> {
    let first = word.as_ref().as_bytes().first()?;
    Some(1 << first.min(&127))
}
