use num_rational::Ratio;

use super::{HandChange, Join, JoinKind, LeftWork, Obstacle};
use crate::music::fretboard::Guitar;
use crate::music::hand::Finger;
use crate::music::held::{Hold, Need, chord_named, follow, holds_of, needs_of, place_of};
use crate::music::left_hand::Change;
use crate::music::lesson::{Caution, Lesson};
use crate::music::palo::PaloTable;
use crate::music::pattern::Pattern;
use crate::music::round::{Pace, Pulses, Round, millis};
use crate::music::stroke::{Action, Stroke};
use crate::music::version::{Cycle, Happening, Region, Timed, Version, happenings};

/// A lesson with what its joins are reckoned from.
pub(super) struct Desk<'a> {
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

/// What meets at a join.
struct Seam<'a> {
    /// What the left hand holds when the first half ends.
    held: Vec<Hold>,
    /// What happens in the second half up to its first sounding stroke.
    opening: Vec<Timed<'a>>,
    /// From the last sounding stroke to the first, at the top of the tempo.
    millis: Option<Ratio<i64>>,
}

impl<'a> Desk<'a> {
    pub(super) fn new(lesson: &'a Lesson, round: Round, palos: &PaloTable) -> Self {
        let pace = Pace::of(lesson, &round, palos).map(|pace| pace.top(&round));
        Desk {
            lesson,
            cycle: Cycle::of(lesson, &round),
            guitar: Guitar::of(lesson),
            pace,
            round,
        }
    }

    pub(super) fn vueltas(&self, from: &Version, to: &Version) -> Join {
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
        let plain = Version { variations: Vec::new() };
        if self.cycle.core.is_some() && (*from != plain || *to != plain) {
            join.harder_than_core = is_harder(&join.left, &self.vueltas(&plain, &plain).left);
        }
        join
    }

    pub(super) fn entry(&self, version: &Version) -> Option<Join> {
        let region = self.only_region(version)?;
        let core = Version { variations: Vec::new() };
        let (before, after) = self.cut(version, region.from);
        let inside = region.from > Ratio::from_integer(0);
        inside.then(|| {
            let join = self.join(
                JoinKind::Entry,
                &core,
                version,
                self.count_at(region.from),
                &Halves { before, after },
            );
            self.against_core(join, region.from)
        })
    }

    pub(super) fn exit(&self, version: &Version) -> Option<Join> {
        let region = self.only_region(version)?;
        let core = Version { variations: Vec::new() };
        let (before, after) = self.cut(version, region.end());
        let inside = region.end() < self.cycle.pulses;
        inside.then(|| {
            let join = self.join(
                JoinKind::Exit,
                version,
                &core,
                self.count_at(region.end()),
                &Halves { before, after },
            );
            self.against_core(join, region.end())
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

    /// The changes of chord inside a version, the core's coming back among them; not the one it begins with.
    pub(super) fn changes(&self, version: &Version) -> Vec<HandChange> {
        let all = happenings(self.lesson, &self.round, version, None);
        let inside = all
            .iter()
            .filter(|timed| timed.at > Ratio::from_integer(0) && timed.at < self.cycle.pulses);
        let change = |timed: &Timed<'a>| match timed.what {
            Happening::Change(change) | Happening::Resume(change) => Some((timed.at, change)),
            Happening::Left(_) | Happening::Stroke(_) => None,
        };
        let hand_change = |(at, change): (Pulses, &Change)| {
            let (before, after) = self.cut(version, at);
            HandChange {
                place: change.place,
                at: change.at,
                chord: change.chord.clone(),
                left: self.left_work(&self.seam(&Halves { before, after })),
            }
        };
        inside.filter_map(change).map(hand_change).collect()
    }

    fn cut(&self, version: &Version, at: Pulses) -> (Vec<Timed<'a>>, Vec<Timed<'a>>) {
        happenings(self.lesson, &self.round, version, None)
            .into_iter()
            .partition(|timed| timed.at < at)
    }

    fn join(&self, kind: JoinKind, from: &Version, to: &Version, count: i64, halves: &Halves) -> Join {
        let seam = self.seam(halves);
        let told = follow(self.lesson, &seam.opening, &seam.held);
        let kept = told.clashes.into_iter().filter(|clash| clash.hold.kept);
        Join {
            kind,
            from: from.clone(),
            to: to.clone(),
            count,
            obstacles: kept.map(|clash| Obstacle::Held(Box::new(clash))).collect(),
            left: self.left_work(&seam),
            same_finger: self.same_finger(halves),
            cautions: self.cautions_about(kind, from, to, count),
            harder_than_core: true,
        }
    }

    /// The join, held against what the core does by itself at that moment of the vuelta.
    fn against_core(&self, join: Join, at: Pulses) -> Join {
        let (before, after) = self.cut(&Version { variations: Vec::new() }, at);
        let core = self.left_work(&self.seam(&Halves { before, after }));
        let harder_than_core = is_harder(&join.left, &core);
        Join {
            harder_than_core,
            ..join
        }
    }

    fn seam<'b>(&self, halves: &Halves<'b>) -> Seam<'b> {
        let sounding = |half: &[Timed]| -> Vec<Pulses> {
            let strokes = half.iter().filter(|timed| sounds(timed));
            strokes.map(|timed| timed.at).collect()
        };
        let last = sounding(&halves.before).into_iter().max();
        let first = sounding(&halves.after).into_iter().min();
        let opens = |timed: &&Timed| first.is_none_or(|first| timed.at <= first);
        let gap = first.zip(last).map(|(first, last)| first - last);
        Seam {
            held: follow(self.lesson, &halves.before, &[]).end().to_vec(),
            opening: halves.after.iter().filter(opens).copied().collect(),
            millis: gap.zip(self.pace).map(|(gap, pace)| millis(gap, pace)),
        }
    }

    fn left_work(&self, seam: &Seam) -> LeftWork {
        let (new, needs) = self.asked(&seam.opening);
        let old = &seam.held;
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
            millis: seam.millis,
        }
    }

    /// The grip that the second half begins with, and what it needs: its chord, or its first note.
    fn asked(&self, opening: &[Timed]) -> (Vec<Hold>, Vec<Need>) {
        let (mut holds, mut needs) = (Vec::new(), Vec::new());
        for timed in opening {
            match timed.what {
                Happening::Change(change) | Happening::Resume(change) => {
                    let chord = chord_named(self.lesson, &change.chord);
                    holds = chord
                        .map(|chord| holds_of(chord, timed.at, change.place))
                        .unwrap_or_default();
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

/// True when other fingers are in the way than in the core's own work, or there is less time for them.
fn is_harder(work: &LeftWork, core: &LeftWork) -> bool {
    let spots = |work: &LeftWork| -> Vec<(u8, u8)> {
        let in_the_way = work.in_the_way.iter();
        in_the_way.map(|hold| (hold.string, hold.fret)).collect()
    };
    spots(work) != spots(core) || work.millis < core.millis
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
