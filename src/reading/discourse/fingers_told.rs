use super::Discourse;
use crate::music::chord::{ChordName, Fingered};
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::position::Position;
use crate::reading::lexicon::Concept;
use crate::reading::moments::token;
use crate::reading::pitch_words::pitch_at;
use crate::reading::placed::{Placed, lists_fingers, placed_fingers};
use crate::reading::sayings::{any_among, sayings};
use crate::reading::says::Says;
use crate::reading::stays::left_finger;
use crate::reading::tokens::{Token, Tokens};
use crate::text::Place;

/// Words without which no finger of the left hand is told.
const OF_FINGERS: Says = Says::NOTHING.meaning(&[Concept::FingerWord, Concept::LeftHand, Concept::FingerX]);

/// What the right hand does: a finger told in such a sentence may be that of the note.
const PLAYED: [Concept; 12] = [
    Concept::Down,
    Concept::Up,
    Concept::Pluck,
    Concept::Play,
    Concept::Picado,
    Concept::PullOff,
    Concept::HammerOn,
    Concept::Slur,
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerM,
    Concept::FingerA,
];

impl Discourse {
    /// "the third finger is on the fourth string, third fret": a finger of the chord that is spoken of, where nothing has
    /// been played yet; in a pattern, fingers that are down together.
    pub fn fingers_told(&mut self, tokens: &Tokens, place: Place) {
        if !tokens.says.any_of(OF_FINGERS) && !lists_fingers(tokens) {
            return;
        }
        let fingers = placed_fingers(tokens);
        if self.in_pattern() {
            self.taken_with(tokens);
            self.fingers_down(tokens, &fingers, place);
        } else {
            self.fingers_of_chord(tokens, &fingers, place);
        }
    }

    /// "First finger on the second string, second fret, and the little finger on the first string, fifth fret": nothing
    /// sounds.
    pub fn only_puts_fingers(&self, tokens: &Tokens) -> bool {
        tokens.says.any_of(OF_FINGERS)
            && !plays(tokens)
            && self.in_pattern()
            && placed_fingers(tokens).iter().filter(|placed| placed.fret > 0).count() >= 2
    }

    fn fingers_of_chord(&mut self, tokens: &Tokens, fingers: &[Placed], place: Place) {
        let named = self.chord_in_front(tokens, fingers.first().map_or(tokens.len(), |first| first.start));
        if let Some(name) = named {
            self.fingered_chord = Some((name, self.sentence));
        }
        let near = |(_, sentence): &&(ChordName, usize)| self.sentence <= sentence + 1;
        let Some((name, _)) = self.fingered_chord.as_ref().filter(near).cloned() else {
            return;
        };
        let new: Vec<Fingered> = fingers.iter().filter_map(tip).collect();
        if new.is_empty() {
            return;
        }
        self.fingered_chord = Some((name.clone(), self.sentence));
        self.use_chord(&name, place);
        let Some(chord) = self.lesson.chords.iter_mut().find(|chord| chord.name == name) else {
            return;
        };
        // A shape's own line has told its fingers already.
        if chord.fingers.is_empty() || chord.fingers_place.is_some_and(|told| told.line == place.line) {
            chord.fingers.extend(new);
            chord.fingers_place = chord.fingers_place.or(Some(place));
            self.taken += 1;
            self.note(format!("fingers of {name}"), place);
        }
    }

    /// The chord named last in front of the fingers.
    fn chord_in_front(&self, tokens: &Tokens, end: usize) -> Option<ChordName> {
        let (language, typed) = (self.context.language, self.context.typed);
        let mut named = (0..end).rev().filter_map(|at| pitch_at(tokens, at, language, typed));
        named.next().map(|word| word.chord())
    }

    /// "an E, and you take it with the little finger": the finger that stops the note told last.
    fn taken_with(&mut self, tokens: &Tokens) {
        let words = &sayings().words;
        let finger = (1..tokens.len()).find_map(|at| {
            if !matches!(token(tokens, at).word.as_str(), "with" | "con") {
                return None;
            }
            // "third fret, with your fourth finger": the fret is a place, and who fingers it has been told with it.
            let placed = |at: usize| at > 0 && token(tokens, at - 1).ordinal.is_some();
            let stops = |at: usize| any_among(&words.stopping, &token(tokens, at).word) && !placed(at);
            let taken = (at.saturating_sub(3)..at).any(stops);
            let named = (at + 1..at + 4).find_map(|at| left_finger(tokens, at));
            named.filter(|_| taken)
        });
        let (sentence, last) = (self.sentence, self.last);
        let Some(building) = self.building() else { return };
        let here = building.strokes.iter_mut().filter(|placed| placed.sentence == sentence);
        let note =
            here.filter(|placed| Some(placed.stroke.at) == last && placed.stroke.fret.is_some_and(|fret| fret > 0));
        for placed in note {
            placed.stroke.left = placed.stroke.left.or(finger);
        }
    }

    /// Two fingers or more that a sentence has down at once, or that it puts down and nothing else.
    fn fingers_down(&mut self, tokens: &Tokens, fingers: &[Placed], place: Place) {
        let held = |word: &str| any_among(&sayings().words.held_together, word);
        let at_once = || tokens.says.means(Concept::Keep) || tokens.iter().any(|token| held(&token.word));
        let stopped: Vec<Fingered> = fingers.iter().filter_map(tip).collect();
        if stopped.len() < 2 || !at_once() && plays(tokens) {
            return;
        }
        let announced = self.announced().and_then(|building| building.span);
        let opens = announced.map(|span| Position::count(span.first));
        let Some(at) = opens.or_else(|| self.last_moment()) else {
            return;
        };
        for tip in stopped {
            self.left_event(LeftEvent {
                at,
                action: LeftAction::Put,
                finger: Some(tip.finger),
                string: Some(tip.string),
                fret: Some(tip.fret),
                place,
                implied: None,
            });
        }
        self.taken += 1;
    }
}

/// The right hand does something, by its words or by a finger's letter.
fn plays(tokens: &Tokens) -> bool {
    let letter = |token: &Token| matches!(token.raw.as_str(), "p" | "i" | "m" | "x");
    tokens.says.means_any(&PLAYED) || tokens.iter().any(letter)
}

/// A fingertip on one string.
fn tip(placed: &Placed) -> Option<Fingered> {
    let string = placed.string.filter(|_| placed.fret > 0)?;
    Some(Fingered {
        finger: placed.finger,
        string,
        fret: placed.fret,
        to_string: string,
    })
}
