//! The canonical written form: what a teacher scribbles under a count, exact enough to be read back.
//!
//! Comes in: one typed line (or a block of stacked lines). Goes out: what it says, as [`Item`]s with their bytes.
//! This room never guesses: a line that is not wholly in the form gives None. It keeps nothing from line to line;
//! what carries over is given by the caller in [`LineContext`].

/// What a line says.
mod item;

/// What words mean.
mod meaning;

/// The words, from `src/data/shorthand.toml`.
mod shorthand;

/// Small steps over a line.
mod parser;

/// What stands at a place of a line.
mod begins;

/// Names of chords and pitches, moments, spans.
mod names;

/// One stroke.
mod strokes;

/// Strings and frets.
mod strings;

/// A line that begins with a count.
mod count_line;

/// All that happens at one moment.
mod content;

/// Notes spread evenly.
mod spread;

/// Where a line is.
mod run;

/// Counts played as others are.
mod same_line;

/// Head, compás, tempo, key.
mod head_line;

/// Chord shapes and plans.
mod chord_line;

/// The opening of a pattern.
mod pattern_line;

/// Cautions, advice, questions, links.
mod remark_line;

/// What the text says about its own strokes.
mod said_line;

/// Rows of strokes under a row of counts.
mod stacked;

/// Cells of such rows and their columns.
mod cells;

/// Whether a line can be in the form at all.
mod opener;

/// One line as a whole.
mod line;

/// How text and names are spelled.
mod spelling;

/// A lesson written out.
mod write;

/// Remarks written out.
mod write_remarks;

/// A pattern written out.
mod write_pattern;

/// Items put together into a lesson.
mod assemble;

/// A lesson written out for its teacher to go on with.
mod draft;

pub use assemble::{read, read_source};
pub use draft::{draft, open_questions, with_questions};
pub use item::{Begin, Covers, Head, Item, LineContext, OwnWord, Same, SameOf, Spanned};
pub use line::{Unit, line, unit_at};
pub use shorthand::Meaning;
pub use write::write;
