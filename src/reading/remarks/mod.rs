//! What a sentence says of the lesson as a whole that the rest of it can be held against: how the compás is grouped, how
//! many things there are, which variations go into one vuelta, what a stroke is.

/// So many strokes in each count.
mod each_count;

/// What a rest stroke is, as the text explains it.
mod explained;

/// Every count of a variation said to be filled.
mod filled;

/// The groups that a compás is built of.
mod groups;

/// So many things announced, and so many told.
mod lists;

/// Variations asked for in one vuelta.
mod mixes;

/// The key that a capo makes of the hand's.
mod sounding_key;

/// What hands do outside of any compás.
mod uncounted;

/// Variations spoken of by their numbers.
mod variation_named;

pub use explained::strum_explained;
pub use lists::{Points, announced_at};
pub use mixes::{Named, Together};
pub use sounding_key::is_heard;
pub use variation_named::{Mentions, is_spoken_of};

use super::discourse::Discourse;
use super::lexicon::Concept;
use super::moments::before;
use super::pitch_words::pitch_at;
use super::placed::is_barre;
use super::says::Kind;
use super::spans::span_at;
use super::tokens::Tokens;
use crate::music::chord::ChordName;
use crate::music::lesson::Said;
use crate::music::remark::{Remark, Things};
use crate::text::Place;

/// The words that remarks look for in tables of their own.
pub fn words_of_remarks() -> impl Iterator<Item = (&'static str, Kind)> {
    mixes::words().chain(lists::words()).chain(explained::words())
}

/// One sentence is heard for what it remarks. True where nothing else is in it: variations asked for together.
pub fn hear(discourse: &mut Discourse, tokens: &Tokens, place: Place) -> bool {
    if !discourse.in_pattern() {
        discourse.remark(groups::groups(tokens), place);
        if let Some(said) = lists::accents_announced(tokens) {
            discourse.accents_announced = Some((said, place));
        }
        discourse.remark(chords_listed(discourse, tokens), place);
        discourse.remark(sounding_key::sounding_key(tokens, &discourse.context), place);
    }
    let notes = lists::notes_listed(tokens, &discourse.context);
    let what = Things::Notes;
    discourse.remark(notes.map(|(said, given)| Remark::Listed { what, said, given }), place);
    hear_in_a_line(discourse, tokens, place);
    discourse.remark(explained::stroke_explained(tokens), place);
    discourse.remark(strum_explained(tokens).map(|(remark, _)| remark), place);
    let denied = barre_denied(discourse, tokens);
    discourse.remark(denied.map(|chord| Remark::NoBarre { chord }), place);
    discourse.variations.hear(tokens, place);
    let done = discourse.points.hear(tokens, place);
    if let Some((remark, place)) = done {
        discourse.remark(Some(remark), place);
    }
    let together = mixes::together(tokens, discourse.context.typed);
    let asked = together.is_some();
    discourse.together.extend(together.map(|together| (together, place)));
    asked
}

/// What a sentence says of the pattern that it may have begun.
pub fn hear_of_pattern(discourse: &mut Discourse, tokens: &Tokens, place: Place) {
    if !discourse.in_pattern() {
        for remark in uncounted::uncounted(tokens, &discourse.context) {
            discourse.remark(Some(remark), place);
        }
    }
    if let Some(building) = discourse.building().filter(|_| filled::fills(tokens)) {
        building.filled = Some(place);
    }
}

/// The same in a line that is wholly in the written form.
pub fn hear_in_a_line(discourse: &mut Discourse, tokens: &Tokens, place: Place) {
    if let (Some(per_count), Some(building)) = (each_count::each_count(tokens), discourse.building()) {
        building.each_count = Some((per_count, place));
    }
}

fn chords_listed(discourse: &Discourse, tokens: &Tokens) -> Option<Remark> {
    let (said, given) = lists::chords_listed(tokens, &discourse.context)?;
    let what = Things::Chords;
    Some(Remark::Listed { what, said, given })
}

/// "No bar, tips of the fingers only", behind a chord's shape: the chord that is meant.
fn barre_denied(discourse: &Discourse, tokens: &Tokens) -> Option<ChordName> {
    if !tokens.says.means(Concept::Barre) || !tokens.says.means(Concept::Negation) || discourse.in_pattern() {
        return None;
    }
    let denied = |at: usize| {
        let close =
            before(tokens, at).is(Concept::Negation) || before(tokens, at.saturating_sub(1)).is(Concept::Negation);
        close && !before(tokens, at).is(Concept::Barre)
    };
    let barre = |at: &usize| {
        tokens
            .get(*at)
            .is_some_and(|token| is_barre(token) && token.is(Concept::Barre))
    };
    (0..tokens.len()).filter(barre).find(|at| denied(*at))?;
    let (language, typed) = (discourse.context.language, discourse.context.typed);
    let named = (0..tokens.len()).find_map(|at| pitch_at(tokens, at, language, typed));
    let here = named.map(|word| word.chord());
    here.or_else(|| {
        let line = discourse.sentence_place.line;
        let last = discourse
            .lesson
            .chords
            .iter()
            .rev()
            .find(|chord| chord.shape.is_some())?;
        let near = last.shape_place.is_some_and(|place| line <= place.line + 1);
        near.then(|| last.name.clone())
    })
}

impl Discourse {
    /// Which counts a line names, in whatever way.
    pub fn note_numbers(&mut self, tokens: &Tokens, place: Place) {
        if self.context.typed && tokens.says.has(Kind::Number) {
            let of_a_place =
                |at: usize| tokens.get(at).is_some_and(|token| token.joined) && before(tokens, at).mark.is_none();
            let numbered = tokens.iter().enumerate().filter(|(_, token)| token.number.is_some());
            let named = numbered.clone().filter(|(at, _)| !of_a_place(*at));
            let numbers = named.filter_map(|(_, token)| token.number);
            self.named.extend(numbers.map(|number| (place.line, number)));
            let spans = numbered.filter_map(|(at, _)| span_at(tokens, at));
            self.named.extend(
                spans
                    .flat_map(|(first, last, _)| first..=last)
                    .map(|count| (place.line, count)),
            );
        }
    }

    fn remark(&mut self, remark: Option<Remark>, place: Place) {
        let Some(remark) = remark else { return };
        if !self.lesson.remarks.iter().any(|known| known.value == remark) {
            self.lesson.remarks.push(Said::new(remark, place));
        }
    }
}
