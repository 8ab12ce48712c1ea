//! Day after day, until everything is learnt, up to tempo, joined and mixed.

use super::dates;
use super::session::{Session, Task};
use super::student::Student;
use super::{Block, BlockKind, Day, Wishes};
use crate::practice::page::{PageData, StepKind};
use crate::practice::score::PaceUnit;
use crate::practice::words::Words;

/// A plan ends after half a year, done or not.
const MOST_DAYS: u32 = 182;
/// One day in seven is off (Horvath, quoted in `music::source` HOR).
const WEEK: u32 = 7;
/// Minutes for the one thing that there is to do on a day, at most: a figure of ours.
const LONE_REVIEW: u32 = 20;

/// The days of a plan, and what it did not reach, in sentences.
pub fn days(practice: &PageData, wishes: &Wishes, words: Words) -> (Vec<Day>, Vec<String>) {
    let mut planner = Planner {
        practice,
        words,
        session: Session::of(wishes.minutes),
        wishes,
        student: Student::new(practice),
    };
    let mut days = Vec::new();
    while !planner.student.is_done() && (days.len() as u32) < MOST_DAYS {
        let number = days.len() as u32 + 1;
        days.push(planner.day(number));
    }
    let unreached = planner.unreached();
    (days, unreached)
}

struct Planner<'a> {
    practice: &'a PageData,
    words: Words,
    wishes: &'a Wishes,
    session: Session,
    student: Student<'a>,
}

impl Planner<'_> {
    fn day(&mut self, number: u32) -> Day {
        let date = self
            .wishes
            .from
            .and_then(|from| from.checked_add(jiff::Span::new().days(number - 1)).ok());
        if number.is_multiple_of(WEEK) {
            return Day {
                number,
                title: dates::title(number, date, self.words),
                date,
                blocks: Vec::new(),
                begins: None,
            };
        }
        let (tasks, begins) = self.tasks(number);
        Day {
            number,
            title: dates::title(number, date, self.words),
            date,
            blocks: self.session.blocks(tasks, self.wishes.arrangement, self.words),
            begins,
        }
    }

    /// What there is to do on a day, in the order of doing it; all of it fits into the time for playing.
    fn tasks(&mut self, number: u32) -> (Vec<Task>, Option<usize>) {
        let mut left = self.session.playing;
        let mut tasks = Vec::new();
        let close = self.session.close();
        left -= close;
        let mut today: Vec<usize> = Vec::new();
        let newcomer = self.student.newcomer(number);
        let begins = newcomer.filter(|version| !self.student.has_begun(*version));
        today.extend(newcomer);
        let due = self.student.due(number, &today, (left / 2) as usize);
        if let Some(version) = newcomer {
            // Three fifths for the new while something old is due, else all of it: figures of ours.
            let share = if due.is_empty() { left } else { (left * 3 / 5).max(1) };
            let task = self.learn(number, version, share);
            left -= task.minutes;
            tasks.push(task);
        }
        today.extend(&due);
        let share = if newcomer.is_some() { left / 4 } else { left.div_ceil(2) };
        let joins = self.joins(&today, share);
        left -= joins.iter().map(|task| task.minutes).sum::<u32>();
        let mut reviews = due.len() as u32;
        for version in due {
            let minutes = left / reviews.max(1);
            reviews -= 1;
            if minutes > 0 {
                left -= minutes;
                tasks.push(self.review(number, version, minutes));
            }
        }
        tasks.extend(joins);
        tasks.extend(self.close(number, close + left));
        if tasks.is_empty()
            && let Some(version) = self.student.next_due()
        {
            tasks.push(self.review(number, version, self.session.playing.min(LONE_REVIEW)));
        }
        (tasks, begins)
    }

    /// The next exercises of a version that is being learnt.
    fn learn(&mut self, number: u32, version: usize, share: u32) -> Task {
        let tempo = self.practice.book.tempo.start;
        let mut task = Task::new(
            BlockKind::New,
            self.words.say("plan-new", &[("name", self.name(version))]),
        );
        let mut seconds = 0;
        for step in self.student.steps_left(version) {
            if seconds > 0 && seconds + step.seconds > share * 60 {
                break;
            }
            seconds += step.seconds;
            let key = match step.kind {
                StepKind::Piece => "plan-piece",
                StepKind::Forward | StepKind::Backward => "plan-chain",
                StepKind::Entry => "plan-entry",
                StepKind::Exit => "plan-exit",
                StepKind::Whole => "plan-whole",
            };
            let times = step.repetitions.to_string();
            task.details
                .push(self.words.say(key, &[("counts", &step.counts), ("n", &times)]));
            task.details.extend(self.cautions(&step.cautions));
            task.lines.push(step.line.clone());
        }
        task.tempo = Some((tempo, tempo));
        task.minutes = seconds.div_ceil(60).clamp(1, share.max(1));
        self.student.learnt(number, version, task.lines.len());
        task
    }

    fn cautions(&self, cautions: &[String]) -> Vec<String> {
        let mind = |about: &String| self.words.say("plan-caution", &[("about", about)]);
        cautions.iter().map(mind).collect()
    }

    /// A version that was learnt on another day, some rungs up the ladder.
    fn review(&mut self, number: u32, version: usize, minutes: u32) -> Task {
        let mut task = Task::new(
            BlockKind::Review,
            self.words.say("plan-review", &[("name", self.name(version))]),
        );
        let climb = self.student.climb(number, version, minutes * 60);
        if let Some((from, to)) = climb {
            let (low, high) = (from.tempo.to_string(), to.tempo.to_string());
            let clean = to.clean.to_string();
            let key = if from.tempo == to.tempo {
                "plan-hold"
            } else {
                "plan-climb"
            };
            let unit = self.unit();
            let holes = [("from", low.as_str()), ("to", &high), ("n", &clean), ("unit", &unit)];
            task.details.push(self.words.say(key, &holes));
            task.tempo = Some((from.tempo, to.tempo));
        }
        task.lines
            .extend(self.practice.versions.get(version).map(|version| version.id.clone()));
        task.minutes = minutes;
        task
    }

    /// The dearest joins between what is learnt that have not been drilled yet, none of a pair of near-twins.
    fn joins(&mut self, today: &[usize], minutes: u32) -> Vec<Task> {
        let mut left = minutes;
        let mut tasks = Vec::new();
        for index in self.student.open_joins(today) {
            let Some(join) = self.practice.join_drills.get(index) else {
                continue;
            };
            // The first is drilled even where the time is short for it.
            let needed = join.seconds.div_ceil(60).max(1);
            let needed = if tasks.is_empty() { needed.min(left) } else { needed };
            if needed == 0 || needed > left {
                break;
            }
            left -= needed;
            let mut task = Task::new(BlockKind::Join, self.title(&join.line));
            let times = join.repetitions.to_string();
            task.details.push(self.words.say("plan-join", &[("n", &times)]));
            task.details.extend(join.why.iter().cloned());
            task.details.extend(self.cautions(&join.cautions));
            task.lines.push(join.line.clone());
            task.minutes = needed;
            tasks.push(task);
            self.student.joined(index);
        }
        tasks
    }

    /// The end of a session: circuit and mixes once everything is known, until then counting, clapping, listening.
    fn close(&mut self, number: u32, minutes: u32) -> Option<Task> {
        if minutes == 0 {
            return None;
        }
        if self.student.is_settled() {
            return self.play_all(minutes);
        }
        let drills = &self.practice.drills;
        let listening = !self.practice.listening.is_empty();
        let choices = drills.len() + usize::from(listening);
        let chosen = (number as usize - 1).checked_rem(choices)?;
        let (title, about, line) = match drills.get(chosen) {
            Some(drill) => (drill.title.clone(), drill.about.clone(), Some(drill.line.clone())),
            None => (
                self.words.say("plan-listen", &[]),
                self.words.say("plan-listen-about", &[]),
                None,
            ),
        };
        let mut task = Task::new(BlockKind::Drill, title);
        task.details.push(about);
        task.lines.extend(line);
        // Ten minutes of it are enough: a figure of ours.
        task.minutes = minutes.min(10);
        Some(task)
    }

    fn play_all(&mut self, minutes: u32) -> Option<Task> {
        let circuits = &self.practice.circuits;
        let mixes = &self.practice.mixes;
        let played = self.student.played();
        // A circuit, then two mixes, and so on.
        let circuit = circuits
            .get(played / 3 % circuits.len().max(1))
            .filter(|_| played.is_multiple_of(3));
        let (kind, line, seconds) = match (circuit, mixes.get(played % mixes.len().max(1))) {
            (Some(circuit), _) => (BlockKind::Circuit, &circuit.line, circuit.seconds),
            (None, Some(mix)) => (BlockKind::Mix, &mix.line, mix.seconds),
            (None, None) => {
                let circuit = circuits.get(played % circuits.len().max(1))?;
                (BlockKind::Circuit, &circuit.line, circuit.seconds)
            }
        };
        let mut task = Task::new(kind, self.title(line));
        let key = if kind == BlockKind::Circuit {
            "plan-circuit"
        } else {
            "plan-mix"
        };
        task.details.push(self.words.say(key, &[]));
        task.lines.push(line.clone());
        // Twice through is enough for one evening.
        task.minutes = (seconds * 2).div_ceil(60).clamp(1, minutes);
        self.student.has_played();
        Some(task)
    }

    /// "counts a minute".
    fn unit(&self) -> String {
        let key = match self.practice.book.tempo.unit {
            PaceUnit::Count => "unit-count",
            PaceUnit::Pulse => "unit-pulse",
            PaceUnit::Move => "unit-move",
        };
        self.words.say(key, &[])
    }

    fn unreached(&self) -> Vec<String> {
        let behind = self.student.behind();
        let name = |version: usize| self.words.say("plan-unreached", &[("name", self.name(version))]);
        behind.into_iter().map(name).collect()
    }

    fn name(&self, version: usize) -> &str {
        self.practice.book.versions.get(version).map_or("", String::as_str)
    }

    fn title(&self, line: &str) -> String {
        let line = self.practice.book.lines.iter().find(|other| other.id == line);
        line.map_or(String::new(), |line| line.title.clone())
    }
}

impl Task {
    fn new(kind: BlockKind, title: String) -> Self {
        Self {
            kind,
            title,
            minutes: 0,
            details: Vec::new(),
            lines: Vec::new(),
            tempo: None,
        }
    }

    /// The same as a block, from a minute of the session on.
    pub fn block(&self, start: u32, minutes: u32) -> Block {
        Block {
            start,
            minutes,
            kind: self.kind,
            title: self.title.clone(),
            details: self.details.clone(),
            lines: self.lines.clone(),
            tempo: self.tempo,
        }
    }
}
