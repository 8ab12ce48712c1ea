//! Practice on a page: what to do, readable without scripts and on paper, and the data that the player plays.

use serde::Serialize;

use super::course::{Ready, capital};
use super::labels::Labels;
use super::pieces::{Link, Links};
use super::player_files::{PLAYER_SCRIPTS, PLAYER_STYLE};
use crate::practice::PageData;
use crate::practice::joins::Join;
use crate::practice::page::{JoinDrill, Learning, Step};

#[derive(Debug, Serialize)]
pub(super) struct PracticeView {
    course: String,
    style: String,
    /// The player's scripts in their order: where they lie, or, on a page sent by itself, what is in them.
    scripts: Vec<String>,
    /// The player's data, safe inside a script element.
    json: String,
    /// The lesson's page of practice; None on that page itself.
    pub page: Option<Link>,
    sheet: SheetView,
}

/// What a student ticks off.
#[derive(Debug, Serialize)]
struct SheetView {
    learning: Vec<Group>,
    ladder: Vec<RungView>,
    ladder_about: String,
    joins: Vec<Task>,
    /// Versions that may not follow one another, with the reason; in no circuit and no mix.
    forbidden: Vec<String>,
    circuits: Vec<Walk>,
    mixes: Vec<Walk>,
    drills: Vec<Task>,
    remarks: Vec<String>,
    left_out: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Group {
    name: String,
    tasks: Vec<Task>,
}

#[derive(Debug, Serialize)]
struct RungView {
    tempo: u32,
    /// One for each clean vuelta wanted.
    boxes: Vec<u32>,
}

/// One thing to do: how often, about how long, what to mind.
#[derive(Debug, Serialize)]
struct Task {
    /// Line of the book, for the player.
    line: String,
    title: String,
    about: String,
    boxes: Vec<u32>,
    minds: Vec<String>,
}

/// Versions one after another.
#[derive(Debug, Serialize)]
struct Walk {
    /// Line of the book, for the player.
    line: String,
    title: String,
    about: String,
    stops: Vec<String>,
}

/// Could there be anything to play? What cannot be played is named on the page, with the reason.
pub(super) fn has_strokes(ready: &Ready) -> bool {
    ready
        .lesson()
        .patterns
        .iter()
        .any(|pattern| !pattern.strokes.is_empty())
}

/// None where there is nothing to play. `course` is the name under which the student's progress is kept.
pub(super) fn practice(data: &PageData, course: &str, labels: &Labels, links: &Links) -> Option<PracticeView> {
    if data.learning.is_empty() || data.book.lines.is_empty() {
        return None;
    }
    let json = serde_json::to_string(&data).ok()?.replace('<', "\\u003c");
    let at = |path: &str| format!("{}{path}", links.root);
    Some(PracticeView {
        course: course.to_owned(),
        style: at(PLAYER_STYLE.0),
        scripts: PLAYER_SCRIPTS
            .iter()
            .map(|(path, text)| if links.alone { (*text).to_owned() } else { at(path) })
            .collect(),
        json,
        page: None,
        sheet: Sheet { data, labels }.view(),
    })
}

impl PracticeView {
    /// What several lessons add to each other: pieces and the way to the tempo stand with each lesson.
    pub(super) fn across(mut self, data: &PageData) -> Self {
        let of = |version: usize| data.versions.get(version).map(|version| version.lesson);
        let between = |drill: &&JoinDrill| of(drill.from) != of(drill.to);
        let lines: Vec<&str> = data
            .join_drills
            .iter()
            .filter(between)
            .map(|drill| drill.line.as_str())
            .collect();
        self.sheet.learning.clear();
        self.sheet.ladder.clear();
        self.sheet.joins.retain(|task| lines.contains(&task.line.as_str()));
        self
    }
}

struct Sheet<'a> {
    data: &'a PageData,
    labels: &'a Labels,
}

impl Sheet<'_> {
    fn view(&self) -> SheetView {
        let data = self.data;
        let rung = data.ladder.first();
        let figure = |number: Option<u32>| number.unwrap_or(0).to_string();
        SheetView {
            learning: data.learning.iter().map(|learning| self.group(learning)).collect(),
            ladder: data
                .ladder
                .iter()
                .map(|rung| RungView {
                    tempo: rung.tempo,
                    boxes: (0..rung.clean).collect(),
                })
                .collect(),
            ladder_about: self.labels.fill(
                "practice_ladder_about",
                &[
                    ("clean", &figure(rung.map(|rung| rung.clean))),
                    ("faults", &figure(rung.map(|rung| rung.faults))),
                ],
            ),
            joins: data
                .join_drills
                .iter()
                .filter(|drill| drill.cost > 0)
                .map(|drill| self.join(drill))
                .collect(),
            forbidden: data
                .joins
                .iter()
                .filter(|join| !join.allowed)
                .map(|join| self.refused(join))
                .collect(),
            circuits: data
                .circuits
                .iter()
                .map(|drill| self.walk(&drill.line, &drill.stops, drill.seconds))
                .collect(),
            mixes: data
                .mixes
                .iter()
                .map(|drill| self.walk(&drill.line, &drill.mix.stops, drill.seconds))
                .collect(),
            drills: data
                .drills
                .iter()
                .map(|drill| Task {
                    line: drill.line.clone(),
                    title: drill.title.clone(),
                    about: String::new(),
                    boxes: Vec::new(),
                    minds: vec![drill.about.clone()],
                })
                .collect(),
            remarks: data.remarks.clone(),
            left_out: data.left_out.clone(),
        }
    }

    /// The joins are judged in the lesson's words: "variation 3 runs on over the counts with which variation 2 begins".
    fn refused(&self, join: &Join) -> String {
        let names = || format!("{}, {}", self.name(join.from), self.name(join.to));
        let why = join.why.first().cloned().unwrap_or_else(names);
        format!("{}.", capital(&why))
    }

    fn title(&self, id: &str) -> String {
        let line = self.data.book.lines.iter().find(|line| line.id == id);
        line.map(|line| capital(&line.title)).unwrap_or_default()
    }

    fn name(&self, version: usize) -> String {
        self.data.book.versions.get(version).cloned().unwrap_or_default()
    }

    fn group(&self, learning: &Learning) -> Group {
        Group {
            name: capital(&self.name(learning.version)),
            tasks: learning.steps.iter().map(|step| self.step(step)).collect(),
        }
    }

    fn step(&self, step: &Step) -> Task {
        Task {
            line: step.line.clone(),
            title: self.title(&step.line),
            about: self.often(step.repetitions, step.seconds),
            boxes: (0..step.repetitions).collect(),
            minds: step.why.iter().chain(&step.cautions).cloned().collect(),
        }
    }

    fn join(&self, drill: &JoinDrill) -> Task {
        Task {
            line: drill.line.clone(),
            title: self.title(&drill.line),
            about: self.often(drill.repetitions, drill.seconds),
            boxes: (0..drill.repetitions).collect(),
            minds: drill.why.iter().chain(&drill.cautions).cloned().collect(),
        }
    }

    fn walk(&self, line: &str, stops: &[usize], seconds: u32) -> Walk {
        Walk {
            line: line.to_owned(),
            title: self.title(line),
            about: self.labels.fill("practice_lasts", &[("time", &time(seconds))]),
            stops: stops.iter().map(|stop| self.name(*stop)).collect(),
        }
    }

    fn often(&self, repetitions: u32, seconds: u32) -> String {
        let holes = [("n", repetitions.to_string()), ("time", time(seconds))];
        let holes: Vec<(&str, &str)> = holes.iter().map(|(hole, value)| (*hole, value.as_str())).collect();
        self.labels.fill("practice_often", &holes)
    }
}

/// Minutes and seconds: 1:05.
fn time(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
