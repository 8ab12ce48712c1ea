//! The teacher's report: all that is to be looked at before a course is published, lesson by lesson.
//!
//! Comes in: a folder's lessons, what was found in them, what is let stand. Goes out: one value, for `pages` to print.
//! This room never judges: `checks` did. What it tells is for the teacher's eyes and is never part of the site.
//! Start reading at [`report`].

/// A finding with the words it points at.
mod told;

/// Which counts of the compás a lesson fills.
mod coverage;

/// What the lessons say together.
mod together;

use std::collections::BTreeMap;

use serde::Serialize;

pub use coverage::{Cell, CellState, Coverage, Row};
pub use together::{Together, TwoWays, Used};
pub use told::{Told, Words};

use crate::checks::{self, Rule};
use crate::findings::{self, Finding, Severity};
use crate::intake::{self, Folder};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::text::Language;

/// What the report is made from.
pub struct Input<'a> {
    pub folder: &'a Folder,
    /// With what stands in private cues.
    pub lessons: &'a [Lesson],
    pub palos: &'a PaloTable,
    pub findings: &'a [Finding],
    pub let_stand: &'a [(Finding, String)],
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    pub course: String,
    pub counts: Counts,
    pub lessons: Vec<LessonReport>,
    /// Found in files that are no lesson's: the teacher's own palos, words, course.
    pub files: Vec<Told>,
    pub together: Together,
    /// Every check, by family; those that found something say how often.
    pub families: Vec<FamilyOfChecks>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Counts {
    pub errors: usize,
    pub warnings: usize,
    pub notes: usize,
    pub let_stand: usize,
    pub not_understood: usize,
    pub implied: usize,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LessonReport {
    pub id: String,
    pub title: String,
    pub language: String,
    pub files: Vec<String>,
    pub reviewed: Option<String>,
    pub counts: Counts,
    pub findings: Vec<Told>,
    pub let_stand: Vec<Told>,
    pub not_understood: Vec<Words>,
    pub questions: Vec<Words>,
    /// What was not said but follows, with the rule it follows by; once for each rule and line.
    pub implied: Vec<Words>,
    pub coverage: Coverage,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FamilyOfChecks {
    pub title: String,
    pub checks: Vec<CheckExplained>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckExplained {
    pub id: &'static str,
    pub severity: &'static str,
    pub finds: &'static str,
    pub matters: &'static str,
    pub trips: &'static str,
    pub right: &'static str,
    pub found: usize,
}

/// Sentences of this check are listed apart, with why nothing was read from them.
const APART: &str = "sentence-not-understood";

pub fn report(input: &Input) -> Report {
    let groups = intake::lessons(input.folder);
    let mut owner: BTreeMap<u32, &str> = BTreeMap::new();
    for group in &groups {
        let notes = group.notes.iter().filter_map(|index| input.folder.notes.get(*index));
        owner.extend(notes.map(|note| (note.file.0, group.id.as_str())));
    }
    let of_file = |finding: &Finding| owner.get(&finding.place.file.0).copied();
    let lessons: Vec<LessonReport> = input
        .lessons
        .iter()
        .map(|lesson| lesson_report(lesson, input, &|finding| of_file(finding) == Some(lesson.id.as_str())))
        .collect();
    let elsewhere = |finding: &&Finding| {
        let id = of_file(finding);
        !input.lessons.iter().any(|lesson| id == Some(lesson.id.as_str()))
    };
    let files = input.findings.iter().filter(elsewhere);
    let mut counts = count(&input.findings.iter().collect::<Vec<_>>());
    counts.let_stand = input.let_stand.len();
    counts.not_understood = lessons.iter().map(|lesson| lesson.counts.not_understood).sum();
    counts.implied = lessons.iter().map(|lesson| lesson.counts.implied).sum();
    Report {
        course: input.folder.course.title.clone(),
        counts,
        files: files.map(|finding| told::told(finding, input.folder)).collect(),
        together: together::together(input.lessons),
        families: families(input.findings, Language::of(&input.folder.course.language)),
        lessons,
    }
}

fn lesson_report(lesson: &Lesson, input: &Input, own: &dyn Fn(&Finding) -> bool) -> LessonReport {
    let folder = input.folder;
    let findings: Vec<&Finding> = input.findings.iter().filter(|finding| own(finding)).collect();
    let let_stand = input.let_stand.iter().filter(|(finding, _)| own(finding));
    let let_stand: Vec<Told> = let_stand
        .map(|(finding, reason)| Told {
            reason: reason.clone(),
            ..told::told(finding, folder)
        })
        .collect();
    let mut not_understood: Vec<_> = lesson.unread.iter().collect();
    not_understood.sort_by_key(|unread| (!unread.musical, unread.place));
    let not_understood: Vec<Words> = not_understood
        .iter()
        .map(|unread| told::words(folder, &unread.place, unread.reason.clone(), unread.musical))
        .collect();
    let implied = implied(lesson, folder);
    let counts = Counts {
        let_stand: let_stand.len(),
        not_understood: not_understood.len(),
        implied: implied.len(),
        ..count(&findings)
    };
    let shown = findings.iter().filter(|finding| finding.rule != APART);
    let mut shown: Vec<&&Finding> = shown.collect();
    shown.sort_by_key(|finding| (std::cmp::Reverse(finding.severity), finding.place));
    LessonReport {
        id: lesson.id.clone(),
        title: lesson
            .title
            .as_ref()
            .map_or(lesson.id.clone(), |title| title.value.clone()),
        language: lesson.language.clone(),
        files: told::file_names(lesson, folder),
        reviewed: lesson.reviewed.as_ref().map(|date| date.value.clone()),
        counts,
        findings: shown.iter().map(|finding| told::told(finding, folder)).collect(),
        let_stand,
        not_understood,
        questions: lesson
            .questions
            .iter()
            .map(|question| told::words(folder, &question.place, question.value.clone(), true))
            .collect(),
        implied,
        coverage: coverage::coverage(lesson, input.palos),
    }
}

/// What follows by one rule from one line is told once.
fn implied(lesson: &Lesson, folder: &Folder) -> Vec<Words> {
    let mut implied: Vec<(Words, Vec<String>)> = Vec::new();
    for reading in &lesson.readings {
        let Some(rule) = &reading.implied else { continue };
        let words = told::words(folder, &reading.place, rule.clone(), false);
        match implied
            .last_mut()
            .filter(|(last, _)| (last.line, &last.why, &last.file) == (words.line, rule, &words.file))
        {
            Some((_, read)) => read.push(reading.what.clone()),
            None => implied.push((words, vec![reading.what.clone()])),
        }
    }
    let whole = |(words, read): (Words, Vec<String>)| Words {
        why: format!("{} ({})", read.join("; "), words.why),
        ..words
    };
    implied.into_iter().map(whole).collect()
}

fn count(findings: &[&Finding]) -> Counts {
    let of = |severity: Severity| {
        let own = |finding: &&&Finding| finding.severity == severity && finding.rule != APART;
        findings.iter().filter(own).count()
    };
    Counts {
        errors: of(Severity::Error),
        warnings: of(Severity::Warning),
        notes: of(Severity::Note),
        ..Counts::default()
    }
}

fn families(findings: &[Finding], language: Language) -> Vec<FamilyOfChecks> {
    let mut families: Vec<FamilyOfChecks> = Vec::new();
    for rule in checks::rules() {
        let title = findings::Words::of(language).phrase(rule.family.key(), &[]);
        let check = explained(&rule, findings, language);
        match families.iter_mut().find(|family| family.title == title) {
            Some(family) => family.checks.push(check),
            None => families.push(FamilyOfChecks {
                title,
                checks: vec![check],
            }),
        }
    }
    families
}

fn explained(rule: &Rule, findings: &[Finding], language: Language) -> CheckExplained {
    CheckExplained {
        id: rule.id,
        severity: told::severity(rule.severity),
        finds: rule.finds(language),
        matters: rule.matters(language),
        trips: rule.example.trips,
        right: rule.example.right,
        found: findings.iter().filter(|finding| finding.rule == rule.id).count(),
    }
}
