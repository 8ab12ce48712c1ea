//! Ways of saying something about the lesson, one file a family. Each form looks at one sentence's tokens.

/// Accents and the weight of the counts.
mod accents;

/// Warnings.
mod caution;

/// Shapes of chords, on one line or told string by string.
mod chord_shape;

/// Chords told aloud, string by string.
mod shape_talk;

/// Strings of a chord told together.
mod linked_strings;

/// Strings of a chord that do not sound.
mod silent_strings;

/// Which counts are under which chord.
mod chord_span;

/// Where the left hand goes, told for several counts in one sentence.
mod chords_told;

/// Numbers said beside their lists, and strings said to sound twice.
mod counted;

/// The writer's own abbreviations.
mod definition;

/// The string that each finger plays.
mod finger_strings;

/// Key and capo.
mod key_and_capo;

/// How many counts a compás has.
mod meter;

/// How long each count is.
mod lengths;

/// Which palo.
mod palo;

/// What is said of a whole passage.
mod passage;

/// The finger of every strum, and of every golpe.
mod strum_fingers;

/// Where a pattern begins and what it takes the place of.
mod pattern_begins;

/// Words that open another idea.
mod another_idea;

/// A title of the teacher's own and the counts it is for.
mod own_heading;

/// What a pattern takes the place of, and whether it runs on.
mod replaces;

/// Mentions of other lessons.
mod reference;

/// How many times to go round.
mod repeats;

/// How many counts a minute.
mod tempo;

pub use counted::{chords_numbered, listed_behind, notes_numbered, numbered, open_and_fretted, rasgueado_numbered};
pub use shape_talk::{ShapeTalk, shape_talk};

use super::context::Context;
use super::lexicon::Concept;
use super::listed::all_of;
use super::pitch_words::{PitchWord, pitch_at};
use super::sayings::sayings;
use super::says::{Kind, Needs, Says};
use super::statement::{Located, Statement};
use super::tokens::{Token, Tokens};

/// What a form is given.
pub struct Asked<'a> {
    pub tokens: &'a [Token],
    /// What its words say taken together: a form asks this before it looks at the words.
    pub says: Says,
    /// The notes and chords it names, each with its token.
    pub names: Vec<(usize, PitchWord)>,
    pub context: &'a Context,
    /// The tokens of the sentence before, for what is said in two halves.
    pub previous: &'a Tokens,
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
        self.says.means(concept)
    }

    pub fn says_any(&self, concepts: &[Concept]) -> bool {
        self.says.means_any(concepts)
    }

    pub fn has_number(&self) -> bool {
        self.says.has(Kind::Number)
    }

    /// The note or chord named at a token.
    pub fn name_at(&self, index: usize) -> Option<&PitchWord> {
        let found = self.names.iter().find(|(at, _)| *at == index);
        found.map(|(_, word)| word)
    }

    /// What the forms find, in their order.
    pub fn statements(&self) -> Vec<Located> {
        let forms = FORMS.iter().filter(|form| form.is_asked(self));
        let mut found: Vec<Located> = forms.flat_map(|form| (form.read)(self)).collect();
        keys_that_are_chords(&mut found);
        found
    }
}

/// "D minor for 1 and 2": a chord over counts, and no key.
fn keys_that_are_chords(found: &mut Vec<Located>) {
    let chords = found
        .iter()
        .filter(|located| matches!(located.statement, Statement::ChordOver { .. }));
    let over: Vec<(usize, usize)> = chords.map(|located| (located.start, located.end)).collect();
    found.retain(|located| {
        let key = matches!(located.statement, Statement::Key(_));
        let within = |(start, end): &(usize, usize)| (*start..*end).contains(&located.start);
        !(key && over.iter().any(within))
    });
}

/// The notes and chords that a sentence names, each with its token.
pub fn names_in(tokens: &Tokens, context: &Context) -> Vec<(usize, PitchWord)> {
    if !tokens.says.has(Kind::Name) {
        return Vec::new();
    }
    let name = |at| Some((at, pitch_at(tokens, at, context.language, context.typed)?));
    (0..tokens.len()).filter_map(name).collect()
}

/// The words that forms look for in tables of their own.
pub fn words_of_forms() -> impl Iterator<Item = (&'static str, Kind)> {
    let tables = [
        (Kind::Length, &lengths::LENGTHS[..]),
        (Kind::Between, &tempo::BETWEEN),
        (Kind::SaidFret, &chord_shape::SAID_FRETS),
        (Kind::Throughout, &chords_told::THROUGHOUT),
        (Kind::Heading, &pattern_begins::HEADINGS),
        (Kind::Asks, &caution::ASKS),
    ];
    let words = tables
        .into_iter()
        .flat_map(|(kind, words)| all_of(kind, words.iter().copied()));
    let roughly = sayings().words.roughly.iter();
    palo::words().chain(words).chain(all_of(Kind::Roughly, roughly))
}

/// A form: its name, what it reads, and the function.
pub struct Form {
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the tests and by people"))]
    pub name: &'static str,
    /// A sentence that it reads.
    #[cfg_attr(not(test), expect(dead_code, reason = "read by the tests and by people"))]
    pub example: &'static str,
    /// What a sentence has to say for the form to find anything.
    pub needs: &'static [Needs],
    pub read: fn(&Asked) -> Vec<Located>,
}

impl Form {
    /// Whether the sentence says what the form needs.
    pub fn is_asked(&self, asked: &Asked) -> bool {
        self.needs
            .iter()
            .all(|needs| needs.are_met(asked.says, asked.previous.says))
    }
}

/// All forms, in the order in which their statements take effect.
pub const FORMS: [Form; 15] = [
    Form {
        name: "definition",
        example: "gp = golpe, always with a",
        needs: &definition::NEEDS,
        read: definition::read,
    },
    Form {
        name: "palo",
        example: "today it's tangos",
        needs: &palo::NEEDS,
        read: palo::read,
    },
    Form {
        name: "meter",
        example: "12 counts",
        needs: &meter::NEEDS,
        read: meter::read,
    },
    Form {
        name: "accents",
        example: "accents on 3, 6, 8, 10 and 12",
        needs: &accents::NEEDS,
        read: accents::read,
    },
    Form {
        name: "tempo",
        example: "tempo 126-144, click on each count",
        needs: &tempo::NEEDS,
        read: tempo::tempo,
    },
    Form {
        name: "key",
        example: "por medio",
        needs: &key_and_capo::KEY_NEEDS,
        read: key_and_capo::key,
    },
    Form {
        name: "capo",
        example: "capo on the second fret",
        needs: &key_and_capo::CAPO_NEEDS,
        read: key_and_capo::capo,
    },
    Form {
        name: "chord-shape",
        example: "A = x02220",
        needs: &chord_shape::NEEDS,
        read: chord_shape::read,
    },
    Form {
        name: "own-heading",
        example: "ABANICO (tiempos 3 y 4)",
        needs: &own_heading::NEEDS,
        read: own_heading::read,
    },
    Form {
        name: "pattern-begins",
        example: "V1 (10-12) thumb tail",
        needs: &pattern_begins::NEEDS,
        read: pattern_begins::read,
    },
    Form {
        name: "chord-span",
        example: "Am 1-3, G 4-6",
        needs: &chord_span::NEEDS,
        read: chord_span::read,
    },
    Form {
        name: "passage",
        example: "all p, all rest stroke",
        needs: &passage::NEEDS,
        read: passage::read,
    },
    Form {
        name: "finger-strings",
        example: "each finger has its own string: i s3, m s2, a s1",
        needs: &finger_strings::NEEDS,
        read: finger_strings::read,
    },
    Form {
        name: "repeats",
        example: "loop it 4 times",
        needs: &repeats::NEEDS,
        read: repeats::read,
    },
    Form {
        name: "reference",
        example: "look at the lesson farruca-prologue",
        needs: &reference::NEEDS,
        read: reference::read,
    },
];

pub use caution::{is_caution, is_musical, is_question};
pub use pattern_begins::{ROLES, role_at};

#[cfg(test)]
pub mod tests;
