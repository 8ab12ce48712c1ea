//! Tables of words that are asked for every word of a note.

use std::collections::{HashMap, HashSet};
use std::hash::{BuildHasherDefault, Hasher};

/// The FNV-1a sum (Fowler, Noll, Vo; offset and prime as in the IETF draft "The FNV Non-Cryptographic Hash Algorithm",
/// from memory). For short words it is quicker than the library's own, and these tables hold our words, not a stranger's.
#[derive(Debug, Clone, Copy)]
pub struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Hasher for Fnv {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}

pub type QuickMap<V> = HashMap<String, V, BuildHasherDefault<Fnv>>;
pub type QuickSet = HashSet<String, BuildHasherDefault<Fnv>>;

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
