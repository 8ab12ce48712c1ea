//! What a sentence says, whatever the order of its words: a rule that needs what is not there is not asked.

use super::clauses::may_be_finger_letters;
use super::lexicon::Concept;
use super::meanings::Meanings;
use super::pitch_words::may_begin_name;
use super::tokens::Token;

/// What a word can be beside its meanings: its looks, and the tables that have an entry which begins with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Number,
    Ordinal,
    /// It may begin the name of a note or a chord.
    Name,
    Misheard,
    Palo,
    Technique,
    /// A word of the trade that the glossary explains.
    Term,
    /// A word that stands in lessons and hardly anywhere else.
    Trade,
    /// A word of another craft.
    Elsewhere,
    OtherPaper,
    /// Of another day or edition.
    Dated,
    SaidThen,
    /// It sends somebody to a moment of a recording.
    Sends,
    /// How long a count lasts.
    Length,
    /// Between two numbers.
    Between,
    /// In front of a number that is no exact one.
    Roughly,
    /// A fret as it is said in a row of six.
    SaidFret,
    /// From the first count to the last.
    Throughout,
    /// A short word in front of a variation's number.
    Heading,
    /// A short word for a string or a fret, in front of its number.
    Place,
    /// A word that a moment may begin with.
    Moment,
    /// A small word that a count being said, or a fret, may stand behind.
    Leads,
    /// What a teacher announces so many of.
    Point,
    /// It may say that things go into one vuelta.
    InOneRound,
    /// Somebody may ask.
    Asks,
    /// It may say that strokes sound at one moment.
    Together,
    /// It may be a right-hand finger's letter or a row of them.
    FingerLetter,
    /// It may say where something told before falls.
    Falls,
    /// It may say which way a strum goes.
    Way,
    /// It may stand between a strum and what explains it.
    Explains,
    /// It may say that a finger stays.
    Stays,
    /// Past the end of a round.
    Past,
    /// It may stand between a name and what it is.
    Equates,
}

/// Kinds that a word's looks tell, and no table.
const LOOKS: Kinds = Kinds::NONE
    .and(Kind::Number)
    .and(Kind::Ordinal)
    .and(Kind::Name)
    .and(Kind::FingerLetter);

/// A set of kinds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Kinds(u64);

impl Kinds {
    pub const NONE: Self = Self(0);

    pub const fn and(self, kind: Kind) -> Self {
        Self(self.0 | 1 << kind as u64)
    }

    /// With one of them, or without it.
    pub const fn with(self, kind: Kind, stands: bool) -> Self {
        let others = self.0 & !(1 << kind as u64);
        Self(others | (stands as u64) << kind as u64)
    }

    /// Those that tell of a table; the looks of a word are not a phrase's.
    pub const fn tables(self) -> Self {
        Self(self.0 & !LOOKS.0)
    }

    pub fn contains(self, kind: Kind) -> bool {
        self.0 & 1 << kind as u64 != 0
    }

    pub const fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

/// What stands in a sentence, or what a rule asks for. It is asked for every word by many rules, so it is small.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Says {
    /// A bit for each meaning.
    meanings: u128,
    /// A bit for each kind of word.
    looks: Kinds,
    /// A bit for each plain mark.
    marks: u64,
}

impl Says {
    pub const NOTHING: Self = Self {
        meanings: 0,
        looks: Kinds::NONE,
        marks: 0,
    };

    /// These meanings as well.
    pub const fn meaning(mut self, concepts: &[Concept]) -> Self {
        let mut rest = concepts;
        while let [concept, behind @ ..] = rest {
            self.meanings |= Meanings::bit_of(*concept);
            rest = behind;
        }
        self
    }

    /// Every meaning but these as well.
    pub const fn every_meaning_but(self, concepts: &[Concept]) -> Self {
        let others = Self::NOTHING.meaning(concepts);
        Self {
            meanings: self.meanings | !others.meanings,
            ..self
        }
    }

    /// These kinds of words as well.
    pub const fn kind(mut self, kinds: &[Kind]) -> Self {
        let mut rest = kinds;
        while let [kind, behind @ ..] = rest {
            self.looks = self.looks.and(*kind);
            rest = behind;
        }
        self
    }

    /// This mark as well.
    pub const fn mark(mut self, mark: char) -> Self {
        self.marks |= bit_of(mark);
        self
    }

    /// Any mark as well.
    pub const fn any_mark(mut self) -> Self {
        self.marks = u64::MAX;
        self
    }

    /// What one token says.
    pub fn of_token(token: &Token) -> Self {
        Self {
            meanings: token.concepts.bits(),
            looks: token.kinds(),
            marks: token.mark.map_or(0, bit_of),
        }
    }

    /// Everything that some tokens say.
    pub fn of(tokens: &[Token]) -> Self {
        let each = tokens.iter().map(Self::of_token);
        each.fold(Self::NOTHING, Self::or)
    }

    pub const fn or(self, other: Self) -> Self {
        Self {
            meanings: self.meanings | other.meanings,
            looks: self.looks.or(other.looks),
            marks: self.marks | other.marks,
        }
    }

    /// Whether anything of `asked` is said.
    pub fn any_of(self, asked: Self) -> bool {
        self.meanings & asked.meanings != 0 || self.looks.0 & asked.looks.0 != 0 || self.marks & asked.marks != 0
    }

    pub fn means(self, concept: Concept) -> bool {
        self.meanings & Meanings::bit_of(concept) != 0
    }

    pub fn means_any(self, concepts: &[Concept]) -> bool {
        self.any_of(Self::NOTHING.meaning(concepts))
    }

    pub fn has(self, kind: Kind) -> bool {
        self.looks.contains(kind)
    }
}

/// What a word looks like, as written and folded.
pub fn looks_of(raw: &str, word: &str) -> Kinds {
    let mut looks = Kinds::NONE;
    if may_begin_name(raw, word) {
        looks = looks.and(Kind::Name);
    }
    if may_be_finger_letters(raw, word) {
        looks = looks.and(Kind::FingerLetter);
    }
    looks
}

/// Plain marks have a bit each; all others share the last one.
const fn bit_of(mark: char) -> u64 {
    let order = match mark {
        '!'..='/' => mark as u32 - '!' as u32,
        ':'..='@' => mark as u32 - ':' as u32 + 15,
        '['..='`' => mark as u32 - '[' as u32 + 22,
        '{'..='~' => mark as u32 - '{' as u32 + 28,
        _ => 32,
    };
    1 << order
}

/// One thing of each line has to be said before a rule can find anything.
#[derive(Debug, Clone, Copy)]
pub enum Needs {
    /// In the sentence itself.
    Here(Says),
    /// In the sentence, or in the one before: a thought told in two halves.
    OrBefore(Says),
}

impl Needs {
    pub fn are_met(self, here: Says, before: Says) -> bool {
        match self {
            Self::Here(asked) => here.any_of(asked),
            Self::OrBefore(asked) => here.or(before).any_of(asked),
        }
    }
}

#[cfg(test)]
mod tests;
