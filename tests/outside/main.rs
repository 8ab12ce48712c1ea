//! What is held against somebody outside of the project: published tables and a general-purpose music library.
//! Each value names its source beside it. The files of data/ are written by the scripts here; run them again to see.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test may stop at once"
)]

mod chords;
mod neck;
mod rhythm;

/// The rows of a table that a script here wrote, without its heading.
fn rows(table: &'static str) -> Vec<Vec<&'static str>> {
    let lines = table.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    lines.map(|line| line.split('\t').collect()).collect()
}
