//! 5. Lessons become practice: what to play, in which order, how fast, on which day.
//!
//! Comes in: lessons. Goes out: scores (what sounds), pieces, joins, circuits, mixes, drills, plans: plain data.
//! This room knows no clock and no chance but a seed; it draws nothing, sounds nothing and reads no text.
//! Start reading at [`score`].

/// What sounds, as one value for player, practice track and exports.
pub mod score;

/// Many scores of the same vueltas, kept small.
pub mod book;

/// Chance from a seed.
pub mod dice;

/// Minimum-cost flow.
mod flow;

/// The shortest way over every allowed join.
pub mod circuit;

/// What is said to a student, in the lesson's language.
mod words;

/// Once through what a core covers, and where its moments fall.
mod turn;

/// The core, and the core with one variation in place.
pub mod versions;

/// A pattern in its place in a vuelta.
mod voice;

/// From a stroke as told to the strings that sound.
mod hands;

/// One vuelta of a version, laid out stroke by stroke.
mod bars;

/// One version followed by another: ranked, and cut out to be drilled.
pub mod joins;

/// Which version may follow which, told from the bars.
mod judge;

/// Spans small enough to learn, and their chains.
pub mod pieces;

/// From a start that the hands can do to the goal, in steps.
pub mod ladder;

/// Versions in an order that chance chose.
pub mod mix;

/// The book of some lessons in the making.
mod desk;

/// How a version is learnt.
mod learning;

/// Counting, clapping, answering, listening.
pub mod drills;

/// Everything that a practice page shows and its player plays.
pub mod page;

/// What to practise on which day.
pub mod plan;

pub use page::{PageData, page_data};
