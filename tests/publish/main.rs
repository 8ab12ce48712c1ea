#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]
//! Publishing: the site is the complete old one or the complete new one, whatever happens.

mod child;
mod full_disk;
mod kills;
mod refusals;
mod replacing;
mod support;
