//! 5. Lessons become practice: what to play, in which order, how fast, on which day.
//!
//! Comes in: lessons. Goes out: scores (what sounds), pieces, joins, circuits, mixes, drills, plans: plain data.
//! This room knows no clock and no chance but a seed; it draws nothing, sounds nothing and reads no text.
//! Start reading at [`score`].

/// What sounds, as one value for player, practice track and exports.
pub mod score;

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
