use std::fs;
use std::path::Path;

use super::{Outcome, Terminal};
use crate::checks::{self, Rule};
use crate::cli::{CheckArgs, CheckFormat};
use crate::failure::Failure;
use crate::findings::human::{self, Showing};
use crate::findings::{Finding, Tally, Words, json};
use crate::pages;
use crate::pipeline::{self, Review};
use crate::report;
use crate::text::Language;

/// Notes of this check are many in a transcript and say little one by one: `read` shows them in their place.
const COUNTED: &[&str] = &["sentence-not-understood"];

pub(super) fn run(args: &CheckArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    match (&args.explain, &args.notes) {
        (Some(id), _) => explain(id, terminal),
        (None, Some(notes)) => check(notes, args, terminal),
        (None, None) => Err(Failure::Refused("name a folder of notes or a note".to_owned())),
    }
}

fn check(notes: &Path, args: &CheckArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let review = pipeline::review_in_its_folder(notes, &terminal.counting("reading"))?;
    let text = match args.format {
        CheckFormat::Json => super::json(&json::report(&review.findings, &review.folder.files))?,
        CheckFormat::Text => text(&review, terminal),
        CheckFormat::Html => page(&review)?,
    };
    match &args.out {
        Some(path) => fs::write(path, text).map_err(|error| Failure::Unwritable {
            path: path.clone(),
            reason: error.to_string(),
        })?,
        None => terminal.print(&text)?,
    }
    Ok(if Tally::of(&review.findings).errors > 0 {
        Outcome::Found
    } else {
        Outcome::Fine
    })
}

/// Findings as a person reads them.
pub(super) fn shown(findings: &[Finding], review: &Review, terminal: &Terminal) -> String {
    let why = |finding: &Finding| checks::find(&finding.rule).map(|rule| rule.matters(finding.language));
    let showing = Showing {
        files: &review.folder.files,
        width: terminal.width(),
        why: &why,
        counted: COUNTED,
    };
    human::show(findings, &showing)
}

/// The teacher's report, in the language of the course.
fn page(review: &Review) -> Result<String, Failure> {
    let report = report::report(&report::Input {
        folder: &review.folder,
        lessons: &review.lessons,
        palos: &review.palos,
        findings: &review.findings,
        let_stand: &review.let_stand,
    });
    pages::report(&report, &review.folder.course.language)
}

fn text(review: &Review, terminal: &Terminal) -> String {
    let mut text = shown(&review.findings, review, terminal);
    let words = Words::of(language_of(review));
    let summary = human::summary(&review.findings, review.let_stand.len(), COUNTED, words);
    if !summary.is_empty() {
        text.push_str(&summary);
        text.push('\n');
    }
    text
}

/// What is summed up is said in the language of most notes.
fn language_of(review: &Review) -> Language {
    let spanish = review.lessons.iter().filter(|lesson| lesson.language == "es").count();
    if spanish * 2 > review.lessons.len() {
        Language::Spanish
    } else {
        Language::English
    }
}

/// No note is at hand that would say which language is spoken: the terminal's is.
fn explain(id: &str, terminal: &Terminal) -> Result<Outcome, Failure> {
    let words = Words::of(terminal.language());
    let rule = checks::find(id);
    let rule = rule.ok_or_else(|| {
        let near = checks::suggestion(id, words);
        Failure::Refused(words.phrase("explain_no_check", &[("id", &id), ("near", &near)]))
    })?;
    terminal.print(&explanation(&rule, words, terminal.width()))?;
    Ok(Outcome::Fine)
}

fn explanation(rule: &Rule, words: &Words, width: usize) -> String {
    let severity = human::word(rule.severity, words);
    let example = |note: &str| -> String { note.lines().map(|line| format!("    {line}\n")).collect() };
    format!(
        "{id} ({severity}; {family})\n\n{finds}\n\n{matters}\n\n{a_note}\n\n{trips}\n{the_same}\n\n{right}\n{meant}\n",
        id = rule.id,
        family = words.phrase(rule.family.key(), &[]),
        finds = human::wrap(rule.finds(words.language), width),
        matters = human::wrap(rule.matters(words.language), width),
        a_note = words.phrase("explain_trips", &[]),
        trips = example(rule.example.trips),
        the_same = words.phrase("explain_right", &[]),
        right = example(rule.example.right),
        meant = words.phrase("explain_meant", &[("id", &rule.id)]),
    )
}

/// The checks by family: the end of `check --help`.
pub(super) fn table_of_contents() -> String {
    let mut text = String::from("The checks, for --explain:\n");
    let mut family = None;
    for rule in checks::rules() {
        if family != Some(rule.family) {
            family = Some(rule.family);
            let title = Words::of(Language::English).phrase(rule.family.key(), &[]);
            text.push_str(&format!("\n  {title}\n"));
        }
        text.push_str(&format!("    {}\n", rule.id));
    }
    text
}
