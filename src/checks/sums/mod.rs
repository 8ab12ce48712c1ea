//! Spans filled, divided and not overlapped; strokes match counts.

pub(super) mod count_left_out;
pub(super) mod gap_between_spans;
pub(super) mod notes_in_triplet;
pub(super) mod one_finger_twice;
pub(super) mod overlapping_spans;
pub(super) mod recited_row_differs;
pub(super) mod stroke_outside_its_line;
pub(super) mod stroke_outside_span;
pub(super) mod too_few_notes;
pub(super) mod too_many_notes;
pub(super) mod variation_count_open;
pub(super) mod variation_past_its_span;
pub(super) mod variation_without_strokes;

/// Lists held against the number said beside them.
mod told;
