//! One version after another, and the core into a variation and back: what is still held, who plays the counts.

pub(super) mod count_taken_twice;
pub(super) mod held_into_next;
pub(super) mod join_without_caution;
pub(super) mod variation_not_told;
pub(super) mod variations_meet;
