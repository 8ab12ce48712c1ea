//! What may be wrong with a file of palos.

/// What is wrong with a file of palos, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {fault}")]
pub struct PaloError {
    /// 1-based.
    pub line: u32,
    pub fault: PaloFault,
}

#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PaloFault {
    /// The file is not of the right shape; in the words of the TOML reader.
    #[error("{0}")]
    Shape(String),
    #[error("`{0}` cannot be a palo's slug: lower-case letters, digits and hyphens only")]
    Slug(String),
    #[error("the palo `{0}` stands twice in this file")]
    Twice(String),
    #[error("`{slug}` is counted like `{like}`, which is not a palo with a compás")]
    Like { slug: String, like: String },
    #[error("`{0}` has no compás: give one, or say `free = true`")]
    NoCompas(String),
    #[error("`{0}` is free, so it can have no compás and no tempo")]
    FreeWithCompas(String),
    #[error("a compás of {0} counts is outside of 1 to 64")]
    Counts(i64),
    #[error("{lengths} lengths are given for {counts} counts")]
    Lengths { counts: i64, lengths: usize },
    #[error("a count of {0} pulses is outside of 1 to 16")]
    Length(i64),
    #[error("the groups add up to {sum}, and the compás has {counts} counts")]
    Groups { sum: i64, counts: i64 },
    #[error("{given} numbers are spoken over {counts} counts")]
    Spoken { given: usize, counts: i64 },
    #[error("{what} on {at} is outside of the compás of {counts} counts")]
    Outside {
        /// `start`, `accent` or `clap`.
        what: &'static str,
        at: String,
        counts: i64,
    },
    #[error("a clap is strong on {0}, where nobody claps")]
    StrongWithoutClap(String),
    #[error("the tempo goes from {low} to {high}: give two figures above 0, the lower one first")]
    Tempo { low: u32, high: u32 },
    #[error("the tempo is for {0} counts, and the palo is not counted so")]
    TempoCounts(i64),
    #[error("the level {0} is above 100")]
    Level(u8),
}
