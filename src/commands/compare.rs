use std::path::Path;

use super::{Outcome, Terminal, course};
use crate::cli::{CompareArgs, PageFormat};
use crate::compare::{self, History, RECORD, Record, Side, ToldFinding, Verdict};
use crate::failure::Failure;
use crate::findings::Finding;
use crate::intake::{self, Note};
use crate::pages::{self, Choices, Publication};
use crate::pipeline::{self, Review};
use crate::text::FileId;

pub(super) fn run(args: &CompareArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let (old, new) = (side(&args.old, terminal)?, side(&args.new, terminal)?);
    let comparison = compare::compare(&old, &new, "en");
    let text = match args.format {
        PageFormat::Text => compare::text(&comparison),
        PageFormat::Json => super::json(&comparison)?,
        PageFormat::Html => pages::comparison(&comparison, &old.record, &new.record)?,
    };
    terminal.print(&text)?;
    Ok(if comparison.verdict == Verdict::Nothing {
        Outcome::Fine
    } else {
        Outcome::Found
    })
}

/// A course as a folder of notes, a single note, or a site that holds its record.
fn side(path: &Path, terminal: &Terminal) -> Result<Side, Failure> {
    let record = if path.is_dir() {
        path.join(RECORD)
    } else {
        path.to_path_buf()
    };
    let is_record = record.file_name().is_some_and(|name| name == RECORD);
    if is_record && record.is_file() {
        return recorded(&record);
    }
    let review = pipeline::review_telling(path, &terminal.counting("reading"))?;
    let head = course::head(&review);
    // Lessons are called by the addresses that they hold.
    let history = History::read(&review.folder.history).ok();
    let publication = Publication {
        history: history.as_ref(),
        ..Publication::default()
    };
    let input = course::input(&review, &head, Choices::default(), publication);
    let slugs = pages::slugs(&input);
    let notes = by_lesson(&review, &slugs);
    let of_file = |file: FileId| {
        notes
            .iter()
            .find(|(_, notes)| notes.iter().any(|note| note.file == file))
    };
    let told = |finding: &Finding| {
        let (slug, _) = of_file(finding.place.file)?;
        let told = ToldFinding {
            severity: finding.severity,
            rule: finding.rule.clone(),
            message: finding.message.clone(),
        };
        Some((slug.clone(), told))
    };
    let lines = notes.iter().map(|(slug, notes)| (slug.clone(), lines(notes)));
    Ok(Side {
        record: pages::record(&input),
        findings: Some(review.findings.iter().filter_map(told).collect()),
        lines: Some(lines.collect()),
    })
}

/// The notes of each lesson, under the id that its record has.
fn by_lesson<'a>(review: &'a Review, slugs: &[String]) -> Vec<(String, Vec<&'a Note>)> {
    let groups = intake::lessons(&review.folder);
    let notes = |group: &intake::LessonNotes| {
        let notes = group.notes.iter();
        notes.filter_map(|index| review.folder.notes.get(*index)).collect()
    };
    groups
        .iter()
        .zip(slugs)
        .map(|(group, slug)| (slug.clone(), notes(group)))
        .collect()
}

/// What was written and said, line by line, without what is private.
fn lines(notes: &[&Note]) -> Vec<String> {
    let cues = notes.iter().flat_map(|note| &note.cues).filter(|cue| !cue.private);
    cues.flat_map(|cue| cue.text.lines()).map(str::to_owned).collect()
}

fn recorded(path: &Path) -> Result<Side, Failure> {
    let unreadable = |reason: String| Failure::Unreadable {
        path: path.to_path_buf(),
        reason,
    };
    let text = std::fs::read_to_string(path).map_err(|error| unreadable(error.to_string()))?;
    let record = Record::read(&text).map_err(unreadable)?;
    Ok(Side {
        record,
        findings: None,
        lines: None,
    })
}
