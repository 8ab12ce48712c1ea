//! Ways of saying something about the lesson, one file a family. Each form looks at one sentence's tokens.

/// Accents and the weight of the counts.
mod accents;

/// Warnings.
mod caution;

/// Shapes of chords, on one line or told string by string.
mod chord_shape;

/// Chords told aloud, string by string.
mod shape_talk;

/// Which counts are under which chord.
mod chord_span;

/// Where the left hand goes, told for several counts in one sentence.
mod chords_told;

/// Numbers said beside their lists, and strings said to sound twice.
mod counted;

/// The writer's own abbreviations.
mod definition;

/// Key, capo and tempo.
mod key_and_tempo;

/// How many counts, and how long each is.
mod meter;

/// Which palo.
mod palo;

/// What is said of a whole passage.
mod passage;

/// Where a pattern begins and what it takes the place of.
mod pattern_begins;

/// What a pattern takes the place of, and whether it runs on.
mod replaces;

/// Mentions of other lessons.
mod reference;

/// How many times to go round.
mod repeats;

pub use counted::{numbered, open_and_fretted};
pub use palo::first_words as palo_names;
pub use shape_talk::{ShapeTalk, shape_talk};

use super::context::Context;
use super::lexicon::Concept;
use super::meanings::Meanings;
use super::statement::Located;
use super::tokens::Token;

/// What a form is given.
pub struct Asked<'a> {
    pub tokens: &'a [Token],
    /// What its words may stand for: a form asks this before it looks at the words.
    pub meanings: Meanings,
    pub context: &'a Context,
    /// The tokens of the sentence before, for what is said in two halves.
    pub previous: &'a [Token],
    /// A variation has been announced and nothing of it told.
    pub fresh_variation: bool,
    /// A pattern is being told.
    pub in_pattern: bool,
    pub opens_line: bool,
    /// The sentence stands in the first cue.
    pub opening: bool,
    pub text: &'a str,
}

impl Asked<'_> {
    /// Whether a word of the sentence may stand for it.
    pub fn says(&self, concept: Concept) -> bool {
        self.meanings.contains(&concept)
    }

    pub fn says_any(&self, concepts: &[Concept]) -> bool {
        self.meanings.contains_any(concepts)
    }

    pub fn has_number(&self) -> bool {
        self.tokens.iter().any(|token| token.number.is_some())
    }
}

/// A form: its name, what it reads, and the function.
pub struct Form {
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the tests and by people"))]
    pub name: &'static str,
    /// A sentence that it reads.
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the tests and by people"))]
    pub example: &'static str,
    pub read: fn(&Asked) -> Vec<Located>,
}

/// All forms, in the order in which their statements take effect.
pub const FORMS: [Form; 13] = [
    Form {
        name: "definition",
        example: "gp = golpe, always with a",
        read: definition::read,
    },
    Form {
        name: "palo",
        example: "today it's tangos",
        read: palo::read,
    },
    Form {
        name: "meter",
        example: "12 counts",
        read: meter::read,
    },
    Form {
        name: "accents",
        example: "accents on 3, 6, 8, 10 and 12",
        read: accents::read,
    },
    Form {
        name: "tempo",
        example: "tempo 126-144, click on each count",
        read: key_and_tempo::tempo,
    },
    Form {
        name: "key",
        example: "por medio",
        read: key_and_tempo::key,
    },
    Form {
        name: "capo",
        example: "capo on the second fret",
        read: key_and_tempo::capo,
    },
    Form {
        name: "chord-shape",
        example: "A = x02220",
        read: chord_shape::read,
    },
    Form {
        name: "pattern-begins",
        example: "V1 (10-12) thumb tail",
        read: pattern_begins::read,
    },
    Form {
        name: "chord-span",
        example: "Am 1-3, G 4-6",
        read: chord_span::read,
    },
    Form {
        name: "passage",
        example: "all p, all rest stroke",
        read: passage::read,
    },
    Form {
        name: "repeats",
        example: "loop it 4 times",
        read: repeats::read,
    },
    Form {
        name: "reference",
        example: "look at the lesson farruca-prologue",
        read: reference::read,
    },
];

pub use caution::{is_caution, is_musical, is_question};

#[cfg(test)]
mod tests;
