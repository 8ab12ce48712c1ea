use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

use num_rational::Ratio;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// An exact number of counts (a length, not a moment).
pub type Counts = Ratio<i64>;

/// A moment in the compás, as counted aloud: count 4 is `4`, the "and" of 4 is `4+1/2`.
///
/// Count 1 of the next compás of twelve is 13: a pickup goes on counting.
/// In a palo of uneven counts a position is in counts, not in pulses: the last third of a long count is `3+2/3`.
#[derive(Debug, Clone, Copy, Eq)]
pub struct Position(pub Ratio<i64>);

/// Fractions are always in their lowest terms.
impl PartialEq for Position {
    fn eq(&self, other: &Self) -> bool {
        self.0.numer() == other.0.numer() && self.0.denom() == other.0.denom()
    }
}

impl Hash for Position {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.0.numer(), self.0.denom()).hash(state);
    }
}

/// Moments are mostly compared within the same parts of a count, where no division is needed.
impl Ord for Position {
    fn cmp(&self, other: &Self) -> Ordering {
        if self.0.denom() == other.0.denom() {
            self.0.numer().cmp(other.0.numer())
        } else {
            self.0.cmp(&other.0)
        }
    }
}

impl PartialOrd for Position {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Position {
    pub fn count(count: i64) -> Self {
        Self(Ratio::from_integer(count))
    }

    pub fn new(count: i64, over: i64, under: i64) -> Self {
        Self(Ratio::from_integer(count) + Ratio::new(over, under.max(1)))
    }

    /// The count that the moment lies in: 4 for `4+1/2`.
    pub fn whole(self) -> i64 {
        match *self.0.denom() {
            1 => *self.0.numer(),
            under => self.0.numer().div_euclid(under),
        }
    }

    /// How far into its count, from 0 up to but not including 1.
    pub fn fraction(self) -> Ratio<i64> {
        self.0 - self.0.floor()
    }

    pub fn plus(self, counts: Counts) -> Self {
        if self.0.is_integer() && counts.is_integer() {
            return Self::count(self.0.numer() + counts.numer());
        }
        Self(self.0 + counts)
    }

    /// Reads `4`, `4+1/2`, `7+2/3`. None when it is not a position.
    pub fn parse(text: &str) -> Option<Self> {
        let (count, fraction) = match text.split_once('+') {
            Some((count, fraction)) => (count.trim(), Some(fraction.trim())),
            None => (text.trim(), None),
        };
        let count: i64 = count.parse().ok().filter(|count| (0..=10_000).contains(count))?;
        let Some(fraction) = fraction else {
            return Some(Self::count(count));
        };
        let (over, under) = fraction.split_once('/')?;
        let over: i64 = over.trim().parse().ok()?;
        let under: i64 = under.trim().parse().ok()?;
        ((1..=10_000).contains(&under) && over >= 0 && over < under).then(|| Self::new(count, over, under))
    }
}

impl fmt::Display for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let fraction = self.fraction();
        if *fraction.numer() == 0 {
            write!(f, "{}", self.whole())
        } else {
            write!(f, "{}+{}/{}", self.whole(), fraction.numer(), fraction.denom())
        }
    }
}

impl Serialize for Position {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Position {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Position::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not a position")))
    }
}

/// Serde form of an optional length in counts: `"3/2"`.
pub mod counts_as_text {
    use super::{Counts, Deserialize, Deserializer, Serialize, Serializer};

    pub fn serialize<S: Serializer>(value: &Option<Counts>, serializer: S) -> Result<S::Ok, S::Error> {
        value.map(|counts| counts.to_string()).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Counts>, D::Error> {
        let text = Option::<String>::deserialize(deserializer)?;
        text.map(|text| text.parse().map_err(serde::de::Error::custom))
            .transpose()
    }
}
