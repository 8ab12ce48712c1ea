//! Numbers said beside what they count, counts that a line announces: kept, to be held against what is told.

use super::discourse::Discourse;
use super::forms::{
    Asked, chords_numbered, listed_behind, notes_numbered, numbered, open_and_fretted, rasgueado_numbered,
};
use super::listener::Listener;
use super::spans::span_at;
use crate::music::lesson::Said;
use crate::music::pattern::{ClaimAbout, CountSpan};

impl Listener<'_> {
    /// `4-7 the same on E7: 4 p s6, …`: the counts that a line opens with, where it tells what is played there.
    pub(super) fn counts_announced(&self, discourse: &mut Discourse) {
        let Some((first, last, end)) = span_at(self.tokens, 0).filter(|_| discourse.placed_in_sentence) else {
            return;
        };
        let heads = self.tokens.iter().skip(end).any(|token| token.is_mark(':'));
        let (span, line) = (CountSpan { first, last }, self.place.line);
        if heads && !discourse.announces(span, line) {
            discourse.claim(ClaimAbout::Covers { span, chord: None }, self.place);
        }
    }

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
            discourse.head_of_list(listed_behind(asked));
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
