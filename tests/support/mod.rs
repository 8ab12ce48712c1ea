//! What the tests share. Each test file uses a part of it.
#![allow(dead_code, reason = "each test file uses a part of the shared support")]

/// Lessons made by hand, with places in a note made along with them.
pub mod lesson;

/// Lessons whose facts stand in folders of the tests, by name.
pub mod golds;
