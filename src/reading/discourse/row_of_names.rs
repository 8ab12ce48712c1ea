use super::Discourse;
use crate::music::pitch::NoteName;
use crate::music::stroke::{Action, Stroke};
use crate::reading::lexicon::Concept;
use crate::reading::pitch_words::pitch_at;
use crate::reading::tokens::Token;
use crate::text::Place;

/// Fewer names are no row.
const LEAST: usize = 3;

impl Discourse {
    /// `names: G F / E D / C B` behind the notes they name, one for one. True when the line was such a row.
    pub fn row_of_names(&mut self, tokens: &[Token], place: Place) -> bool {
        let Some(names) = self.names_in_a_row(tokens) else {
            return false;
        };
        let Some(building) = self.building() else { return false };
        let single = |stroke: &Stroke| {
            let note = matches!(
                stroke.action,
                Action::Pluck | Action::Picado | Action::PullOff | Action::HammerOn
            );
            note && stroke.strings.len() <= 1
        };
        building
            .strokes
            .sort_by_key(|placed| (placed.stroke.at, placed.stroke.action));
        let mut notes: Vec<&mut Stroke> = building
            .strokes
            .iter_mut()
            .map(|placed| &mut placed.stroke)
            .filter(|stroke| single(stroke))
            .collect();
        if notes.len() != names.len() || notes.iter().any(|stroke| stroke.note.is_some()) {
            return false;
        }
        for (stroke, name) in notes.iter_mut().zip(names) {
            stroke.note = Some(name);
        }
        self.note("the names of the notes, one for one".to_owned(), place);
        self.taken += 1;
        true
    }

    /// Nothing but names of notes, behind a word that announces them.
    fn names_in_a_row(&self, tokens: &[Token]) -> Option<Vec<NoteName>> {
        let mut names = Vec::new();
        let mut at = 0;
        while let Some(token) = tokens.get(at) {
            let announces = names.is_empty()
                && (token.is(Concept::So)
                    || matches!(token.word.as_str(), "names" | "notes" | "notas" | "nombres" | "o sea"));
            if token.mark.is_some() || announces {
                at += 1;
                continue;
            }
            let pitch = pitch_at(tokens, at, self.context.language, self.context.typed)?;
            names.push(pitch.root);
            at += pitch.length;
        }
        (names.len() >= LEAST && self.context.typed).then_some(names)
    }
}
