//! Lines and words. Spacing is no difference, nor is the order in which lines stand.

use schemars::JsonSchema;
use serde::Serialize;
use similar::{ChangeTag, TextDiff};

/// A line that differs; one that was reworded has both sides.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineChange {
    /// Empty for a line that is new.
    pub was: Vec<WordRun>,
    /// Empty for a line that is gone.
    pub is: Vec<WordRun>,
}

/// Some words of a line, and whether the other side has them too.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WordRun {
    pub text: String,
    pub differs: bool,
}

/// From this part of its words on, a line is the same line reworded. A figure of ours.
const REWORDED: f32 = 0.4;

pub(super) fn differences(old: &[String], new: &[String]) -> Vec<LineChange> {
    let (old, new) = (clean(old), clean(new));
    let diff = TextDiff::from_slices(
        &old.iter().map(String::as_str).collect::<Vec<_>>(),
        &new.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    let (mut gone, mut fresh): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for change in diff.iter_all_changes() {
        match change.tag() {
            ChangeTag::Delete => gone.push(change.value().to_owned()),
            ChangeTag::Insert => fresh.push(change.value().to_owned()),
            ChangeTag::Equal => {}
        }
    }
    // A line that only moved is on both sides.
    gone.retain(|line| match fresh.iter().position(|other| other == line) {
        Some(at) => {
            fresh.remove(at);
            false
        }
        None => true,
    });
    let mut found = Vec::new();
    for line in fresh {
        let likeness = |other: &String| TextDiff::from_words(other.as_str(), line.as_str()).ratio();
        let best = gone.iter().enumerate().map(|(index, other)| (index, likeness(other)));
        let best = best.filter(|(_, like)| *like >= REWORDED);
        // Of equals the earlier one.
        let best = best.fold(None, |best: Option<(usize, f32)>, next| match best {
            Some(best) if best.1 >= next.1 => Some(best),
            Some(_) | None => Some(next),
        });
        found.push(match best {
            Some((index, _)) => words(&gone.remove(index), &line),
            None => words("", &line),
        });
    }
    found.extend(gone.iter().map(|line| words(line, "")));
    found
}

/// Lines with single spaces, without the empty ones.
fn clean(lines: &[String]) -> Vec<String> {
    let lines = lines
        .iter()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect()
}

fn words(was: &str, is: &str) -> LineChange {
    let mut change = LineChange {
        was: Vec::new(),
        is: Vec::new(),
    };
    let push = |runs: &mut Vec<WordRun>, text: &str, differs: bool| match runs.last_mut() {
        Some(run) if run.differs == differs => run.text.push_str(text),
        Some(_) | None => runs.push(WordRun {
            text: text.to_owned(),
            differs,
        }),
    };
    for part in TextDiff::from_words(was, is).iter_all_changes() {
        match part.tag() {
            ChangeTag::Delete => push(&mut change.was, part.value(), true),
            ChangeTag::Insert => push(&mut change.is, part.value(), true),
            ChangeTag::Equal => {
                push(&mut change.was, part.value(), false);
                push(&mut change.is, part.value(), false);
            }
        }
    }
    change
}
