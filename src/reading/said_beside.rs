//! Numbers said beside what they count: kept, to be held against it.

use super::discourse::Discourse;
use super::forms::{Asked, chords_numbered, notes_numbered, numbered, open_and_fretted, rasgueado_numbered};
use super::listener::Listener;
use crate::music::lesson::Said;
use crate::music::pattern::ClaimAbout;

impl Listener<'_> {
    /// How many chords a list holds, how many notes a variation has: said in front of them.
    pub(super) fn numbers_said(&self, asked: &Asked, discourse: &mut Discourse) {
        if discourse.lesson.chords_said.is_none() {
            discourse.lesson.chords_said = chords_numbered(asked).map(|said| Said::new(said, self.place));
        }
        if discourse.announced().is_some()
            && let Some(said) = notes_numbered(asked)
            && let Some(building) = discourse.building()
        {
            building.notes_said = Some((said, self.place));
        }
    }

    /// How many notes a count, fingers a rasgueado is said to have, and a string said to sound twice.
    pub(super) fn numbers_beside(&self, asked: &Asked, discourse: &mut Discourse) {
        if let Some((said, given)) = rasgueado_numbered(asked).filter(|_| discourse.in_pattern()) {
            let at = crate::music::position::Position::count(discourse.cursor.unwrap_or(1));
            discourse.claim(ClaimAbout::Numbered { at, said, given }, self.place);
        }
        if self.sentence.typed {
            let place = self.place;
            let at = crate::music::position::Position::count(discourse.cursor.unwrap_or(1));
            let divided = discourse.close_run();
            if let Some((said, given)) = numbered(asked).filter(|_| !divided) {
                discourse.claim(ClaimAbout::Numbered { at, said, given }, place);
            }
            if let Some((string, fret)) = open_and_fretted(asked) {
                discourse.claim(ClaimAbout::OpenAndFretted { at, string, fret }, place);
            }
        }
    }
}
