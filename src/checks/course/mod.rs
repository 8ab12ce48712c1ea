//! What lessons say together: links, numbers, the order of the course.

pub(super) mod chord_before_taught;
pub(super) mod chord_with_two_shapes;
pub(super) mod lesson_number_twice;
pub(super) mod link_to_nowhere;
pub(super) mod needs_ring;
pub(super) mod palo_with_two_accent_sets;
pub(super) mod technique_before_taught;
pub(super) mod term_before_taught;
pub(super) mod time_past_recording;

/// Which lessons come before which.
mod before;
