use super::super::context::Context;
use super::super::lexicon::Concept;
use super::super::listed::all_of;
use super::super::moments::{MOMENT, MOMENT_WORDS};
use super::super::says::{Kind, Says};
use super::Reader;
use super::fingers::{NAMED_FINGER, RIGHT_FINGER};
use super::places_behind::words_of_falling;
use super::together::TOGETHER;

/// What a token has to be for a reader to find anything that begins with it.
#[derive(Clone, Copy)]
enum Begins {
    Anything,
    With(Says),
}

impl Begins {
    fn fits(self, says: Says) -> bool {
        match self {
            Self::Anything => true,
            Self::With(asked) => says.any_of(asked),
        }
    }
}

/// Reads what begins at a token; the index behind it.
type Read = fn(&mut Reader, usize) -> Option<usize>;

const NUMBERED: Says = Says::NOTHING.kind(&[Kind::Number, Kind::Ordinal]);

/// What a token may begin, in the order asked. What nobody finds anything in is read as a word.
const READERS: [(Begins, Read); 13] = [
    (Begins::With(NUMBERED.kind(&[Kind::Place])), |reader, at| {
        reader.string_and_fret(at)
    }),
    (Begins::With(NUMBERED.kind(&[Kind::Leads])), |reader, at| {
        reader.string_range(at)
    }),
    (Begins::With(NUMBERED), |reader, at| reader.string_in_place(at)),
    (Begins::With(Says::NOTHING.kind(&[Kind::Leads])), |reader, at| {
        reader.slurred_to(at)
    }),
    (Begins::With(NUMBERED), |reader, at| reader.division_told(at)),
    (Begins::With(MOMENT), |reader, at| reader.moment(at)),
    (Begins::Anything, |reader, at| reader.alias(at)),
    (Begins::With(STRING_OR_FRET), |reader, at| reader.string_or_fret(at)),
    (Begins::With(LEFT_FINGER), |reader, at| reader.left_finger(at)),
    (Begins::With(Says::NOTHING.any_mark()), |reader, at| reader.mark(at)),
    (Begins::With(Says::NOTHING.kind(&[Kind::Name])), |reader, at| {
        reader.pitch(at)
    }),
    (Begins::With(NUMBERED), |reader, at| reader.count(at)),
    (Begins::With(RIGHT_FINGER), |reader, at| reader.right_finger(at)),
];

/// All that a reader but the one of signs begins with: most words are nothing of it.
const BEGINNINGS: Says = {
    let mut all = Says::NOTHING;
    let mut rest: &[(Begins, Read)] = &READERS;
    while let [(begins, _), behind @ ..] = rest {
        if let Begins::With(says) = begins {
            all = all.or(*says);
        }
        rest = behind;
    }
    all
};

const STRING_OR_FRET: Says = NUMBERED.kind(&[Kind::Place]).meaning(&[
    Concept::SameString,
    Concept::Open,
    Concept::StringWord,
    Concept::FretWord,
]);

const LEFT_FINGER: Says =
    NAMED_FINGER
        .kind(&[Kind::Number, Kind::Ordinal])
        .meaning(&[Concept::LeftHand, Concept::FingerWord, Concept::With]);

/// Meanings that tell nothing without others, or without numbers or names.
const SILENT: [Concept; 12] = [
    Concept::Article,
    Concept::And,
    Concept::Is,
    Concept::On,
    Concept::With,
    Concept::So,
    Concept::Then,
    Concept::All,
    Concept::Unit,
    Concept::BeatWord,
    Concept::Aside,
    Concept::Plain,
];

/// One of these has to be said for a clause to tell anything.
const TELLING: Says = NUMBERED
    .kind(&[Kind::Name, Kind::FingerLetter, Kind::Moment])
    .mark('↓')
    .every_meaning_but(&SILENT);

/// False where no clause of a sentence can tell anything: most talk between the lines of music is so.
pub(super) fn may_tell(says: Says, context: &Context) -> bool {
    // "and you're there again": as usual.
    says.any_of(TELLING)
        || says.means(Concept::And) && says.means(Concept::Is)
        || !context.aliases.is_empty()
        || !context.gestures.is_empty()
}

/// Words that these readers look for where no meaning tells them.
const WORDS: [(Kind, &[&str]); 4] = [
    (Kind::Place, &["s", "c", "f", "t", "tr", "st", "str", "cda"]),
    (
        Kind::Leads,
        &[
            "as", "when", "cuando", "al", "while", "a", "el", "de", "del", "desde", "from", "across", "over", "through",
        ],
    ),
    (Kind::Moment, &MOMENT_WORDS),
    (Kind::Together, &TOGETHER),
];

pub fn words_of_clauses() -> impl Iterator<Item = (&'static str, Kind)> {
    WORDS
        .into_iter()
        .flat_map(|(kind, words)| all_of(kind, words.iter().copied()))
        .chain(all_of(Kind::Falls, words_of_falling()))
}

impl Reader<'_> {
    /// What begins at a token, by the first reader that finds something; the index behind it.
    pub(super) fn begin(&mut self, index: usize, says: Says) -> Option<usize> {
        #[cfg(test)]
        self.others_find_nothing(index, says);
        if !says.any_of(BEGINNINGS) {
            return self.alias(index);
        }
        let mut asked = READERS.iter().filter(|(begins, _)| begins.fits(says));
        asked.find_map(|(_, read)| read(self, index))
    }

    /// Holds what the readers begin with against what they find.
    #[cfg(test)]
    fn others_find_nothing(&self, index: usize, says: Says) {
        for (at, (_, read)) in READERS.iter().enumerate().filter(|(_, (begins, _))| !begins.fits(says)) {
            let mut other = self.clone();
            let found = read(&mut other, index);
            let untouched = other.told == self.told && other.out == self.out;
            assert!(found.is_none() && untouched, "reader {at} at {:?}", self.here(index));
        }
    }
}
