//! Reading a file of palos, ours or a teacher's: the shape as written, and on which line something is wrong.

use std::fmt;
use std::ops::Range;

use num_rational::Ratio;
use serde::de::{self, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use toml::Spanned;

use super::fault::{PaloError, PaloFault};
use super::{
    AccentSet, ClapSound, Compas, Family, Grouping, Layer, Palmas, Palo, PaloTable, Remark, SpokenRow, Start,
    TempoRange, UsualKey, Words,
};
use crate::music::position::Position;
use crate::music::source::Source;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PaloFile {
    palo: Vec<Spanned<WrittenPalo>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPalo {
    slug: Spanned<String>,
    name: Words,
    #[serde(default)]
    said: Vec<String>,
    family: Family,
    #[serde(default)]
    free: bool,
    #[serde(default = "yes")]
    guitar: bool,
    about: Words,
    source: Source,
    /// Take the ways of counting from this palo, instead of writing them again.
    counted_like: Option<Spanned<String>>,
    #[serde(default)]
    compas: Vec<Spanned<WrittenCompas>>,
    #[serde(default)]
    tempo: Vec<Spanned<TempoRange>>,
    #[serde(default)]
    keys: Vec<UsualKey>,
    #[serde(default)]
    remarks: Vec<Remark>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenCompas {
    counts: Spanned<i64>,
    /// Absent: every count is one pulse.
    lengths: Option<Spanned<Vec<i64>>>,
    starts: Vec<Spanned<Start>>,
    #[serde(default)]
    spoken: Vec<Spanned<SpokenRow>>,
    #[serde(default)]
    groupings: Vec<Spanned<Grouping>>,
    #[serde(default)]
    accents: Vec<Spanned<AccentSet>>,
    #[serde(default)]
    palmas: Vec<Spanned<WrittenPalmas>>,
    source: Source,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPalmas {
    layer: Layer,
    sound: ClapSound,
    level: u8,
    claps: Claps,
    #[serde(default, deserialize_with = "moments")]
    strong: Vec<Position>,
    source: Source,
}

/// A list of moments, or one of two words for the usual lists.
#[derive(Deserialize)]
#[serde(untagged)]
enum Claps {
    Word(ClapsWord),
    List(#[serde(deserialize_with = "moments")] Vec<Position>),
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum ClapsWord {
    /// On every count.
    Counts,
    /// Half-way through a count of one pulse, on each inner pulse of a longer one.
    Between,
}

fn yes() -> bool {
    true
}

/// Moments as numbers or as positions in quotes: `[1, "2+1/2", 4]`.
pub(super) fn moments<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<Position>, D::Error> {
    struct Moments;
    impl<'de> Visitor<'de> for Moments {
        type Value = Vec<Position>;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("a list of counts such as [3, 6] or positions such as [\"2+1/2\"]")
        }

        fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
            let mut moments = Vec::new();
            while let Some(Moment(moment)) = list.next_element()? {
                moments.push(moment);
            }
            Ok(moments)
        }
    }
    deserializer.deserialize_seq(Moments)
}

struct Moment(Position);

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Written {
            Count(i64),
            Text(String),
        }
        let written = Written::deserialize(deserializer).map_err(|_| de::Error::custom("not a count or a position"))?;
        let position = match &written {
            Written::Count(count) => Some(Position::count(*count)),
            Written::Text(text) => Position::parse(text),
        };
        position
            .map(Moment)
            .ok_or_else(|| de::Error::custom("not a position such as 2+1/2"))
    }
}

/// The palos of a file. `known` are those that `counted_like` may name besides the file's own.
pub(super) fn read(text: &str, known: &PaloTable) -> Result<Vec<Palo>, PaloError> {
    let reader = Reader { text };
    let file: PaloFile = toml::from_str(text).map_err(|error| PaloError {
        line: error.span().map_or(1, |span| reader.line(&span)),
        fault: PaloFault::Shape(error.message().to_owned()),
    })?;
    let mut palos: Vec<Palo> = Vec::new();
    for written in file.palo {
        let palo = reader.palo(written, &palos, known)?;
        palos.push(palo);
    }
    Ok(palos)
}

struct Reader<'a> {
    text: &'a str,
}

impl Reader<'_> {
    fn line(&self, span: &Range<usize>) -> u32 {
        let before = self.text.bytes().take(span.start);
        1 + u32::try_from(before.filter(|byte| *byte == b'\n').count()).unwrap_or(u32::MAX - 1)
    }

    fn fail<T>(&self, span: Range<usize>, fault: PaloFault) -> Result<T, PaloError> {
        Err(PaloError {
            line: self.line(&span),
            fault,
        })
    }

    fn palo(&self, written: Spanned<WrittenPalo>, before: &[Palo], known: &PaloTable) -> Result<Palo, PaloError> {
        let written = written.into_inner();
        let (at, slug) = (written.slug.span(), written.slug.into_inner());
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if slug.is_empty() || !slug.chars().all(fits) {
            return self.fail(at, PaloFault::Slug(slug));
        }
        if before.iter().any(|palo| palo.slug == slug) {
            return self.fail(at, PaloFault::Twice(slug));
        }
        let mut compas = Vec::new();
        for one in written.compas {
            compas.push(self.compas(one.into_inner())?);
        }
        if let Some(like) = written.counted_like {
            let name = like.get_ref();
            let model = before
                .iter()
                .find(|palo| palo.slug == *name)
                .or_else(|| known.find(name));
            match model.filter(|palo| !palo.compas.is_empty()) {
                Some(model) => compas.extend(model.compas.iter().cloned()),
                None => {
                    let like_name = name.clone();
                    return self.fail(like.span(), PaloFault::Like { slug, like: like_name });
                }
            }
        }
        if written.free && (!compas.is_empty() || !written.tempo.is_empty()) {
            return self.fail(at, PaloFault::FreeWithCompas(slug));
        }
        if !written.free && compas.is_empty() {
            return self.fail(at, PaloFault::NoCompas(slug));
        }
        let mut tempo = Vec::new();
        for range in written.tempo {
            tempo.push(self.tempo(range, &compas)?);
        }
        Ok(Palo {
            slug,
            name: written.name,
            said: written.said,
            family: written.family,
            free: written.free,
            guitar: written.guitar,
            about: written.about,
            compas,
            tempo,
            keys: written.keys,
            remarks: written.remarks,
            source: written.source,
            own: false,
        })
    }

    fn tempo(&self, range: Spanned<TempoRange>, compas: &[Compas]) -> Result<TempoRange, PaloError> {
        let span = range.span();
        let range = range.into_inner();
        if range.low == 0 || range.low > range.high {
            let (low, high) = (range.low, range.high);
            return self.fail(span, PaloFault::Tempo { low, high });
        }
        if !compas.iter().any(|compas| compas.counts == range.counts) {
            return self.fail(span, PaloFault::TempoCounts(range.counts));
        }
        Ok(range)
    }

    fn compas(&self, written: WrittenCompas) -> Result<Compas, PaloError> {
        let counts = *written.counts.get_ref();
        if !(1..=64).contains(&counts) {
            return self.fail(written.counts.span(), PaloFault::Counts(counts));
        }
        let lengths = self.lengths(written.lengths, counts)?;
        let mut starts = Vec::new();
        for start in written.starts {
            self.inside("start", &[Position::count(start.get_ref().count)], counts, start.span())?;
            starts.push(start.into_inner());
        }
        let mut groupings = Vec::new();
        for grouping in written.groupings {
            let sum = grouping
                .get_ref()
                .groups
                .iter()
                .fold(0, |sum: i64, group| sum.saturating_add(*group));
            if sum != counts {
                return self.fail(grouping.span(), PaloFault::Groups { sum, counts });
            }
            groupings.push(grouping.into_inner());
        }
        let mut spoken = Vec::new();
        for row in written.spoken {
            let given = row.get_ref().row.len();
            if i64::try_from(given) != Ok(counts) {
                return self.fail(row.span(), PaloFault::Spoken { given, counts });
            }
            spoken.push(row.into_inner());
        }
        let mut accents = Vec::new();
        for set in written.accents {
            self.inside("accent", &set.get_ref().at, counts, set.span())?;
            accents.push(set.into_inner());
        }
        let mut palmas = Vec::new();
        for part in written.palmas {
            palmas.push(self.palmas(part, counts, &lengths)?);
        }
        Ok(Compas {
            counts,
            lengths,
            starts,
            spoken,
            groupings,
            accents,
            palmas,
            source: written.source,
        })
    }

    fn lengths(&self, written: Option<Spanned<Vec<i64>>>, counts: i64) -> Result<Vec<i64>, PaloError> {
        let Some(written) = written else {
            return Ok((0..counts).map(|_| 1).collect());
        };
        let span = written.span();
        let lengths = written.into_inner();
        if i64::try_from(lengths.len()) != Ok(counts) {
            let given = lengths.len();
            return self.fail(span, PaloFault::Lengths { counts, lengths: given });
        }
        match lengths.iter().find(|length| !(1..=16).contains(*length)) {
            Some(length) => self.fail(span, PaloFault::Length(*length)),
            None => Ok(lengths),
        }
    }

    fn palmas(&self, part: Spanned<WrittenPalmas>, counts: i64, lengths: &[i64]) -> Result<Palmas, PaloError> {
        let span = part.span();
        let part = part.into_inner();
        if part.level > 100 {
            return self.fail(span, PaloFault::Level(part.level));
        }
        let mut claps = match part.claps {
            Claps::List(list) => list,
            Claps::Word(ClapsWord::Counts) => (1..=counts).map(Position::count).collect(),
            Claps::Word(ClapsWord::Between) => (1..).zip(lengths).flat_map(between).collect(),
        };
        claps.sort();
        let mut strong = part.strong;
        strong.sort();
        self.inside("clap", &claps, counts, span.clone())?;
        if let Some(lost) = strong.iter().find(|at| !claps.contains(at)) {
            return self.fail(span, PaloFault::StrongWithoutClap(lost.to_string()));
        }
        Ok(Palmas {
            layer: part.layer,
            sound: part.sound,
            level: part.level,
            claps,
            strong,
            source: part.source,
        })
    }

    fn inside(&self, what: &'static str, at: &[Position], counts: i64, span: Range<usize>) -> Result<(), PaloError> {
        match at.iter().find(|at| !(1..=counts).contains(&at.whole())) {
            Some(lost) => {
                let at = lost.to_string();
                self.fail(span, PaloFault::Outside { what, at, counts })
            }
            None => Ok(()),
        }
    }
}

/// The moments inside a count of so many pulses; the half of a count that is one pulse.
fn between((count, length): (i64, &i64)) -> Vec<Position> {
    let parts = if *length == 1 { 2 } else { *length };
    (1..parts)
        .map(|part| Position(Ratio::from_integer(count) + Ratio::new(part, parts)))
        .collect()
}
