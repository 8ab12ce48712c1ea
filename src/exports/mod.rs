//! 7. Lessons become files for other programs, one file here a format.
//!
//! Comes in: lessons. Goes out: text or bytes in an open format.
//! This room never writes to the disk and never asks where a lesson came from.

/// The facts contract of `read --format json`.
pub mod facts;

/// A practice plan as iCalendar.
pub mod icalendar;

/// Where bar lines fall.
mod bars;

/// A score as a Standard MIDI File.
pub mod midi;

/// A score as MusicXML.
pub mod musicxml;

/// What is heard in the recording, when: WebVTT.
pub mod webvtt;

/// A practice plan as text.
pub mod plan_text;

/// A practice plan as a page of HTML.
pub mod plan_page;
