//! Measures on rhythms: how far one lies from another, and what it is like by itself.
//!
//! A [`Timeline`] is a cycle of equal pulses, some of them struck. Distances are linear, as published: they do not wrap
//! round the end. Where a cycle has no first pulse of its own, take the least over rotations.
//!
//! Sources: off-beatness, swap and chronotonic distance, and oddity as used for the flamenco timelines by
//! Díaz-Báñez, Farigu, Gómez, Rappaport and Toussaint (BR04, SL). The papers' definitions are from memory, confirmed by
//! their published numbers: see tests/outside/rhythm.rs.

/// A cycle of equal pulses, some of them struck.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Timeline {
    struck: Vec<bool>,
}

impl Timeline {
    pub fn new(struck: Vec<bool>) -> Self {
        Self { struck }
    }

    /// Reads `1001001010`; None when there is another letter in it.
    pub fn parse(text: &str) -> Option<Self> {
        let pulse = |letter: char| match letter {
            '1' => Some(true),
            '0' => Some(false),
            _ => None,
        };
        text.chars().map(pulse).collect::<Option<Vec<bool>>>().map(Self::new)
    }

    /// A cycle of so many pulses, struck at these; those outside are left out.
    pub fn with_onsets(pulses: usize, onsets: &[usize]) -> Self {
        Self::new((0..pulses).map(|pulse| onsets.contains(&pulse)).collect())
    }

    pub fn pulses(&self) -> usize {
        self.struck.len()
    }

    /// The struck pulses, from 0.
    pub fn onsets(&self) -> Vec<usize> {
        let pulses = self.struck.iter().enumerate();
        pulses.filter(|(_, struck)| **struck).map(|(pulse, _)| pulse).collect()
    }

    /// The same cycle begun on another pulse: what was at `start` is at 0.
    pub fn from_pulse(&self, start: usize) -> Self {
        let mut struck = self.struck.clone();
        if !struck.is_empty() {
            let by = start % struck.len();
            struck.rotate_left(by);
        }
        Self { struck }
    }
}

impl std::fmt::Display for Timeline {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let letters: String = self
            .struck
            .iter()
            .map(|struck| if *struck { '1' } else { '0' })
            .collect();
        f.write_str(&letters)
    }
}

/// Swaps of neighbouring pulses that turn one rhythm into the other, in pulses.
///
/// Each strike of the fuller rhythm goes to one of the other, none of which goes without; the sum of the ways is as
/// small as can be. Linear. None when the lengths differ or only one of them is struck at all.
pub fn directed_swap(one: &Timeline, other: &Timeline) -> Option<u64> {
    if one.pulses() != other.pulses() {
        return None;
    }
    let (mut many, mut few) = (one.onsets(), other.onsets());
    if many.len() < few.len() {
        std::mem::swap(&mut many, &mut few);
    }
    if few.is_empty() {
        return many.is_empty().then_some(0);
    }
    // costs[j]: the least sum so far with the last strike sent to few[j]; one more strike of `many` at each turn.
    let way = |from: usize, to: &usize| from.abs_diff(*to) as u64;
    let mut costs: Vec<Option<u64>> = Vec::new();
    for (turn, from) in many.iter().enumerate() {
        let last = |j: usize| costs.get(j).copied().flatten();
        let least = |j: usize| {
            let stayed = last(j);
            let moved = j.checked_sub(1).and_then(last);
            if turn == 0 {
                return (j == 0).then_some(0);
            }
            stayed.into_iter().chain(moved).min()
        };
        costs = few
            .iter()
            .enumerate()
            .map(|(j, to)| least(j).map(|cost| cost + way(*from, to)))
            .collect();
    }
    costs.last().copied().flatten()
}

/// The area between the two rhythms drawn as steps: each pulse as high as the interval it lies in is long.
///
/// Linear: what is silent before the first strike is an interval of its own, and the last interval ends with the bar.
/// None when the lengths differ.
pub fn chronotonic(one: &Timeline, other: &Timeline) -> Option<u64> {
    let (one, other) = (heights(one), heights(other));
    let between = |(a, b): (&u64, &u64)| a.abs_diff(*b);
    (one.len() == other.len()).then(|| one.iter().zip(&other).map(between).sum())
}

fn heights(timeline: &Timeline) -> Vec<u64> {
    let mut edges = timeline.onsets();
    edges.insert(0, 0);
    edges.push(timeline.pulses());
    let mut heights = Vec::new();
    for pair in edges.windows(2) {
        if let [from, to] = pair {
            let length = to.saturating_sub(*from);
            heights.extend(std::iter::repeat_n(length as u64, length));
        }
    }
    heights
}

/// A distance between rhythms of one length: [`directed_swap`] or [`chronotonic`].
pub type Distance = fn(&Timeline, &Timeline) -> Option<u64>;

/// The smallest distance when the other rhythm may begin on any of its pulses, and the first pulse that gives it.
pub fn least_over_rotations(distance: Distance, one: &Timeline, other: &Timeline) -> Option<(u64, usize)> {
    let turned = |start: usize| distance(one, &other.from_pulse(start)).map(|cost| (cost, start));
    (0..other.pulses().max(1)).filter_map(turned).min()
}

/// Strikes on pulses that no even division of the cycle, begun on its first pulse, ever meets: in twelve 1, 5, 7, 11.
pub fn off_beatness(timeline: &Timeline) -> usize {
    let pulses = timeline.pulses();
    let alone = |pulse: &usize| greatest_common_divisor(*pulse, pulses) == 1;
    timeline.onsets().iter().filter(|pulse| alone(pulse)).count()
}

/// True when no two strikes halve the cycle. A cycle of an odd number of pulses cannot be halved.
pub fn has_oddity(timeline: &Timeline) -> bool {
    let pulses = timeline.pulses();
    let opposite = |pulse: &usize| timeline.struck.get((pulse + pulses / 2) % pulses.max(1)) == Some(&true);
    pulses % 2 == 1 || !timeline.onsets().iter().any(opposite)
}

/// How evenly the strikes are spread round the cycle: 1 for a regular polygon, less the more they crowd.
///
/// The sum of the straight distances between all pairs on a circle, as a share of the regular polygon's.
/// A rhythm of one strike or none counts as even.
pub fn evenness(timeline: &Timeline) -> f64 {
    let onsets: Vec<f64> = timeline.onsets().iter().map(|onset| *onset as f64).collect();
    let pulses = timeline.pulses() as f64;
    let regular: Vec<f64> = (0..onsets.len())
        .map(|k| k as f64 * pulses / onsets.len() as f64)
        .collect();
    let best = spread(&regular, pulses);
    if best == 0.0 {
        1.0
    } else {
        spread(&onsets, pulses) / best
    }
}

fn spread(onsets: &[f64], pulses: f64) -> f64 {
    let mut sum = 0.0;
    for (index, one) in onsets.iter().enumerate() {
        for other in onsets.iter().skip(index + 1) {
            sum += 2.0 * (std::f64::consts::PI * (other - one) / pulses).sin().abs();
        }
    }
    sum
}

/// So many strikes spread over so many pulses as evenly as whole pulses allow, begun with a strike.
///
/// Built as Bjorklund's method does: the rests are dealt out behind the strikes, again and again.
pub fn euclidean(strikes: usize, pulses: usize) -> Timeline {
    if strikes == 0 || pulses == 0 {
        return Timeline::new(vec![false; pulses]);
    }
    let strikes = strikes.min(pulses);
    let mut heads: Vec<Vec<bool>> = vec![vec![true]; strikes];
    let mut tails: Vec<Vec<bool>> = vec![vec![false]; pulses - strikes];
    while tails.len() > 1 {
        let dealt = heads.len().min(tails.len());
        let spare_heads = heads.split_off(dealt);
        let spare_tails = tails.split_off(dealt);
        for (head, tail) in heads.iter_mut().zip(tails) {
            head.extend(tail);
        }
        tails = if spare_heads.is_empty() {
            spare_tails
        } else {
            spare_heads
        };
    }
    Timeline::new(heads.into_iter().chain(tails).flatten().collect())
}

fn greatest_common_divisor(one: usize, other: usize) -> usize {
    if other == 0 {
        one
    } else {
        greatest_common_divisor(other, one % other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn timeline(text: &str) -> Timeline {
        Timeline::parse(text).expect("ones and zeros")
    }

    #[test]
    fn rhythms_that_cannot_be_compared_have_no_distance() {
        assert_eq!(directed_swap(&timeline("100"), &timeline("1000")), None);
        assert_eq!(chronotonic(&timeline("100"), &timeline("1000")), None);
        assert_eq!(directed_swap(&timeline("100"), &timeline("000")), None);
        assert_eq!(directed_swap(&timeline("000"), &timeline("000")), Some(0));
        assert_eq!(Timeline::parse("10x"), None);
    }

    #[test]
    fn nothing_of_an_empty_cycle_panics() {
        let nothing = timeline("");
        assert_eq!(off_beatness(&nothing), 0);
        assert!(has_oddity(&nothing));
        assert!((evenness(&nothing) - 1.0).abs() < 1e-12);
        assert_eq!(least_over_rotations(directed_swap, &nothing, &nothing), Some((0, 0)));
        assert_eq!(euclidean(3, 0), nothing);
        assert_eq!(euclidean(5, 3), timeline("111"));
    }

    fn any_pair() -> impl Strategy<Value = (Timeline, Timeline)> {
        (1usize..=14).prop_flat_map(|pulses| {
            let struck = || proptest::collection::vec(any::<bool>(), pulses).prop_map(Timeline::new);
            (struck(), struck())
        })
    }

    proptest! {
        #[test]
        fn distances_are_distances((one, other) in any_pair()) {
            for distance in [directed_swap as Distance, chronotonic as Distance] {
                prop_assert_eq!(distance(&one, &one), Some(0));
                prop_assert_eq!(distance(&one, &other), distance(&other, &one));
            }
            if let Some((least, start)) = least_over_rotations(directed_swap, &one, &other) {
                prop_assert_eq!(directed_swap(&one, &other.from_pulse(start)), Some(least));
                prop_assert!(directed_swap(&one, &other).is_none_or(|plain| least <= plain));
            }
        }

        #[test]
        fn the_swap_distance_is_the_least_of_all_ways_to_send_strikes((one, other) in any_pair()) {
            let (mut many, mut few) = (one.onsets(), other.onsets());
            if many.len() < few.len() {
                std::mem::swap(&mut many, &mut few);
            }
            prop_assume!(!few.is_empty() && many.len() <= 6);
            prop_assert_eq!(directed_swap(&one, &other), Some(cheapest(&many, &few, 0)));
        }
    }

    /// By trying every way: `met` marks, by bits, which strikes of `few` somebody went to.
    fn cheapest(many: &[usize], few: &[usize], met: u32) -> u64 {
        let Some((from, rest)) = many.split_first() else {
            return if met.count_ones() as usize == few.len() {
                0
            } else {
                u64::MAX / 2
            };
        };
        let ways = few.iter().enumerate();
        let cost = |(j, to): (usize, &usize)| from.abs_diff(*to) as u64 + cheapest(rest, few, met | 1 << j);
        ways.map(cost).min().unwrap_or(u64::MAX / 2)
    }
}
