//! What the plan takes the student to have done so far.

use super::twins::twins;
use crate::practice::ladder::{self, Rung};
use crate::practice::page::{PageData, Step};

/// A student who keeps to the plan.
pub struct Student<'a> {
    practice: &'a PageData,
    progress: Vec<Progress>,
    twins: Vec<(usize, usize)>,
    /// How often each join has been drilled.
    joined: Vec<u32>,
    /// Circuits and mixes played.
    played: usize,
}

struct Progress {
    /// Exercises done.
    steps: usize,
    /// Day on which it was all learnt.
    learnt: Option<u32>,
    /// Day on which it is to come again.
    due: u32,
    reviews: u32,
    ladder: Vec<Rung>,
    /// Rungs climbed.
    rung: usize,
}

/// Reviews before a version is taken to be settled.
const SETTLED: u32 = 2;
/// Days between reviews after the first, which is on the next day. Equal gaps: growing ones were no better in a review
/// of many experiments (Latimier 2021, doi 10.1007/s10648-020-09572-8).
const GAP: u32 = 2;
/// Rungs climbed in one evening at most: a figure of ours.
const RUNGS: usize = 3;
/// Circuits and mixes that a plan ends with: a circuit and two mixes, twice.
const ROUNDS: usize = 6;

impl<'a> Student<'a> {
    pub fn new(practice: &'a PageData) -> Self {
        let progress = |version: &crate::practice::versions::Version| Progress {
            steps: 0,
            learnt: None,
            due: 0,
            reviews: 0,
            ladder: ladder::ladder(&practice.book.tempo, version.length),
            rung: 0,
        };
        Self {
            progress: practice.versions.iter().map(progress).collect(),
            twins: twins(practice),
            joined: vec![0; practice.join_drills.len()],
            played: 0,
            practice,
        }
    }

    pub fn has_begun(&self, version: usize) -> bool {
        self.progress.get(version).is_some_and(|progress| progress.steps > 0)
    }

    /// The version to be learnt on a day: the one in hand, else the next, if the last was finished on an earlier day.
    pub fn newcomer(&self, today: u32) -> Option<usize> {
        let next = self.progress.iter().position(|progress| progress.learnt.is_none())?;
        let finished_today = self.progress.iter().any(|progress| progress.learnt == Some(today));
        (!finished_today).then_some(next)
    }

    pub fn steps_left(&self, version: usize) -> &'a [Step] {
        let steps = self
            .practice
            .learning
            .get(version)
            .map(|learning| learning.steps.as_slice());
        let done = self.progress.get(version).map_or(0, |progress| progress.steps);
        steps.and_then(|steps| steps.get(done..)).unwrap_or_default()
    }

    /// So many exercises of a version were done.
    pub fn learnt(&mut self, today: u32, version: usize, steps: usize) {
        let all = self
            .practice
            .learning
            .get(version)
            .map_or(0, |learning| learning.steps.len());
        if let Some(progress) = self.progress.get_mut(version) {
            progress.steps += steps;
            if progress.steps >= all {
                progress.learnt = Some(today);
                progress.due = today + 1;
            }
        }
    }

    /// Versions to come again on a day, the longest overdue first; none that is a near-twin of one already chosen.
    pub fn due(&self, today: u32, chosen: &[usize], at_most: usize) -> Vec<usize> {
        let is_due = |version: &usize| {
            let progress = self.progress.get(*version);
            progress.is_some_and(|progress| progress.learnt.is_some() && progress.due <= today)
        };
        let mut due: Vec<usize> = (0..self.progress.len()).filter(is_due).collect();
        due.sort_by_key(|version| (self.progress.get(*version).map(|progress| progress.due), *version));
        let mut taken: Vec<usize> = Vec::new();
        for version in due {
            let clashes = chosen.iter().chain(&taken).any(|other| self.are_twins(version, *other));
            if !clashes && taken.len() < at_most {
                taken.push(version);
            }
        }
        taken
    }

    /// What comes again soonest, for a day on which nothing is due.
    pub fn next_due(&self) -> Option<usize> {
        let learnt = self
            .progress
            .iter()
            .enumerate()
            .filter(|(_, progress)| progress.learnt.is_some());
        learnt
            .min_by_key(|(version, progress)| (progress.due, *version))
            .map(|(version, _)| version)
    }

    fn are_twins(&self, one: usize, other: usize) -> bool {
        self.twins.contains(&(one.min(other), one.max(other)))
    }

    /// The rungs from and to which a version is played in so many seconds; it begins a rung below the last time.
    pub fn climb(&mut self, today: u32, version: usize, seconds: u32) -> Option<(Rung, Rung)> {
        let progress = self.progress.get_mut(version)?;
        progress.reviews += 1;
        progress.due = today + GAP;
        let last = progress.ladder.len().checked_sub(1)?;
        let from = progress.rung.saturating_sub(1).min(last);
        let mut to = from;
        let mut spent = progress.ladder.get(from)?.seconds;
        while to < last && to + 1 < from + RUNGS + 1 {
            spent += progress.ladder.get(to + 1)?.seconds;
            if spent > seconds && to >= progress.rung.min(last) {
                break;
            }
            to += 1;
        }
        progress.rung = to + 1;
        Some((progress.ladder.get(from)?.clone(), progress.ladder.get(to)?.clone()))
    }

    /// Joins between learnt versions that were not drilled yet, in the order of the page data; none of near-twins,
    /// and none that would bring a near-twin of what is played today.
    pub fn open_joins(&self, today: &[usize]) -> Vec<usize> {
        let learnt = |version: usize| {
            self.progress
                .get(version)
                .is_some_and(|progress| progress.learnt.is_some())
        };
        let clashes = |version: usize| today.iter().any(|other| self.are_twins(version, *other));
        let mut present: Vec<usize> = Vec::new();
        let mut open = Vec::new();
        for (index, join) in self.practice.join_drills.iter().enumerate() {
            let done = self.joined.get(index).is_some_and(|times| *times > 0);
            let known = learnt(join.from) && learnt(join.to);
            let both = [join.from, join.to];
            let meets = |version: &usize| present.iter().any(|other| self.are_twins(*version, *other));
            if done
                || !known
                || self.are_twins(join.from, join.to)
                || both.iter().any(|one| clashes(*one) || meets(one))
            {
                continue;
            }
            present.extend(both);
            open.push(index);
        }
        open
    }

    pub fn joined(&mut self, index: usize) {
        if let Some(times) = self.joined.get_mut(index) {
            *times += 1;
        }
    }

    pub fn played(&self) -> usize {
        self.played
    }

    pub fn has_played(&mut self) {
        self.played += 1;
    }

    /// Everything is learnt and has come again often enough for circuits and mixes.
    pub fn is_settled(&self) -> bool {
        let settled = |progress: &Progress| progress.learnt.is_some() && progress.reviews >= SETTLED;
        !self.progress.is_empty() && self.progress.iter().all(settled)
    }

    /// Settled, up to the goal, joined, and played through.
    pub fn is_done(&self) -> bool {
        let joins = self.practice.join_drills.iter().zip(&self.joined);
        let joined = joins
            .into_iter()
            .all(|(join, times)| *times > 0 || self.are_twins(join.from, join.to));
        let nothing_to_play = self.practice.circuits.is_empty() && self.practice.mixes.is_empty();
        let played = self.played >= ROUNDS || nothing_to_play;
        self.progress.is_empty() || self.is_settled() && self.behind().is_empty() && joined && played
    }

    /// Versions that are not up to the goal yet.
    pub fn behind(&self) -> Vec<usize> {
        let goal = self.practice.book.tempo.goal;
        let reached = |progress: &Progress| {
            let rung = progress.rung.checked_sub(1).and_then(|rung| progress.ladder.get(rung));
            progress.learnt.is_some() && rung.is_some_and(|rung| rung.tempo >= goal)
        };
        let behind = self
            .progress
            .iter()
            .enumerate()
            .filter(|(_, progress)| !reached(progress));
        behind.map(|(version, _)| version).collect()
    }
}
