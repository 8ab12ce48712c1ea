use super::Discourse;
use crate::music::pattern::Role;
use crate::music::position::Position;
use crate::reading::moments::{Part, When};
use crate::reading::statement::{ChordSaid, Told};
use crate::text::Place;

impl Discourse {
    pub(super) fn chord_told(&mut self, told: &Told, place: Place) {
        let Some(ChordSaid::Named(chord)) = told.chord.clone() else {
            return;
        };
        let opens = self
            .pattern()
            .is_some_and(|pattern| pattern.role != Role::Core && pattern.strokes.is_empty());
        // "So you're holding E. On 1, a down": what the round opens with.
        let holds = told.still && told.short && told.when.is_none() && !told.sounds() && !self.in_pattern();
        let kept = told.still && !told.sounds() && told.when.is_none() && !opens && !holds;
        if told.lifts || kept || self.names_a_variation(told) {
            return;
        }
        let vague = self.context.typed
            && told.when.is_none()
            && told.span.is_none()
            && !told.sounds()
            && !told.leads
            && !told.chord_cued;
        if vague {
            return;
        }
        let fresh_variation = self
            .pattern()
            .filter(|pattern| pattern.role != Role::Core && pattern.strokes.is_empty());
        let at = if let Some((first, _)) = told.span {
            Some(Position::count(first))
        } else if let Some(when) = told.when {
            self.resolve(when)
        } else if let Some(span) = fresh_variation
            .and_then(|pattern| pattern.span)
            .filter(|_| !self.sentence_has_count)
        {
            Some(Position::count(span.first))
        } else if let Some((first, _)) = self.focus.filter(|(_, last)| self.cursor == Some(*last)) {
            Some(Position::count(first))
        } else if self.sentence_has_count || self.context.typed && told.leads && told.short || told.arrives {
            self.cursor.map(Position::count)
        } else if holds || told.begins && told.short && !self.in_pattern() && self.cursor.is_none() {
            Some(Position::count(1))
        } else {
            None
        };
        let at = match at {
            Some(at) if told.bracketed => Some(Position::count(at.whole())),
            other => other,
        };
        let Some(at) = at else { return };
        if !self.in_pattern() && !told.sounds() && told.when.is_none() && !told.begins && !holds {
            return;
        }
        let at = self
            .resolve(When {
                count: Some(at.whole()),
                part: Part::Exactly(at.fraction()),
            })
            .unwrap_or(at);
        let runs_on = self.pattern().is_some_and(|pattern| pattern.runs_on);
        let stands = self.inside(at) || runs_on && told.sounds();
        if !stands {
            return;
        }
        let unheard_of = self.lesson.meter.beats.is_none() && self.lesson.meter.accents.is_empty();
        if !self.context.punctuated && unheard_of && !self.in_pattern() && !told.sounds() {
            return;
        }
        let index = self.pattern_for_stroke(place);
        self.change(index, at, &chord, place);
    }

    /// "Homework: the core and A": the letter of a variation that the note has.
    fn names_a_variation(&self, told: &Told) -> bool {
        let alone = self.context.typed && told.when.is_none() && told.span.is_none() && !told.sounds();
        let Some(ChordSaid::Named(chord)) = told.chord.as_ref().filter(|_| alone) else {
            return false;
        };
        let letter = chord.to_string();
        let lettered = |name: &str| {
            name.split(|sign: char| !sign.is_alphanumeric())
                .any(|word| word == letter)
        };
        let mut variations = self.patterns.iter().filter(|pattern| pattern.role != Role::Core);
        letter.len() == 1 && variations.any(|pattern| lettered(&pattern.name))
    }
}
