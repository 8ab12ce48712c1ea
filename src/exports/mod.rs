//! 7. Lessons become files for other programs, one file here a format.

/// The facts contract of `read --format json`.
pub mod facts;
