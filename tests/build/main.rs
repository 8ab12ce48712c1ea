#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]
//! Building only what changed: the same site, byte for byte, as when everything is made.

mod command;
mod edits;
mod history;
mod random;
