//! The palos, filled from `src/data/palos.toml`: how each is counted, accented, clapped, how fast, in which keys.
//!
//! Every figure carries what it rests on. Where sources differ, all of what they say is kept, side by side.
//! A teacher's own file has the same shape and is laid over ours: see [`PaloTable::with`].

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::key::Mode;
use super::pitch::NoteName;
use super::position::Position;
use super::source::Source;

/// What may be wrong with a file of palos.
mod fault;

/// Reading a file of palos, ours or a teacher's.
mod file;

pub use fault::{PaloError, PaloFault};

/// The same words in both languages of the course.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    pub en: String,
    pub es: String,
}

impl Words {
    /// The words in a language, `en` or `es`; English for any other.
    pub fn of(&self, language: &str) -> &str {
        if language == "es" { &self.es } else { &self.en }
    }
}

/// Which way of counting a palo belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Twelve counts leaning on 3 6 8 10 12, or a half of them.
    Solea,
    /// Twelve pulses in five uneven counts.
    Siguiriya,
    /// Twelve pulses, 6/8 then 3/4.
    Guajira,
    /// Two, four or eight even counts.
    Tangos,
    /// Threes and sixes.
    Fandangos,
    /// No compás.
    Free,
}

/// One palo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Palo {
    /// ASCII, lower case, hyphens.
    pub slug: String,
    pub name: Words,
    /// Other spellings and ways of saying it, accents folded, lower case: "soleares".
    pub said: Vec<String>,
    pub family: Family,
    /// A free palo has phrases in order, and no count, palmas, compás checks or count joins.
    pub free: bool,
    /// False for what is sung without guitar.
    pub guitar: bool,
    /// One sentence for the palo's page.
    pub about: Words,
    /// Ways to count it; the usual one first. Empty for a free palo.
    pub compas: Vec<Compas>,
    /// Every attested tempo range; the usual one first. Empty where none makes sense.
    pub tempo: Vec<TempoRange>,
    /// The usual one first.
    pub keys: Vec<UsualKey>,
    /// Where sources disagree, and other remarks.
    pub remarks: Vec<Remark>,
    pub source: Source,
    /// It stands in the teacher's own file.
    pub own: bool,
}

/// One way to count a palo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Compas {
    /// Counts in one compás, as counted aloud.
    pub counts: i64,
    /// Pulses in each count, in order of the counts 1, 2, 3, …; all 1 where counts are even and nothing divides them.
    pub lengths: Vec<i64>,
    /// Counts that a round may begin on; the usual one first.
    pub starts: Vec<Start>,
    /// What is said aloud, where it is not the plain counts: the soleá's 1 to 10, 1, 2.
    pub spoken: Vec<SpokenRow>,
    pub groupings: Vec<Grouping>,
    /// Every attested set of accents; the usual one first.
    pub accents: Vec<AccentSet>,
    pub palmas: Vec<Palmas>,
    pub source: Source,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Start {
    pub count: i64,
    pub source: Source,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpokenRow {
    pub row: Vec<i64>,
    pub source: Source,
}

/// How the counts fall into groups, from the usual first count on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grouping {
    /// Counts in each group; they add up to the compás.
    pub groups: Vec<i64>,
    pub source: Source,
}

/// Moments that are leant on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AccentSet {
    /// In the order said: `[12, 3, 6, 8, 10]`.
    #[serde(deserialize_with = "file::moments")]
    pub at: Vec<Position>,
    /// Who leans so, where that matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<Words>,
    pub source: Source,
}

impl AccentSet {
    /// The moments in the order of the counts.
    pub fn sorted(&self) -> Vec<Position> {
        let mut at = self.at.clone();
        at.sort();
        at
    }
}

/// Which of the two clapping parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Layer {
    /// On the counts.
    Base,
    /// Between them.
    Contra,
}

/// How the hands meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClapSound {
    /// Bright: fingers on the stretched palm.
    Claras,
    /// Muffled: palm on palm.
    Sordas,
}

/// One clapping part over one compás.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Palmas {
    pub layer: Layer,
    pub sound: ClapSound,
    /// How loud the part is against the loudest, 0 to 100: ours, for a player to start from.
    pub level: u8,
    /// Sorted.
    pub claps: Vec<Position>,
    /// Those of `claps` that are leant on; sorted.
    pub strong: Vec<Position>,
    pub source: Source,
}

/// What a tempo figure counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TempoUnit {
    /// Counts as counted aloud.
    Count,
    /// Pulses, where counts are uneven.
    Pulse,
}

/// A tempo range that somebody attests.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TempoRange {
    /// A minute.
    pub low: u32,
    /// A minute.
    pub high: u32,
    pub per: TempoUnit,
    /// The way of counting it belongs to: counts in its compás.
    pub counts: i64,
    /// At home or on stage, and the like.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<Words>,
    pub source: Source,
}

/// A key that the palo is played in. The tonic is as fingered: a capo moves what sounds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UsualKey {
    /// What players call it: `por arriba`; absent where it has no name of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub toque: Option<String>,
    pub tonic: NoteName,
    pub mode: Mode,
    /// Open strings from string 1 to string 6 as MIDI numbers, where not standard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tuning: Option<[u8; 6]>,
    pub source: Source,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Remark {
    pub en: String,
    pub es: String,
    pub source: Source,
}

impl Compas {
    /// The count that a round usually begins on.
    pub fn first(&self) -> i64 {
        self.starts.first().map_or(1, |start| start.count)
    }

    /// Pulses in one compás.
    pub fn pulses(&self) -> i64 {
        self.lengths.iter().sum()
    }

    /// True when all counts are equally long.
    pub fn is_even(&self) -> bool {
        self.lengths.windows(2).all(|pair| pair.first() == pair.last())
    }

    /// True when some attested set holds every one of these accents: leaning on fewer of them is no contradiction.
    pub fn holds_accents(&self, accents: &[Position]) -> bool {
        self.accents
            .iter()
            .any(|set| accents.iter().all(|accent| set.at.contains(accent)))
    }
}

impl Palo {
    /// The usual way to count it; None for a free palo.
    pub fn usual(&self) -> Option<&Compas> {
        self.compas.first()
    }

    /// The ways to count it in so many counts.
    pub fn counted_in(&self, counts: i64) -> impl Iterator<Item = &Compas> {
        self.compas.iter().filter(move |compas| compas.counts == counts)
    }

    /// The tempo ranges for a way of counting, the usual one first.
    pub fn tempo_counted_in(&self, counts: i64) -> impl Iterator<Item = &TempoRange> {
        self.tempo.iter().filter(move |range| range.counts == counts)
    }
}

/// The palos in force: ours, and a teacher's own over them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaloTable {
    palos: Vec<Palo>,
}

static OURS: LazyLock<PaloTable> = LazyLock::new(|| {
    let nothing = PaloTable { palos: Vec::new() };
    let palos = file::read(include_str!("../../data/palos.toml"), &nothing).expect("palos.toml is checked by a test");
    PaloTable { palos }
});

/// Our own palos, in the order of the file.
pub fn table() -> &'static [Palo] {
    &OURS.palos
}

/// One of our own palos.
pub fn find(slug: &str) -> Option<&'static Palo> {
    OURS.find(slug)
}

impl PaloTable {
    pub fn ours() -> &'static PaloTable {
        &OURS
    }

    /// Ours with a teacher's own file over it: a palo of the same slug takes the place of ours, others are added.
    /// `text` is the file as written; nothing of it is used when anything in it is wrong.
    pub fn with(&self, text: &str) -> Result<PaloTable, PaloError> {
        let mut palos = self.palos.clone();
        for own in file::read(text, self)? {
            let own = Palo { own: true, ..own };
            match palos.iter_mut().find(|palo| palo.slug == own.slug) {
                Some(place) => *place = own,
                None => palos.push(own),
            }
        }
        Ok(PaloTable { palos })
    }

    pub fn find(&self, slug: &str) -> Option<&Palo> {
        self.palos.iter().find(|palo| palo.slug == slug)
    }

    pub fn iter(&self) -> impl Iterator<Item = &Palo> {
        self.palos.iter()
    }
}

#[cfg(test)]
mod tests;
