#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]
//! The room that reads the notes: folders and files in, cues out.

mod support;

mod captions;
mod folders;
mod lessons;
mod plain;
mod private;
mod properties;
