//! Where something stands in a note: bytes, lines and columns, and the moment in the recording.
//!
//! Comes in: the text of a file. Goes out: [`SourceText`], [`Span`], [`Place`], [`ClockTime`].
//! This room never interprets a word. Start reading at [`SourceText`].

/// A moment in the recording.
mod clock;

/// Text made safe for HTML.
mod escaped;

/// Words folded for matching: lower case, accents off, with a way back to the source.
mod fold;

/// A text with holes, filled.
mod filled;

/// English or Spanish.
mod language;

/// Bytes of a file and what a reader calls that place.
mod place;

/// Tables of words.
mod quick;

/// Names made into addresses.
mod slug;

/// A file's text with its lines.
mod source;

pub use clock::ClockTime;
pub use escaped::escaped;
pub use filled::filled;
pub use fold::{Folded, fold, folded};
pub use language::Language;
pub use place::{FileId, Place, Span};
pub use quick::{Begins, QuickMap, QuickSet, WHOLE_FRONT, front};
pub use slug::slug;
pub use source::SourceText;
