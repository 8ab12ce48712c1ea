//! Compasario: a folder of a flamenco guitar teacher's lesson notes becomes a checked, linked practice website.
//!
//! The corridor, in the order a note travels:
//!
//! ```text
//! notes folder -> cues -> sentences -> tokens -> statements -> lesson -> findings
//!     intake                 reading                                     checks
//!                                                              |-> practice
//!                                                              |-> pages, exports
//!                                          two folders' lessons |-> compare
//! ```
//!
//! `text`, `music` and `findings` are the cellar that every room stands on.
//! Nothing later than `reading` looks at the text of a note.
#![forbid(unsafe_code)]
#![cfg_attr(not(test), warn(clippy::unwrap_used, clippy::indexing_slicing, clippy::string_slice))]

pub mod text;

pub mod music;

pub mod findings;

/// Why a run could not finish.
pub mod failure;

/// A mark of everything that something comes from.
pub mod mark;

/// 1. Folder of notes to timed cues.
pub mod intake;

/// 4. Lessons to findings: does it hold together?
pub mod checks;

/// 5. Two states of a course: what changed in the music, in the words, in the pages.
pub mod compare;

/// What the teacher has to look at, lesson by lesson.
pub mod report;

/// 6. Lessons to pages: the course website.
pub mod pages;

/// 7. Lessons to files for other programs.
pub mod exports;

/// 5. Lessons to practice: pieces, joins, circuits, mixes, plans.
pub mod practice;

/// 7. Scores to sound: the practice track.
pub mod sound;

/// The only writer.
pub mod disk;

/// 8. A look at the course while the notes are being written.
pub mod preview;

/// 2. Cues to lessons: what was said, and what it means together.
pub mod reading;

/// The canonical written form of a lesson: written and read back.
pub mod written;

/// What was understood from which words, for people.
pub mod understood;

/// The whole journey of a folder, on one screen.
pub mod pipeline;

/// What may be typed.
pub mod cli;

/// One file per command.
pub mod commands;
