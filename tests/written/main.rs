//! The written form: lines read and near misses, stacked rows, round trips over lessons that could be.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod gold;
mod lessons;
mod round_trip;
mod score;
mod show;
mod tables;
