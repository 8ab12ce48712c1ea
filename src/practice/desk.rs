//! The book of some lessons: every bar once, and every exercise as a line of cuts.

use super::bars::Workshop;
use super::joins::Joins;
use super::judge::{Judge, Work};
use super::ladder;
use super::pieces::Span;
use super::score::{Bar, Book, Cut, Ground, Line, Pace, PaceGiven, PaceUnit, Pulses, Strings};
use super::turn::Turn;
use super::versions::{self, Placed, Unplaced};
use super::words::Words;
use crate::music::lesson::Lesson;
use crate::music::palo::{PaloTable, TempoUnit};
use crate::music::pitch::STANDARD_TUNING;
use crate::music::round::{self, Given, Round};

/// A book in the making, with all that its exercises are told from.
pub struct Desk<'a> {
    pub lessons: Vec<&'a Lesson>,
    pub placed: Vec<Placed>,
    pub unplaced: Vec<Unplaced>,
    pub joins: Joins,
    /// For each version the work of going into it and out of it inside its compás, where that is known.
    pub ways_in: Vec<[Option<Work>; 2]>,
    pub words: Words,
    pub book: Book,
    /// Ground of each version.
    grounds: Vec<usize>,
    /// Moments at which a group of counts begins, for each ground.
    groups: Vec<Vec<Pulses>>,
}

/// Where nobody says a tempo: slow enough for anybody, and marked as ours.
const OUR_TEMPO: u32 = 60;

impl<'a> Desk<'a> {
    pub fn new(lessons: &[&'a Lesson], palos: &PaloTable) -> Self {
        let language = lessons.first().map_or("en", |lesson| lesson.language.as_str());
        let words = Words::of(language);
        let (placed, unplaced) = versions::versions(lessons, palos);
        let strings = Strings {
            tuning: tuning(lessons),
            capo: lessons.first().map_or(0, |lesson| versions::capo(lesson)),
        };
        let mut desk = Self {
            lessons: lessons.to_vec(),
            book: Book {
                strings,
                tempo: pace(lessons, palos),
                versions: placed.iter().map(|placed| placed.version.name.clone()).collect(),
                grounds: Vec::new(),
                bars: Vec::new(),
                lines: Vec::new(),
            },
            placed,
            unplaced,
            joins: Joins::default(),
            ways_in: Vec::new(),
            words,
            grounds: Vec::new(),
            groups: Vec::new(),
        };
        desk.lay_grounds(palos);
        desk.write_bars(strings.tuning, palos);
        desk.find_start();
        desk
    }

    fn lay_grounds(&mut self, palos: &PaloTable) {
        let mut turns: Vec<Option<(Turn, Pulses)>> = Vec::new();
        for placed in &self.placed {
            let key = placed.turn.clone().map(|turn| (turn, placed.version.length));
            let known = turns.iter().position(|turn| turn.is_some() && *turn == key);
            let index = known.unwrap_or_else(|| {
                let palo = self
                    .lessons
                    .get(placed.version.lesson)
                    .and_then(|lesson| round::palo_of(lesson, palos));
                let (ground, groups) = match &placed.turn {
                    Some(turn) => (turn.ground(palo), turn.groups(palo)),
                    None => (free_ground(placed.version.length), Vec::new()),
                };
                self.book.grounds.push(ground);
                self.groups.push(groups);
                turns.push(key);
                turns.len() - 1
            });
            self.grounds.push(index);
        }
    }

    /// A bar for each version by itself, and one for each pair where the first runs on into the second.
    fn write_bars(&mut self, tuning: [u8; 6], palos: &PaloTable) {
        let workshop = Workshop {
            lessons: &self.lessons,
            placed: &self.placed,
            tuning,
            words: self.words,
        };
        let pace = self.book.tempo;
        let top = Pulses::from_integer(i64::from(pace.top) * pace.unit_pulses);
        let judge = Judge::new(&self.lessons, &self.placed, self.words, top, palos);
        let ground = |version: usize| self.grounds.get(version).copied().unwrap_or(0);
        let bar = |version: usize, after: Option<usize>| workshop.bar(ground(version), version, after);
        let joins = judge.vueltas(bar);
        let mut bars: Vec<Bar> = (0..self.placed.len())
            .filter_map(|version| bar(version, None))
            .collect();
        let changed = joins.all.iter().filter(|join| join.allowed);
        let changed = changed.filter_map(|join| bar(join.to, Some(join.from)).filter(|bar| bar.after.is_some()));
        bars.extend(changed);
        let versions = self.placed.iter().map(|placed| &placed.version);
        self.ways_in = versions
            .map(|version| [judge.inside(version, true), judge.inside(version, false)])
            .collect();
        self.joins = joins;
        self.book.bars = bars;
    }

    /// The start of the ladder: what the busiest bar lets the hands do.
    fn find_start(&mut self) {
        let pace = self.book.tempo;
        let starts = self
            .book
            .bars
            .iter()
            .map(|bar| ladder::start(pace.goal, pace.unit_pulses, &bar.events));
        self.book.tempo.start = starts.min().unwrap_or(pace.goal);
    }

    /// The index of a version's bar after another version, or on its own.
    pub fn bar(&self, version: usize, after: Option<usize>) -> Option<usize> {
        let exact = |bar: &Bar| bar.version == version && bar.after == after;
        let alone = |bar: &Bar| bar.version == version && bar.after.is_none();
        let bars = &self.book.bars;
        after
            .and_then(|_| bars.iter().position(exact))
            .or_else(|| bars.iter().position(alone))
    }

    pub fn ground(&self, version: usize) -> Option<&Ground> {
        self.book.grounds.get(*self.grounds.get(version)?)
    }

    pub fn groups(&self, version: usize) -> &[Pulses] {
        let groups = self.grounds.get(version).and_then(|ground| self.groups.get(*ground));
        groups.map_or(&[], Vec::as_slice)
    }

    /// Part of a version's bar.
    pub fn cut(&self, version: usize, after: Option<usize>, span: Span) -> Option<Cut> {
        Some(Cut {
            bar: self.bar(version, after)?,
            from: span.0,
            to: span.1,
        })
    }

    /// All of a version's bar.
    pub fn whole(&self, version: usize, after: Option<usize>) -> Option<Cut> {
        let length = self.placed.get(version)?.version.length;
        self.cut(version, after, (Pulses::from_integer(0), length))
    }

    /// A walk over versions as cuts; where it is closed, the first is played as it is after the last.
    pub fn walk(&self, stops: &[usize], closed: bool) -> Option<Vec<Cut>> {
        let mut before = if closed { stops.last().copied() } else { None };
        let mut cuts = Vec::new();
        for stop in stops {
            cuts.push(self.whole(*stop, before)?);
            before = Some(*stop);
        }
        Some(cuts)
    }

    /// Puts a line into the book and gives its id back.
    pub fn write(&mut self, id: String, title: String, cuts: Vec<Cut>) -> String {
        self.book.lines.push(Line {
            id: id.clone(),
            title,
            cuts,
        });
        id
    }

    /// "counts 4 to 6" of a version's bar.
    pub fn counts(&self, version: usize, span: Span) -> String {
        let counts: Vec<String> = match self.ground(version).filter(|ground| !ground.counts.is_empty()) {
            Some(ground) => {
                let touched = ground
                    .counts
                    .iter()
                    .filter(|mark| mark.at + mark.length > span.0 && mark.at < span.1);
                touched.map(|mark| mark.count.to_string()).collect()
            }
            None => {
                let moves = span.0.floor().to_integer() + 1..=span.1.ceil().to_integer();
                moves.map(|number| number.to_string()).collect()
            }
        };
        let free = self.ground(version).is_none_or(|ground| ground.counts.is_empty());
        let (Some(from), Some(to)) = (counts.first(), counts.last()) else {
            return String::new();
        };
        let key = match (free, counts.len()) {
            (false, 1) => "counts-one",
            (false, _) => "counts-many",
            (true, 1) => "moves-one",
            (true, _) => "moves-many",
        };
        self.words.say(key, &[("from", from), ("to", to)])
    }

    pub fn name(&self, version: usize) -> &str {
        self.book.versions.get(version).map_or("", String::as_str)
    }
}

fn free_ground(length: Pulses) -> Ground {
    Ground {
        length,
        counts: Vec::new(),
        accents: Vec::new(),
        palmas: Vec::new(),
    }
}

fn tuning(lessons: &[&Lesson]) -> [u8; 6] {
    let said = lessons.iter().find_map(|lesson| lesson.tuning.as_ref());
    said.map_or(STANDARD_TUNING, |said| said.value)
}

/// The tempo of the lessons: the lowest that one of them begins its range with, up to the highest that all allow.
fn pace(lessons: &[&Lesson], palos: &PaloTable) -> Pace {
    let mut low: Option<u32> = None;
    let mut high: Option<u32> = None;
    let mut given = PaceGiven::Ours;
    let mut unit = PaceUnit::Move;
    let mut unit_pulses = 1;
    for lesson in lessons {
        let Some(round) = Round::of(lesson, palos) else {
            continue;
        };
        if unit == PaceUnit::Move {
            unit = PaceUnit::Count;
            unit_pulses = round.length_of(1);
        }
        let Some(pace) = round::Pace::of(lesson, &round, palos) else {
            continue;
        };
        if pace.per == TempoUnit::Pulse {
            unit = PaceUnit::Pulse;
            unit_pulses = 1;
        }
        if given != PaceGiven::Said {
            given = match pace.given {
                Given::Said => PaceGiven::Said,
                Given::Palo | Given::Core => PaceGiven::Palo,
            };
        }
        low = Some(low.map_or(pace.low, |low| low.min(pace.low)));
        high = Some(high.map_or(pace.high, |high| high.min(pace.high)));
    }
    let goal = low.unwrap_or(OUR_TEMPO).max(1);
    Pace {
        unit,
        unit_pulses,
        start: goal,
        goal,
        top: high.unwrap_or(goal).max(goal),
        given,
    }
}
