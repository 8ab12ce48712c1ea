//! Accents, counts and tempo possible for the palo.

pub(super) mod accent_past_compas;
pub(super) mod accents_not_of_palo;
pub(super) mod counts_not_of_palo;
pub(super) mod groups_miscounted;
pub(super) mod span_past_compas;
pub(super) mod tempo_implausible;
