//! What the left hand is told to hold, put, lift and sound: can one hand do it?

pub(super) mod change_too_quick;
pub(super) mod fingers_crossed;
pub(super) mod kept_finger_in_the_way;
pub(super) mod ligado_impossible;
pub(super) mod open_string_under_barre;
pub(super) mod stretch_too_wide;
pub(super) mod too_many_fingers;

/// Fingers, strings and frets in words.
pub(super) mod words;

/// The left hand through each pattern and each version.
pub(super) mod told;
