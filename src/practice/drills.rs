//! Counting, clapping, answering, listening: practice without a new note to learn.

use serde::{Deserialize, Serialize};

use super::desk::Desk;
use super::dice::Dice;
use super::score::{Cut, Event, Pulses};
use crate::music::pattern::Role;

/// An exercise in which not everything is heard all the time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Drill {
    pub kind: DrillKind,
    /// Line of the book.
    pub line: String,
    pub title: String,
    /// What to do, in a sentence or two.
    pub about: String,
    /// What is heard in each bar of the line.
    pub heard: Vec<Heard>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DrillKind {
    Count,
    Palmas,
    CallAndAnswer,
}

/// What sounds in a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Heard {
    pub guitar: bool,
    pub palmas: bool,
    pub count: bool,
}

/// A question for the ear.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    pub id: String,
    pub kind: QuestionKind,
    pub title: String,
    /// Line of the book that is played.
    pub line: String,
    /// Only the palmas sound, and the clap at this moment stands out. For `Accent`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub leant: Option<Pulses>,
    pub choices: Vec<String>,
    /// Index of the right one.
    pub answer: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum QuestionKind {
    /// Which version was that?
    Which,
    /// On which count does it lean?
    Accent,
}

/// Vueltas of a counting or clapping drill.
const VUELTAS: usize = 4;
/// Versions to choose from at most.
const CHOICES: usize = 4;
/// Questions of a kind.
const QUESTIONS: usize = 8;

const COUNT_ONLY: Heard = Heard {
    guitar: false,
    palmas: false,
    count: true,
};
const PALMAS_ONLY: Heard = Heard {
    guitar: false,
    palmas: true,
    count: false,
};
const ALL: Heard = Heard {
    guitar: true,
    palmas: true,
    count: true,
};
const ANSWER: Heard = Heard { guitar: false, ..ALL };

/// Counting, palmas, call and answer. None in a free palo, which has nothing to count.
pub fn drills(desk: &mut Desk) -> Vec<Drill> {
    let Some(core) = core(desk) else { return Vec::new() };
    let mut drills = Vec::new();
    if let Some(whole) = desk.whole(core, None) {
        let cuts = vec![whole; VUELTAS];
        drills.push(drill(desk, DrillKind::Count, cuts.clone(), vec![COUNT_ONLY; VUELTAS]));
        let clapped = desk.ground(core).is_some_and(|ground| !ground.palmas.is_empty());
        if clapped {
            drills.push(drill(desk, DrillKind::Palmas, cuts, vec![PALMAS_ONLY; VUELTAS]));
        }
    }
    let (cuts, heard) = calls(desk, core);
    if !cuts.is_empty() {
        drills.push(drill(desk, DrillKind::CallAndAnswer, cuts, heard));
    }
    drills
}

/// Each version that may be followed by itself, once to hear and once to play; where it may not, the core between.
fn calls(desk: &Desk, core: usize) -> (Vec<Cut>, Vec<Heard>) {
    let mut stops: Vec<(usize, Heard)> = Vec::new();
    for version in 0..desk.placed.len() {
        let follows = |before: usize| desk.joins.is_allowed(before, version);
        if !desk.joins.is_allowed(version, version) {
            continue;
        }
        if let Some((last, _)) = stops.last().copied()
            && !follows(last)
        {
            if !desk.joins.is_allowed(last, core) || !follows(core) {
                continue;
            }
            stops.push((core, ANSWER));
        }
        stops.push((version, ALL));
        stops.push((version, ANSWER));
    }
    let walk: Vec<usize> = stops.iter().map(|(version, _)| *version).collect();
    let heard = stops.iter().map(|(_, heard)| *heard).collect();
    desk.walk(&walk, false)
        .map_or((Vec::new(), Vec::new()), |cuts| (cuts, heard))
}

fn drill(desk: &mut Desk, kind: DrillKind, cuts: Vec<Cut>, heard: Vec<Heard>) -> Drill {
    let (id, title, about) = match kind {
        DrillKind::Count => ("drill-count", "drill-count", "drill-count-about"),
        DrillKind::Palmas => ("drill-palmas", "drill-palmas", "drill-palmas-about"),
        DrillKind::CallAndAnswer => ("drill-call", "drill-call", "drill-call-about"),
    };
    let title = desk.words.say(title, &[]);
    Drill {
        kind,
        line: desk.write(id.to_owned(), title.clone(), cuts),
        title,
        about: desk.words.say(about, &[]),
        heard,
    }
}

/// The version that the others stand in; None when nothing is counted.
fn core(desk: &Desk) -> Option<usize> {
    let counted = |version: &usize| desk.ground(*version).is_some_and(|ground| !ground.counts.is_empty());
    let is_core = |version: &usize| {
        desk.placed
            .get(*version)
            .is_some_and(|placed| placed.version.role == Role::Core)
    };
    let versions = || (0..desk.placed.len()).filter(counted);
    versions().find(is_core).or_else(|| versions().next())
}

/// Questions for the ear, the same for the same lessons.
pub fn questions(desk: &Desk) -> Vec<Question> {
    let mut dice = Dice::new(desk.placed.len() as u64 + 17);
    let mut questions = which(desk, &mut dice);
    questions.extend(accents(desk, &mut dice));
    questions
}

/// Only versions that can be told apart by what sounds.
fn which(desk: &Desk, dice: &mut Dice) -> Vec<Question> {
    let mut told: Vec<(usize, Vec<Event>)> = Vec::new();
    for version in 0..desk.placed.len() {
        let bar = desk.bar(version, None).and_then(|bar| desk.book.bars.get(bar));
        let heard = bar.map(|bar| audible(&bar.events)).unwrap_or_default();
        if !heard.is_empty() && told.iter().all(|(_, other)| *other != heard) {
            told.push((version, heard));
        }
    }
    if told.len() < 2 {
        return Vec::new();
    }
    let mut order: Vec<usize> = told.iter().map(|(version, _)| *version).collect();
    let mut questions = Vec::new();
    while questions.len() < QUESTIONS {
        dice.shuffle(&mut order);
        for answer in order.clone().into_iter().take(QUESTIONS - questions.len()) {
            let mut choices: Vec<usize> = order.iter().copied().filter(|other| *other != answer).collect();
            dice.shuffle(&mut choices);
            choices.truncate(CHOICES - 1);
            choices.push(answer);
            choices.sort_unstable();
            questions.extend(question(desk, questions.len(), answer, &choices));
        }
    }
    questions
}

fn question(desk: &Desk, number: usize, answer: usize, choices: &[usize]) -> Option<Question> {
    Some(Question {
        id: format!("which-{}", number + 1),
        kind: QuestionKind::Which,
        title: desk.words.say("listen-which", &[]),
        line: desk.placed.get(answer)?.version.id.clone(),
        leant: None,
        choices: choices.iter().map(|version| desk.name(*version).to_owned()).collect(),
        answer: choices.iter().position(|choice| *choice == answer)?,
    })
}

/// What of the events is heard: moments, kinds and sounds.
fn audible(events: &[Event]) -> Vec<Event> {
    let sounding = events
        .iter()
        .filter(|event| event.open.is_none() && event.hand.is_none());
    let plain = sounding.map(|event| Event {
        sounds: event.sounds.clone(),
        rest_stroke: event.rest_stroke,
        ..Event::new(event.at, event.kind)
    });
    plain.collect()
}

/// One count of the core's vuelta stands out among the palmas.
fn accents(desk: &Desk, dice: &mut Dice) -> Vec<Question> {
    let Some((core, ground)) = core(desk).and_then(|core| Some((core, desk.ground(core)?))) else {
        return Vec::new();
    };
    let Some(line) = desk.placed.get(core).map(|placed| placed.version.id.clone()) else {
        return Vec::new();
    };
    let mut counts: Vec<usize> = (0..ground.counts.len()).collect();
    dice.shuffle(&mut counts);
    counts.truncate(QUESTIONS);
    let asked = counts.iter().enumerate().filter_map(|(number, answer)| {
        Some(Question {
            id: format!("accent-{}", number + 1),
            kind: QuestionKind::Accent,
            title: desk.words.say("listen-accent", &[]),
            line: line.clone(),
            leant: Some(ground.counts.get(*answer)?.at),
            choices: ground.counts.iter().map(|mark| mark.count.to_string()).collect(),
            answer: *answer,
        })
    });
    asked.collect()
}
