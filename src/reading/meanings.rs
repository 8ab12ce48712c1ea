//! The meanings that one word may have, as a set that costs nothing to copy or to ask.

use super::lexicon::Concept;

/// A set of concepts that remembers which was added first: that one stands before the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Meanings {
    bits: u128,
    first: Option<Concept>,
}

impl Meanings {
    pub const NONE: Self = Self { bits: 0, first: None };

    pub fn add(&mut self, concept: Concept) {
        self.bits |= 1 << concept as u32;
        self.first = self.first.or(Some(concept));
    }

    /// One more, and none of them is first.
    pub const fn and(self, concept: Concept) -> Self {
        Self {
            bits: self.bits | 1 << concept as u32,
            first: None,
        }
    }

    /// Whether two sets share a meaning.
    pub fn meets(self, other: Self) -> bool {
        self.bits & other.bits != 0
    }

    pub fn contains(self, concept: &Concept) -> bool {
        self.bits & (1 << *concept as u32) != 0
    }

    pub fn contains_any(self, concepts: &[Concept]) -> bool {
        let asked = concepts.iter().fold(0u128, |bits, concept| bits | 1 << *concept as u32);
        self.bits & asked != 0
    }

    /// What stands in either of two sets; none of it is first.
    pub const fn or(self, other: Self) -> Self {
        Self {
            bits: self.bits | other.bits,
            first: None,
        }
    }

    pub fn is_empty(self) -> bool {
        self.bits == 0
    }

    pub fn first(self) -> Option<Concept> {
        self.first
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_concept_has_its_own_bit() {
        assert!((Concept::Plain as u32) < u128::BITS, "Plain is the last concept");
        let mut meanings = Meanings::NONE;
        meanings.add(Concept::Plain);
        meanings.add(Concept::Down);
        assert_eq!(meanings.first(), Some(Concept::Plain));
        assert!(meanings.contains(&Concept::Down) && !meanings.contains(&Concept::Up));
        assert!(meanings.contains_any(&[Concept::Up, Concept::Down]));
    }
}
