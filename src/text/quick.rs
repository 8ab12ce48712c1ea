//! Tables of words that are asked for every word of a note.

use rustc_hash::{FxHashMap, FxHashSet};

/// The library's own sum is made against strangers; these tables hold our words.
pub type QuickMap<V> = FxHashMap<String, V>;
pub type QuickSet = FxHashSet<String>;

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

/// A word of so many bytes is wholly in its front.
pub const WHOLE_FRONT: usize = 8;

/// The first bytes of a word as one number: words that differ in it differ.
pub fn front(word: &str) -> u64 {
    let push = |number, letter: &u8| number << 8 | u64::from(*letter);
    word.as_bytes().iter().take(WHOLE_FRONT).fold(0, push)
}

/// All letters beyond the plain ones share a bit.
fn bit_of(word: &impl AsRef<str>) -> Option<u128> {
    let first = word.as_ref().as_bytes().first()?;
    Some(1 << first.min(&127))
}
