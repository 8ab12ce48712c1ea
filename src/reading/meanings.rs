//! The meanings that one word may have, as a set that costs nothing to copy or to ask.

use super::lexicon::Concept;

/// A set of concepts that remembers which was added first: that one stands before the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Meanings {
    /// A number of 128 bits as its bytes, which need no room around them.
    bits: [u8; 16],
    first: Option<Concept>,
}

impl Meanings {
    pub const NONE: Self = Self {
        bits: [0; 16],
        first: None,
    };

    pub fn add(&mut self, concept: Concept) {
        self.bits = (self.bits() | Self::bit_of(concept)).to_ne_bytes();
        self.first = self.first.or(Some(concept));
    }

    pub const fn bit_of(concept: Concept) -> u128 {
        1 << concept as u32
    }

    /// A bit for each.
    pub const fn bits(self) -> u128 {
        u128::from_ne_bytes(self.bits)
    }

    pub fn contains(self, concept: &Concept) -> bool {
        self.bits() & Self::bit_of(*concept) != 0
    }

    pub fn contains_any(self, concepts: &[Concept]) -> bool {
        let asked = concepts
            .iter()
            .fold(0u128, |bits, concept| bits | Self::bit_of(*concept));
        self.bits() & asked != 0
    }

    pub fn is_empty(self) -> bool {
        self.bits() == 0
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
