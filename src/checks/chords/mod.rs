//! A shape sounds its name, a note its fret; a finger is in one place.

pub(super) mod chords_miscounted;
pub(super) mod finger_on_two_frets;
pub(super) mod fingers_contradict_shape;
pub(super) mod note_contradicts_fret;
pub(super) mod open_and_fretted;
pub(super) mod shape_adds_notes;
pub(super) mod shape_contradicts_name;
pub(super) mod sounding_key_differs;
pub(super) mod string_without_finger;

/// What a shape sounds.
mod sounding;
