//! The canonical written form: what a teacher scribbles under a count, exact enough to be read back.
//!
//! [`write`] makes it from a lesson; reading it back gives the same lesson.
