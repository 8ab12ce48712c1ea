//! Versions of the compás: the core with one variation, or several that do not meet, in place of some of its counts.
//!
//! A variation may run on past its counts; what runs past the end of the compás takes the place of the first counts of
//! the vuelta that follows. All times are pulses from the start of a vuelta.

use num_rational::Ratio;

use super::left_hand::{Change, LeftEvent};
use super::lesson::Lesson;
use super::pattern::{CountSpan, Pattern, Role};
use super::position::Position;
use super::round::{Pulses, Round};
use super::stroke::Stroke;

/// One time through the core: what a vuelta is in this lesson. It may be several compases long, or half of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cycle {
    /// Index into the lesson's patterns; None when the lesson has no core.
    pub core: Option<usize>,
    /// The count it begins on.
    pub first: i64,
    pub counts: i64,
    pub pulses: Pulses,
    /// The moments of the core's strokes, sorted.
    pub struck: Vec<Pulses>,
}

/// The core with some of its counts replaced. The core alone has no variations.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Version {
    /// Indices into the lesson's patterns, in the order of the counts that they replace.
    pub variations: Vec<usize>,
}

/// The stretch of a vuelta that a pattern takes the place of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Region {
    pub from: Pulses,
    /// What it replaces.
    pub length: Pulses,
    /// What it claims past that, where it is said to run on.
    pub past: Pulses,
}

/// Something that happens in a vuelta.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Happening<'a> {
    Change(&'a Change),
    /// The core's chord comes back after a variation that left it.
    Resume(&'a Change),
    Left(&'a LeftEvent),
    Stroke(&'a Stroke),
}

/// A happening at its moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timed<'a> {
    pub at: Pulses,
    /// Index into the lesson's patterns.
    pub pattern: usize,
    pub what: Happening<'a>,
}

impl Region {
    pub fn end(&self) -> Pulses {
        self.from + self.length + self.past
    }

    /// True when a moment of the same vuelta lies in it.
    pub fn holds(&self, at: Pulses) -> bool {
        self.from <= at && at < self.end()
    }
}

impl Cycle {
    /// What a vuelta is: the core's counts, or the compás where the core's are not known.
    pub fn of(lesson: &Lesson, round: &Round) -> Cycle {
        let core = lesson.patterns.iter().position(|pattern| pattern.role == Role::Core);
        let span = core
            .and_then(|core| lesson.patterns.get(core))
            .and_then(|core| core.span);
        let whole = CountSpan {
            first: round.first,
            last: round.first + round.counts - 1,
        };
        let span = span.unwrap_or(whole);
        let mut cycle = Cycle {
            core,
            first: span.first,
            counts: round.counts_in(span),
            pulses: round.pulses_in(span),
            struck: Vec::new(),
        };
        let strokes = core
            .and_then(|core| lesson.patterns.get(core))
            .map_or([].as_slice(), |core| core.strokes.as_slice());
        cycle.struck = strokes
            .iter()
            .map(|stroke| cycle.offset(round, span.first, stroke.at))
            .collect();
        cycle.struck.sort_unstable();
        cycle
    }

    /// Pulses from the start of a vuelta to a moment of a pattern that begins on count `from` of it.
    fn offset(&self, round: &Round, from: i64, at: Position) -> Pulses {
        self.start(round, from) + round.after(from, at)
    }

    /// Pulses from the start of a vuelta to one of its counts.
    fn start(&self, round: &Round, count: i64) -> Pulses {
        let start = round.after(self.first, Position::count(count));
        if self.pulses > Ratio::from_integer(0) {
            start - (start / self.pulses).floor() * self.pulses
        } else {
            start
        }
    }

    /// The stretch that a pattern replaces; None for a pattern whose counts are not known.
    pub fn region(&self, round: &Round, pattern: &Pattern) -> Option<Region> {
        let span = pattern.span?;
        let length = round.pulses_in(span);
        let from = self.start(round, span.first);
        let reach = pattern.runs_on.map(|last| {
            let stretch = claimed(round, span.first, pattern, last);
            let core = |at: Pulses| from + at;
            resumes(&self.struck, self.pulses, core(stretch.0), core(stretch.1)) - from
        });
        let past = reach
            .map_or(Ratio::from_integer(0), |reach| reach - length)
            .max(Ratio::from_integer(0));
        Some(Region { from, length, past })
    }

    /// True when a pattern can stand in for some counts of a vuelta.
    pub fn fits(&self, round: &Round, pattern: &Pattern) -> bool {
        let region = self.region(round, pattern);
        pattern.role != Role::Core
            && region.is_some_and(|region| region.length <= self.pulses && region.past < self.pulses)
    }
}

/// The last moment that a pattern claims where it runs on to `last`, and the end of its count: pulses from `first` on.
pub fn claimed(round: &Round, first: i64, pattern: &Pattern, last: Position) -> (Pulses, Pulses) {
    let count = last.whole();
    let start = round.after(first, Position::count(count));
    let inside = pattern.strokes.iter().filter(|stroke| stroke.at.whole() == count);
    let until = inside.flat_map(|stroke| {
        let ends = stroke.length.map(|length| stroke.at.plus(length));
        [Some(stroke.at), stroke.arrival, ends]
    });
    let moment = until.flatten().chain([last]).max().unwrap_or(last);
    let end = start + Ratio::from_integer(round.length_of(count));
    (round.after(first, moment).min(end), end)
}

/// Where the core goes on after a claim: at its next stroke in the same count, "the up of 1 as ever", or at the count's
/// end. All in pulses of a vuelta; a claim may lie past its end.
pub fn resumes(struck: &[Pulses], vuelta: Pulses, moment: Pulses, end: Pulses) -> Pulses {
    let zero = Ratio::from_integer(0);
    let rounds = if vuelta > zero {
        (moment / vuelta).floor() * vuelta
    } else {
        zero
    };
    let next = struck
        .iter()
        .map(|at| *at + rounds)
        .filter(|at| moment < *at && *at < end);
    next.min().unwrap_or(end)
}

/// The core alone (where there is one), then the core with each variation in place, in the order of the lesson.
pub fn versions(lesson: &Lesson, round: &Round) -> Vec<Version> {
    let cycle = Cycle::of(lesson, round);
    let plain = cycle.core.map(|_| Version { variations: Vec::new() });
    let fitting = lesson
        .patterns
        .iter()
        .enumerate()
        .filter(|(_, pattern)| cycle.fits(round, pattern));
    let with = fitting.map(|(index, _)| Version {
        variations: vec![index],
    });
    plain.into_iter().chain(with).collect()
}

/// Versions with two or more variations whose counts do not meet, fewest first; at most so many.
pub fn mixed_versions(lesson: &Lesson, round: &Round, at_most: usize) -> Vec<Version> {
    let cycle = Cycle::of(lesson, round);
    let single: Vec<(usize, Region)> = lesson
        .patterns
        .iter()
        .enumerate()
        .filter(|(_, pattern)| cycle.fits(round, pattern))
        .filter_map(|(index, pattern)| Some((index, cycle.region(round, pattern)?)))
        .collect();
    let mut found: Vec<Vec<(usize, Region)>> = Vec::new();
    let mut growing: Vec<Vec<(usize, Region)>> = single.iter().map(|one| vec![*one]).collect();
    while !growing.is_empty() && found.len() < at_most {
        let mut grown = Vec::new();
        for mix in &growing {
            let last = mix.last().map_or(0, |(index, _)| *index);
            for (index, region) in single.iter().filter(|(index, _)| *index > last) {
                if mix.iter().all(|(_, other)| !meet(&cycle, other, region)) {
                    let mut bigger = mix.clone();
                    bigger.push((*index, *region));
                    grown.push(bigger);
                }
            }
        }
        found.extend(grown.iter().cloned());
        growing = grown;
        growing.truncate(at_most);
    }
    found.truncate(at_most);
    let version = |mut mix: Vec<(usize, Region)>| {
        mix.sort_by_key(|(index, region)| (region.from, *index));
        Version {
            variations: mix.into_iter().map(|(index, _)| index).collect(),
        }
    };
    found.into_iter().map(version).collect()
}

/// True when two variations claim a moment in common, also where one of them runs round the end of the vuelta.
fn meet(cycle: &Cycle, one: &Region, other: &Region) -> bool {
    let overlap = |shift: Pulses| one.from + shift < other.end() && other.from < one.end() + shift;
    let zero = Ratio::from_integer(0);
    [zero, cycle.pulses, -cycle.pulses].into_iter().any(overlap)
}

impl Version {
    /// Words for it: the core's name, or the variations' names.
    pub fn name(&self, lesson: &Lesson) -> String {
        let name = |index: &usize| lesson.patterns.get(*index).map(|pattern| pattern.name.clone());
        let names: Vec<String> = self.variations.iter().filter_map(name).collect();
        if names.is_empty() {
            let core = lesson.patterns.iter().find(|pattern| pattern.role == Role::Core);
            return core.map(|core| core.name.clone()).unwrap_or_default();
        }
        names.join(" + ")
    }

    /// The stretches of a vuelta that its variations take.
    pub fn regions(&self, lesson: &Lesson, round: &Round, cycle: &Cycle) -> Vec<(usize, Region)> {
        let region = |index: &usize| {
            let pattern = lesson.patterns.get(*index)?;
            Some((*index, cycle.region(round, pattern)?))
        };
        self.variations.iter().filter_map(region).collect()
    }

    /// How far it runs on into the vuelta that follows; 0 when it does not.
    pub fn spill(&self, lesson: &Lesson, round: &Round, cycle: &Cycle) -> Pulses {
        let regions = self.regions(lesson, round, cycle);
        let past = regions.iter().map(|(_, region)| region.end() - cycle.pulses);
        past.max().unwrap_or(Ratio::from_integer(0)).max(Ratio::from_integer(0))
    }
}

/// Everything that happens in a vuelta, in order. What a variation runs on into is at moments past the cycle's end.
/// `after` is the version played before it, which may have taken its first counts.
pub fn happenings<'a>(lesson: &'a Lesson, round: &Round, version: &Version, after: Option<&Version>) -> Vec<Timed<'a>> {
    let cycle = Cycle::of(lesson, round);
    let spill = after.map_or(Ratio::from_integer(0), |before| before.spill(lesson, round, &cycle));
    let regions = version.regions(lesson, round, &cycle);
    let taken = |at: Pulses| at < spill || regions.iter().any(|(_, region)| region.holds(at));
    let mut all: Vec<Timed<'a>> = Vec::new();
    if let Some((index, core)) = cycle.core.and_then(|index| Some((index, lesson.patterns.get(index)?))) {
        let own = of_pattern(&cycle, round, index, core);
        all.extend(own.iter().filter(|timed| !taken(timed.at)).copied());
        let mut ends: Vec<Pulses> = regions.iter().map(|(_, region)| region.end()).collect();
        ends.push(spill);
        all.extend(
            ends.into_iter()
                .filter(|end| !taken(*end))
                .filter_map(|end| resumed(&own, end, &cycle)),
        );
    }
    for (index, _) in &regions {
        if let Some(pattern) = lesson.patterns.get(*index) {
            all.extend(
                of_pattern(&cycle, round, *index, pattern)
                    .into_iter()
                    .filter(|timed| timed.at >= spill),
            );
        }
    }
    all.sort_by_key(|timed| (timed.at, order(&timed.what)));
    all
}

/// Everything in one pattern by itself, at its moments in a vuelta.
pub fn of_pattern<'a>(cycle: &Cycle, round: &Round, index: usize, pattern: &'a Pattern) -> Vec<Timed<'a>> {
    let from = pattern.span.map_or(cycle.first, |span| span.first);
    let timed = |at: Position, what: Happening<'a>| Timed {
        at: cycle.offset(round, from, at),
        pattern: index,
        what,
    };
    let changes = pattern
        .changes
        .iter()
        .map(|change| timed(change.at, Happening::Change(change)));
    let left = pattern.left.iter().map(|event| timed(event.at, Happening::Left(event)));
    let strokes = pattern
        .strokes
        .iter()
        .map(|stroke| timed(stroke.at, Happening::Stroke(stroke)));
    let mut all: Vec<Timed<'a>> = changes.chain(left).chain(strokes).collect();
    all.sort_by_key(|timed| (timed.at, order(&timed.what)));
    all
}

/// What happens first at one moment: fingers leave, chords come, fingers are put, strings are struck, fingers stay.
fn order(what: &Happening) -> u8 {
    use super::left_hand::LeftAction;
    match what {
        Happening::Left(event) if event.action == LeftAction::Lift => 0,
        Happening::Resume(_) => 1,
        Happening::Change(_) => 2,
        Happening::Left(event) if event.action != LeftAction::Keep => 3,
        Happening::Stroke(_) => 4,
        Happening::Left(_) => 5,
    }
}

/// The core's chord as it stands at a moment, where the core itself does not change there.
fn resumed<'a>(core: &[Timed<'a>], end: Pulses, cycle: &Cycle) -> Option<Timed<'a>> {
    let zero = Ratio::from_integer(0);
    if end <= zero || end >= cycle.pulses {
        return None;
    }
    let changes = core.iter().filter_map(|timed| match timed.what {
        Happening::Change(change) => Some((timed.at, timed.pattern, change)),
        _ => None,
    });
    let (at, pattern, change) = changes.filter(|(at, _, _)| *at <= end).max_by_key(|(at, _, _)| *at)?;
    (at < end).then_some(Timed {
        at: end,
        pattern,
        what: Happening::Resume(change),
    })
}

#[cfg(test)]
mod tests;
