//! What must not be read for publishing.

use crate::intake::Note;

/// Empties the private cues. They stay in their place, so that no sentence runs over the gap.
pub fn empty_private(note: &mut Note) {
    for cue in note.cues.iter_mut().filter(|cue| cue.private) {
        cue.text.clear();
        cue.map.clear();
        cue.word_times.clear();
        cue.speaker = None;
    }
}
