//! Chance that is the same every time for the same seed, on every machine and in every version of this program.

/// The generator splitmix64 (Steele, Lea, Flood, OOPSLA 2014, doi 10.1145/2660193.2660195): one 64-bit state.
#[derive(Debug, Clone)]
pub struct Dice {
    state: u64,
}

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to but not including `below`; 0 when `below` is 0.
    ///
    /// The upper bits times the bound: a bias of less than `below` in 2^32, which no ear will find.
    pub fn below(&mut self, below: u32) -> u32 {
        let upper = self.bits() >> 32;
        ((upper * u64::from(below)) >> 32) as u32
    }

    /// The index of one of the weights, as likely as it is heavy. None when nothing has weight.
    pub fn weighted(&mut self, weights: &[u32]) -> Option<usize> {
        let total = weights.iter().fold(0_u32, |sum, weight| sum.saturating_add(*weight));
        if total == 0 {
            return None;
        }
        let mut left = self.below(total);
        for (index, weight) in weights.iter().enumerate() {
            if left < *weight {
                return Some(index);
            }
            left -= weight;
        }
        None
    }

    /// All in another order, each order as likely as any other.
    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for last in (1..things.len()).rev() {
            let other = self.below(last as u32 + 1) as usize;
            things.swap(last, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first five numbers for the seed 1234567: Rosetta Code, "Pseudo-random numbers/Splitmix64" (from memory of
    /// that page; the same five come from the reference C code, worked through by hand in Python for this test).
    #[test]
    fn splitmix64_gives_the_published_row() {
        let mut dice = Dice::new(1_234_567);
        let row: Vec<u64> = (0..5).map(|_| dice.bits()).collect();
        let published = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(row, published);
    }

    #[test]
    fn weights_of_nothing_choose_nothing() {
        assert_eq!(Dice::new(1).weighted(&[0, 0]), None);
        assert_eq!(Dice::new(1).weighted(&[]), None);
    }

    #[test]
    fn heavier_is_likelier() {
        let mut dice = Dice::new(7);
        let mut hits = [0_u32; 3];
        for _ in 0..6000 {
            if let Some(hit) = dice.weighted(&[1, 0, 5]).and_then(|index| hits.get_mut(index)) {
                *hit += 1;
            }
        }
        assert_eq!(hits[1], 0);
        assert!((900..1100).contains(&hits[0]), "{hits:?}");
    }

    #[test]
    fn a_shuffle_loses_nothing() {
        let mut cards: Vec<u32> = (0..20).collect();
        Dice::new(3).shuffle(&mut cards);
        assert_ne!(cards, (0..20).collect::<Vec<u32>>());
        cards.sort_unstable();
        assert_eq!(cards, (0..20).collect::<Vec<u32>>());
    }
}
