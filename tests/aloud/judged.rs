//! What was read, held against what was said.

use compasario::music::lesson::Lesson;
use compasario::music::pattern::{Pattern, Role};
use compasario::music::stroke::{Action, Stroke as Read};

use crate::told::{Said, Stroke, Told};

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tally {
    pub said: usize,
    pub right: usize,
    /// Not read, or read without all that was said of it.
    pub open: usize,
    /// Read as something that was not said, or read without having been said.
    pub wrong: usize,
}

impl Tally {
    pub fn add(&mut self, other: Tally) {
        self.said += other.said;
        self.right += other.right;
        self.open += other.open;
        self.wrong += other.wrong;
    }
}

/// One form's figure in one text, and what went wrong in words.
pub struct Verdict {
    pub said: usize,
    pub tally: Tally,
    pub faults: Vec<String>,
}

enum Outcome {
    Right,
    Open(&'static str),
    Wrong,
}

/// A verdict for each thing said. What was read without having been said counts against the words it was read from.
pub fn judged(told: &Told, lesson: &Lesson) -> Vec<Verdict> {
    let mut verdicts: Vec<Verdict> = (0..told.said.len())
        .map(|said| Verdict {
            said,
            tally: Tally::default(),
            faults: Vec::new(),
        })
        .collect();
    let patterns = paired(lesson, told);
    for (number, pattern) in patterns.iter().enumerate() {
        let mut left: Vec<&Read> = pattern.iter().flat_map(|pattern| &pattern.strokes).collect();
        for (said, verdict) in told
            .said
            .iter()
            .zip(&mut verdicts)
            .filter(|(said, _)| said.pattern == number)
        {
            for stroke in &said.strokes {
                let outcome = taken(stroke, &mut left);
                count(verdict, outcome, &words(stroke));
            }
            if let Some((at, chord)) = &said.chord {
                let changes = pattern.iter().flat_map(|pattern| &pattern.changes);
                let there = changes
                    .filter(|change| change.at == *at)
                    .map(|change| change.chord.to_string())
                    .next();
                let outcome = match there {
                    None => Outcome::Open("missing"),
                    Some(read) if read == *chord => Outcome::Right,
                    Some(_) => Outcome::Wrong,
                };
                count(verdict, outcome, &format!("{at}: ({chord})"));
            }
            if let Some(span) = said.span {
                let read = pattern
                    .and_then(|pattern| pattern.span)
                    .map(|span| (span.first, span.last));
                let outcome = match read {
                    None => Outcome::Open("missing"),
                    Some(read) if read == span => Outcome::Right,
                    Some(_) => Outcome::Wrong,
                };
                count(verdict, outcome, &format!("replaces {}-{}", span.0, span.1));
            }
        }
        for read in left {
            blame(
                told,
                &mut verdicts,
                read.place.span.start,
                format!("not said: {}", read_words(read)),
            );
        }
    }
    let beyond = lesson
        .patterns
        .iter()
        .filter(|pattern| !patterns.iter().flatten().any(|known| std::ptr::eq(*known, *pattern)));
    for read in beyond.flat_map(|pattern| &pattern.strokes) {
        blame(
            told,
            &mut verdicts,
            read.place.span.start,
            format!("in a pattern of its own: {}", read_words(read)),
        );
    }
    let said_changes = |at, chord: &str| {
        told.said.iter().any(|said| {
            said.chord
                .as_ref()
                .is_some_and(|(when, name)| *when == at && name == chord)
        })
    };
    for change in lesson.patterns.iter().flat_map(|pattern| &pattern.changes) {
        if !said_changes(change.at, &change.chord.to_string()) {
            blame(
                told,
                &mut verdicts,
                change.place.span.start,
                format!("not said: {}: ({})", change.at, change.chord),
            );
        }
    }
    verdicts
}

/// The pattern read for each that was said: the core, then the others in their order.
fn paired<'a>(lesson: &'a Lesson, told: &Told) -> Vec<Option<&'a Pattern>> {
    let mut paired = vec![lesson.patterns.iter().find(|pattern| pattern.role == Role::Core)];
    let others = lesson.patterns.iter().filter(|pattern| pattern.role != Role::Core);
    let last = told.said.iter().map(|said| said.pattern).max().unwrap_or(0);
    paired.extend(others.map(Some).chain(std::iter::repeat(None)).take(last));
    paired
}

/// Takes the stroke out of those read that is the one said.
fn taken(said: &Stroke, left: &mut Vec<&Read>) -> Outcome {
    let there = |read: &&Read| read.at == said.at && action(read.action) == said.action;
    let Some(index) = left.iter().position(there) else {
        return Outcome::Open("missing");
    };
    let read = left.remove(index);
    let fingers_unsaid = said.fingers.is_empty() && said.action == Action::Golpe;
    let contradicts = !read.fingers.is_empty() && read.fingers != said.fingers && !fingers_unsaid
        || !read.strings.is_empty() && read.strings != said.strings
        || read.fret.is_some() && read.fret != said.fret;
    let short =
        read.fingers.len() < said.fingers.len() || read.strings.len() < said.strings.len() || read.fret != said.fret;
    match (contradicts, short) {
        (true, _) => Outcome::Wrong,
        (_, true) => Outcome::Open("without all that was said of it"),
        _ => Outcome::Right,
    }
}

fn action(read: Action) -> Action {
    if read == Action::Picado { Action::Pluck } else { read }
}

fn count(verdict: &mut Verdict, outcome: Outcome, words: &str) {
    verdict.tally.said += 1;
    match outcome {
        Outcome::Right => verdict.tally.right += 1,
        Outcome::Open(why) => {
            verdict.tally.open += 1;
            verdict.faults.push(format!("{why}: {words}"));
        }
        Outcome::Wrong => {
            verdict.tally.wrong += 1;
            verdict.faults.push(format!("read otherwise: {words}"));
        }
    }
}

/// What was read without having been said stands against the words that hold its place.
fn blame(told: &Told, verdicts: &mut [Verdict], start: usize, fault: String) {
    let holds = |said: &Said| said.range.start <= start;
    let index = told.said.iter().rposition(holds).unwrap_or(0);
    if let Some(verdict) = verdicts.get_mut(index) {
        verdict.tally.wrong += 1;
        verdict.faults.push(fault);
    }
}

fn words(stroke: &Stroke) -> String {
    let Stroke {
        at,
        action,
        fingers,
        strings,
        fret,
    } = stroke;
    written(&at.to_string(), *action, fingers, strings, *fret)
}

fn read_words(read: &Read) -> String {
    written(
        &read.at.to_string(),
        read.action,
        &read.fingers,
        &read.strings,
        read.fret,
    )
}

fn written(
    at: &str,
    action: Action,
    fingers: &[compasario::music::hand::Finger],
    strings: &[u8],
    fret: Option<u8>,
) -> String {
    let mut words = format!("{at}: {}", format!("{action:?}").to_lowercase());
    fingers
        .iter()
        .for_each(|finger| words.push_str(&format!(" {}", finger.letter())));
    strings.iter().for_each(|string| words.push_str(&format!(" s{string}")));
    words.push_str(&fret.map_or(String::new(), |fret| format!(" f{fret}")));
    words
}
