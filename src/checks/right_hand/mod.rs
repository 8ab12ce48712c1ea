//! What the right hand is told to play: can its fingers do it at the lesson's tempo?

pub(super) mod finger_repeats;
pub(super) mod finger_too_fast;
pub(super) mod golpe_with_busy_finger;
pub(super) mod line_too_fast;
pub(super) mod rasgueado_does_not_fill;
pub(super) mod right_fingers_crossed;
pub(super) mod stroke_misexplained;

/// The tempo at its top, and strokes with the fingers that their passage names.
mod pace;

/// Names of the fingers.
pub(super) mod words;
