use serde::Serialize;

use crate::findings::{Finding, Severity};
use crate::intake::Folder;
use crate::music::lesson::Lesson;
use crate::text::{FileId, Place, SourceText};

/// Letters of a line shown before and behind the words pointed at.
const BESIDE: usize = 80;

/// A finding, with the words it points at.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// `error`, `warning` or `note`: the key of its label.
    pub severity: &'static str,
    pub rule: String,
    pub message: String,
    pub help: String,
    pub words: Words,
    pub also: Vec<Words>,
    /// Why it is let stand; empty where it is not.
    pub reason: String,
}

/// A line of a note, cut into what stands before the words pointed at, the words, and what stands behind.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Words {
    pub file: String,
    pub line: u32,
    pub time: Option<String>,
    pub before: String,
    pub marked: String,
    pub behind: String,
    pub why: String,
    /// It plainly carries music.
    pub musical: bool,
}

pub(super) fn told(finding: &Finding, folder: &Folder) -> Told {
    let also = finding.also.iter();
    Told {
        severity: severity(finding.severity),
        rule: finding.rule.clone(),
        message: finding.message.clone(),
        help: finding.help.clone(),
        words: words(folder, &finding.place, String::new(), true),
        also: also
            .map(|(place, why)| words(folder, place, why.clone(), false))
            .collect(),
        reason: String::new(),
    }
}

pub(super) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

fn source(folder: &Folder, file: FileId) -> Option<&SourceText> {
    folder.files.get(file.0 as usize)
}

/// The words at a place within their line, cut between letters, never inside one.
pub(super) fn words(folder: &Folder, place: &Place, why: String, musical: bool) -> Words {
    let source = source(folder, place.file).filter(|_| place.line > 0);
    let marked = source.map_or("", |source| source.slice(place.span));
    let marked = marked.lines().next().unwrap_or("").trim_end().to_owned();
    let line = source.map_or("", |source| source.line(place.line));
    let (before, behind) = line
        .split_once(marked.as_str())
        .filter(|_| !marked.is_empty())
        .unwrap_or((line, ""));
    let (before, behind) = source.map_or((before, behind), |source| {
        around(source, place, line, &marked).unwrap_or((before, behind))
    });
    Words {
        file: source.map_or(String::new(), |source| source.name.clone()),
        line: place.line,
        time: place.time.map(|time| time.to_string()),
        before: last_letters(before),
        behind: first_letters(behind),
        marked,
        why,
        musical,
    }
}

/// What stands on the line before and behind the span.
fn around<'a>(source: &'a SourceText, place: &Place, line: &'a str, marked: &str) -> Option<(&'a str, &'a str)> {
    let text = source.text.as_str();
    let start = text.get(..place.span.start)?.rfind('\n').map_or(0, |at| at + 1);
    let at = place.span.start.checked_sub(start)?;
    Some((line.get(..at)?, line.get(at + marked.len()..)?))
}

fn last_letters(text: &str) -> String {
    let letters = text.chars().count();
    if letters <= BESIDE {
        return text.to_owned();
    }
    let kept: String = text.chars().skip(letters - BESIDE).collect();
    format!("… {}", kept.split_once(' ').map_or(kept.as_str(), |(_, rest)| rest))
}

fn first_letters(text: &str) -> String {
    if text.chars().count() <= BESIDE {
        return text.to_owned();
    }
    let kept: String = text.chars().take(BESIDE).collect();
    format!("{} …", kept.rsplit_once(' ').map_or(kept.as_str(), |(first, _)| first))
}

/// The files of a lesson, from what was read in it.
pub(super) fn file_names(lesson: &Lesson, folder: &Folder) -> Vec<String> {
    let mut files: Vec<FileId> = lesson.readings.iter().map(|reading| reading.place.file).collect();
    files.sort();
    files.dedup();
    let names = files.iter().filter_map(|file| source(folder, *file));
    names.map(|source| source.name.clone()).collect()
}
