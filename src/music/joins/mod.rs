//! Joins: one version of the compás followed by another, and the core into a variation and back inside the compás.
//!
//! A join says whether it can be played (who plays the counts that both claim, what is still held), what the left hand
//! has to lift and to press, in how many milliseconds at the top of the lesson's tempo, and which of the teacher's
//! cautions are about it. It is a value: checks make findings of it, practice ranks by it.

use num_rational::Ratio;

use super::fretboard::Guitar;
use super::hand::Finger;
use super::held::{Clash, ClashKind, Hold, Need, chord_named, follow, holds_of, needs_of, place_of};
use super::lesson::{Caution, Lesson};
use super::palo::PaloTable;
use super::pattern::Pattern;
use super::round::{Pace, Pulses, Round, millis};
use super::stroke::{Action, Stroke};
use super::version::{Cycle, Happening, Region, Timed, Version, happenings, versions};

/// Shorter than a hand's quickest tap and tap again: 5 to 7 a second is where one hand's tapping ends (FUJ), so a
/// finger that has to leave a string and be down elsewhere wants 150 ms or more.
pub const BRISK_MS: i64 = 150;

/// Shorter than the quickest tapping ever measured, ten a second (FUJ): no finger leaves and lands in that.
pub const HUMANLY_POSSIBLE_MS: i64 = 100;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JoinKind {
    /// One vuelta after another.
    Vueltas,
    /// From the core into a variation, inside the compás.
    Entry,
    /// From a variation back into the core, inside the compás.
    Exit,
}

/// One version, or the core, passing into another.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    pub kind: JoinKind,
    pub from: Version,
    pub to: Version,
    /// The count on which the second one takes over.
    pub count: i64,
    pub obstacles: Vec<Obstacle>,
    pub left: LeftWork,
    /// The right-hand finger that plays the last single note of the one and the first of the other, and the time between.
    pub same_finger: Option<(Finger, Ratio<i64>)>,
    /// Indices into the lesson's cautions: those that are about this join.
    pub cautions: Vec<usize>,
}

/// Why a join cannot be played as it is told.
#[derive(Debug, Clone, PartialEq)]
pub enum Obstacle {
    /// The one runs on into counts that the other replaces: which of the two plays them?
    CountsTakenTwice { first: i64, last: i64 },
    /// What was said to stay down stands in the way.
    Held(Box<Clash>),
}

/// What the left hand does at a join. Only what is known: an unknown shape needs nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeftWork {
    pub stays: Vec<Hold>,
    pub lifts: Vec<Hold>,
    pub presses: Vec<Hold>,
    /// Of the lifts: those that would spoil the first sound if they came late.
    pub in_the_way: Vec<Hold>,
    /// From the last stroke that sounds the old grip to the first that sounds the new one, at the top of the tempo;
    /// None where the tempo or one of the two is not known.
    pub millis: Option<Ratio<i64>>,
}

impl Join {
    /// False when it cannot be played as told: a count belongs to both, or one finger would be in two places.
    pub fn is_allowed(&self) -> bool {
        let hinders = |obstacle: &Obstacle| match obstacle {
            Obstacle::CountsTakenTwice { .. } => true,
            Obstacle::Held(clash) => clash.kind == ClashKind::FingerElsewhere,
        };
        !self.obstacles.iter().any(hinders)
    }

    /// What it costs the left hand, for ranking: fingers to move, weighed by how little time there is. 0 is nothing.
    pub fn cost(&self) -> u32 {
        let fingers = 2 * self.left.presses.len() + self.left.lifts.len() + 4 * self.obstacles.len();
        let time = self
            .left
            .millis
            .map_or(1_000, |millis| millis.to_integer())
            .clamp(50, 2_000);
        u32::try_from(fingers as i64 * 1_000 / time).unwrap_or(u32::MAX)
    }

    /// A finger that leaves late spoils the sound, there is little time, and the teacher says no word about it.
    pub fn wants_caution(&self) -> bool {
        let brisk = self
            .left
            .millis
            .is_some_and(|millis| millis < Ratio::from_integer(BRISK_MS));
        self.cautions.is_empty() && brisk && !self.left.in_the_way.is_empty()
    }
}

/// All joins of a lesson: every version after every version, then each variation's entry and exit.
/// Empty for a free palo and for a lesson without a compás.
pub fn joins(lesson: &Lesson, palos: &PaloTable) -> Vec<Join> {
    let Some(round) = Round::of(lesson, palos) else {
        return Vec::new();
    };
    let versions = versions(lesson, &round);
    let desk = Desk::new(lesson, round, palos);
    let mut all = Vec::new();
    for from in &versions {
        for to in &versions {
            all.push(desk.vueltas(from, to));
        }
    }
    for version in &versions {
        all.extend(desk.entry(version));
        all.extend(desk.exit(version));
    }
    all
}

struct Desk<'a> {
    lesson: &'a Lesson,
    round: Round,
    cycle: Cycle,
    guitar: Guitar,
    /// Pulses a minute at the top of the tempo.
    pace: Option<Pulses>,
}

/// The two halves of a join: what is played before it and after it, on one clock.
struct Halves<'a> {
    before: Vec<Timed<'a>>,
    after: Vec<Timed<'a>>,
}

impl<'a> Desk<'a> {
    fn new(lesson: &'a Lesson, round: Round, palos: &PaloTable) -> Self {
        let pace = Pace::of(lesson, &round, palos).map(|pace| pace.top(&round));
        Desk {
            lesson,
            cycle: Cycle::of(lesson, &round),
            guitar: Guitar::of(lesson),
            pace,
            round,
        }
    }

    fn vueltas(&self, from: &Version, to: &Version) -> Join {
        let spill = from.spill(self.lesson, &self.round, &self.cycle);
        let before = happenings(self.lesson, &self.round, from, None);
        let mut after = happenings(self.lesson, &self.round, to, Some(from));
        // The core's chord goes on round the end where the next vuelta states none at its start.
        let chord_at_start = after.iter().any(|timed| is_change(timed) && timed.at <= spill);
        if !chord_at_start {
            let changes = before
                .iter()
                .filter(|timed| is_change(timed) && timed.at < self.cycle.pulses);
            after.extend(
                changes
                    .max_by_key(|timed| timed.at)
                    .map(|timed| Timed { at: spill, ..*timed }),
            );
            after.sort_by_key(|timed| timed.at);
        }
        for timed in &mut after {
            timed.at += self.cycle.pulses;
        }
        let mut join = self.join(
            JoinKind::Vueltas,
            from,
            to,
            self.count_at(spill),
            &Halves { before, after },
        );
        join.obstacles.extend(self.taken_twice(spill, to));
        join
    }

    fn entry(&self, version: &Version) -> Option<Join> {
        let region = self.only_region(version)?;
        let core = Version { variations: Vec::new() };
        let (before, after) = self.cut(version, region.from);
        let inside = region.from > Ratio::from_integer(0);
        inside.then(|| {
            self.join(
                JoinKind::Entry,
                &core,
                version,
                self.count_at(region.from),
                &Halves { before, after },
            )
        })
    }

    fn exit(&self, version: &Version) -> Option<Join> {
        let region = self.only_region(version)?;
        let core = Version { variations: Vec::new() };
        let (before, after) = self.cut(version, region.end());
        let inside = region.end() < self.cycle.pulses;
        inside.then(|| {
            self.join(
                JoinKind::Exit,
                version,
                &core,
                self.count_at(region.end()),
                &Halves { before, after },
            )
        })
    }

    /// Where the one variation of a version stands in the core.
    fn only_region(&self, version: &Version) -> Option<Region> {
        self.cycle.core?;
        match version.regions(self.lesson, &self.round, &self.cycle).as_slice() {
            [(_, region)] => Some(*region),
            _ => None,
        }
    }

    fn cut(&self, version: &Version, at: Pulses) -> (Vec<Timed<'a>>, Vec<Timed<'a>>) {
        happenings(self.lesson, &self.round, version, None)
            .into_iter()
            .partition(|timed| timed.at < at)
    }

    fn join(&self, kind: JoinKind, from: &Version, to: &Version, count: i64, halves: &Halves) -> Join {
        let held = follow(self.lesson, &halves.before, &[]);
        let first = halves
            .after
            .iter()
            .filter(|timed| sounds(timed))
            .map(|timed| timed.at)
            .min();
        let opening: Vec<Timed> = halves
            .after
            .iter()
            .filter(|timed| first.is_none_or(|first| timed.at <= first))
            .copied()
            .collect();
        let told = follow(self.lesson, &opening, held.end());
        let last = halves
            .before
            .iter()
            .filter(|timed| sounds(timed))
            .map(|timed| timed.at)
            .max();
        let gap = first.zip(last).map(|(first, last)| first - last);
        let millis = gap.zip(self.pace).map(|(gap, pace)| millis(gap, pace));
        Join {
            kind,
            from: from.clone(),
            to: to.clone(),
            count,
            obstacles: told
                .clashes
                .iter()
                .filter(|clash| clash.hold.kept)
                .cloned()
                .map(|clash| Obstacle::Held(Box::new(clash)))
                .collect(),
            left: self.left_work(held.end(), &opening, millis),
            same_finger: self.same_finger(halves),
            cautions: self.cautions_about(kind, from, to, count),
        }
    }

    fn left_work(&self, old: &[Hold], opening: &[Timed], millis: Option<Ratio<i64>>) -> LeftWork {
        let (new, needs) = self.asked(opening);
        let same = |one: &Hold, other: &Hold| {
            let finger = one.finger.is_none() || other.finger.is_none() || one.finger == other.finger;
            one.fret == other.fret && one.is_on(other.string) && finger
        };
        let remains = |hold: &&Hold| new.iter().any(|other| same(hold, other) || same(other, hold));
        let stays: Vec<Hold> = old.iter().filter(remains).cloned().collect();
        // With nothing asked for, nothing has to move.
        let lifts: Vec<Hold> = old
            .iter()
            .filter(|hold| !needs.is_empty() && !remains(hold))
            .cloned()
            .collect();
        let presses = new
            .iter()
            .filter(|hold| !old.iter().any(|other| same(hold, other) || same(other, hold)));
        let spoils = |hold: &&Hold| {
            needs
                .iter()
                .any(|need| hold.is_on(need.string) && need.fret < hold.fret)
        };
        LeftWork {
            in_the_way: lifts.iter().filter(spoils).cloned().collect(),
            presses: presses.cloned().collect(),
            stays,
            lifts,
            millis,
        }
    }

    /// The grip that the second half begins with, and what it needs: its chord, or its first note.
    fn asked(&self, opening: &[Timed]) -> (Vec<Hold>, Vec<Need>) {
        let (mut holds, mut needs) = (Vec::new(), Vec::new());
        for timed in opening {
            match timed.what {
                Happening::Change(change) | Happening::Resume(change) => {
                    let chord = chord_named(self.lesson, &change.chord);
                    holds = chord.map(|chord| holds_of(chord, change.place)).unwrap_or_default();
                    needs = chord.map(|chord| needs_of(chord, change.place)).unwrap_or_default();
                }
                Happening::Stroke(stroke) => {
                    if let Some((string, fret)) = place_of(stroke, &self.guitar) {
                        needs.retain(|need| need.string != string);
                        needs.push(Need {
                            string,
                            fret,
                            finger: stroke.left,
                            chord: None,
                            place: stroke.place,
                        });
                    }
                }
                Happening::Left(_) => {}
            }
        }
        (holds, needs)
    }

    fn taken_twice(&self, spill: Pulses, to: &Version) -> Option<Obstacle> {
        let regions = to.regions(self.lesson, &self.round, &self.cycle);
        let (_, region) = regions.iter().find(|(_, region)| region.from < spill)?;
        let one = Ratio::new(1, 1_000);
        Some(Obstacle::CountsTakenTwice {
            first: self.count_at(region.from),
            last: self.count_at(spill.min(region.end()) - one),
        })
    }

    /// The count that a moment of the vuelta lies in, folded into the compás.
    fn count_at(&self, at: Pulses) -> i64 {
        let mut left = if self.cycle.pulses > Ratio::from_integer(0) {
            at % self.cycle.pulses
        } else {
            at
        };
        let mut count = self.cycle.first;
        for _ in 0..self.cycle.counts.min(1_000) {
            let length = Ratio::from_integer(self.round.length_of(count));
            if left < length {
                break;
            }
            left -= length;
            count += 1;
        }
        let whole = self.cycle.counts.max(self.round.counts).max(1);
        (count - 1).rem_euclid(whole) + 1
    }

    fn same_finger(&self, halves: &Halves) -> Option<(Finger, Ratio<i64>)> {
        let (last, note) = halves.before.iter().filter_map(single_note).max_by_key(|(at, _)| *at)?;
        let (first, next) = halves.after.iter().filter_map(single_note).min_by_key(|(at, _)| *at)?;
        let finger = note.fingers.first().filter(|finger| next.fingers == [**finger])?;
        Some((*finger, millis(first - last, self.pace?)))
    }

    fn cautions_about(&self, kind: JoinKind, from: &Version, to: &Version, count: i64) -> Vec<usize> {
        let about = |caution: &Caution| {
            let owner = self.owner(caution);
            let concerns = |version: &Version| match owner {
                Some(owner) if Some(owner) != self.cycle.core => version.variations.contains(&owner),
                _ => version.variations.is_empty(),
            };
            let names = |wanted: i64| {
                let folded = |at: i64| (at - self.cycle.first).rem_euclid(self.cycle.counts.max(1));
                caution.counts.iter().any(|at| folded(at.whole()) == folded(wanted))
            };
            match kind {
                JoinKind::Vueltas => concerns(from) && names(count),
                JoinKind::Entry => concerns(to) && names(count),
                JoinKind::Exit => concerns(from) && names(count),
            }
        };
        let cautions = self.lesson.cautions.iter().enumerate();
        cautions
            .filter(|(_, caution)| about(caution))
            .map(|(index, _)| index)
            .collect()
    }

    /// The pattern that a caution is spoken about: the last one begun before it in its file.
    fn owner(&self, caution: &Caution) -> Option<usize> {
        let before = |pattern: &Pattern| {
            pattern.place.file == caution.place.file && pattern.place.span.start <= caution.place.span.start
        };
        let patterns = self.lesson.patterns.iter().enumerate();
        let begun = patterns.filter(|(_, pattern)| before(pattern));
        begun
            .max_by_key(|(_, pattern)| pattern.place.span.start)
            .map(|(index, _)| index)
    }
}

fn is_change(timed: &Timed) -> bool {
    matches!(timed.what, Happening::Change(_) | Happening::Resume(_))
}

/// True for a stroke that sounds what the left hand holds.
fn sounds(timed: &Timed) -> bool {
    match timed.what {
        Happening::Stroke(stroke) => !matches!(stroke.action, Action::Golpe | Action::Rest | Action::Damp),
        Happening::Change(_) | Happening::Resume(_) | Happening::Left(_) => false,
    }
}

fn single_note<'a>(timed: &Timed<'a>) -> Option<(Pulses, &'a Stroke)> {
    match timed.what {
        Happening::Stroke(stroke) if matches!(stroke.action, Action::Pluck | Action::Picado) => {
            (stroke.fingers.len() == 1).then_some((timed.at, stroke))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
