//! What was written or heard: times, misheard words, sentences not understood.

pub(super) mod list_miscounted;
pub(super) mod said_twice_differently;
pub(super) mod sentence_not_understood;
pub(super) mod times_run_backwards;
pub(super) mod word_misheard;
