use std::path::Path;

use super::remembered::Remembered;
use super::{Outcome, Terminal, check, course, plan};
use crate::cli::BuildArgs;
use crate::compare::History;
use crate::disk::{self, How, Published};
use crate::failure::Failure;
use crate::findings::{Severity, Tally};
use crate::intake::HISTORY;
use crate::pages::{Choices, Publication};
use crate::pipeline::{self, Review};

pub(super) fn run(args: &BuildArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    disk::keep_apart(&args.notes, &args.out)?;
    let mut remembered = Remembered::of(&args.notes, &args.out);
    let reading = terminal.counting("reading");
    let review = pipeline::review_remembering(&args.notes, &mut remembered.memory, &reading)?;
    say_findings(&review, terminal);
    let errors = Tally::of(&review.findings).errors;
    if args.strict && errors > 0 {
        let (them, verb) = if errors == 1 { ("it", "is") } else { ("them", "are") };
        terminal.say(&format!("Nothing was published: with --strict there may be no error, and there {verb} {errors}. Put {them} right first."));
        return Ok(Outcome::Found);
    }
    let choices = Choices {
        strict: args.strict,
        copy_recordings: args.copy_recordings,
    };
    let holds = |address: &str, mark| remembered.holds(&args.out, address, mark);
    let history = known_history(args, &review)?;
    let date = plan::first_day(args.date.as_deref())?.map(|date| date.to_string());
    let base_url = args.base_url.as_deref().map(base_url).transpose()?;
    let publication = Publication {
        history: history.as_ref(),
        date: date.as_deref(),
        base_url: base_url.as_deref(),
    };
    let mut made = course::make(&args.notes, &review, choices, publication, &holds)?;
    if args.keep_history && date.is_none() && made.history != history.clone().unwrap_or_default() {
        return Err(Failure::Refused(
            "a history is kept by the day: say which with --date YYYY-MM-DD, or set SOURCE_DATE_EPOCH".to_owned(),
        ));
    }
    let (lessons, unreviewed) = (made.lessons, made.unreviewed);
    made.site.kept = remembered.files(made.kept);
    made.site.stamps = true;
    let published = disk::publish(&args.out, made.site)?;
    terminal.print(&summary(&args.out, lessons, &published))?;
    remembered.leave(&made.marks, &published.stamps);
    if args.keep_history {
        keep_history(args, &made.history)?;
    }
    terminal.print(&reservations(&review, args.strict, unreviewed, errors))?;
    Ok(if errors > 0 { Outcome::Found } else { Outcome::Fine })
}

/// The history that the notes folder holds; an empty one where one is to be begun.
fn known_history(args: &BuildArgs, review: &Review) -> Result<Option<History>, Failure> {
    let text = review.folder.history.as_str();
    if text.is_empty() {
        return Ok(args.keep_history.then(History::default));
    }
    let refused = |reason: String| {
        let path = args.notes.join(HISTORY).display().to_string();
        Failure::Refused(format!(
            "{path}: {reason}. Put back the copy that you have, or move it away to begin anew"
        ))
    };
    History::read(text).map(Some).map_err(refused)
}

/// After the site, so that a history never tells of what was not published.
fn keep_history(args: &BuildArgs, history: &History) -> Result<(), Failure> {
    let path = args.notes.join(HISTORY);
    disk::put(&path, history.to_text().as_bytes()).map_err(|error| Failure::Unwritable {
        reason: format!("the site is published, but its history could not be kept: {error}"),
        path,
    })
}

/// With a `/` at its end, and nothing behind the path.
fn base_url(typed: &str) -> Result<String, Failure> {
    let plain = |text: &str| !text.contains(|letter: char| letter.is_whitespace() || "<>\"'?#\\".contains(letter));
    let rest = typed.strip_prefix("https://").or(typed.strip_prefix("http://"));
    match rest.filter(|rest| !rest.is_empty() && !rest.starts_with('/') && plain(rest)) {
        Some(_) => Ok(format!("{}/", typed.trim_end_matches('/'))),
        None => Err(Failure::Refused(format!(
            "`{typed}` is no address of a site: write it as https://example.org/course/"
        ))),
    }
}

/// Errors and warnings in full; notes are for `check`.
fn say_findings(review: &Review, terminal: &Terminal) {
    let serious = |finding: &&crate::findings::Finding| finding.severity > Severity::Note;
    let findings: Vec<_> = review.findings.iter().filter(serious).cloned().collect();
    if !findings.is_empty() {
        terminal.say(check::shown(&findings, review, terminal).trim_end());
    }
    for (name, reason) in &review.folder.skipped {
        terminal.say(&format!("passed over {name}: {reason}"));
    }
}

/// `demo-site: 10 lessons in 44 files (12 new, 32 as they were)`
fn summary(out: &Path, lessons: usize, published: &Published) -> String {
    let files = published.written + published.kept;
    let mut changes = Vec::new();
    match published.how {
        How::Untouched => changes.push("nothing changed".to_owned()),
        How::First => {}
        How::Exchanged | How::Renamed => {
            changes.push(format!("{} new", published.written));
            changes.push(format!("{} as they were", published.kept));
            if published.gone > 0 {
                changes.push(format!("{} gone", published.gone));
            }
        }
    }
    let changes = if changes.is_empty() {
        String::new()
    } else {
        format!(" ({})", changes.join(", "))
    };
    format!(
        "{}: {} in {files} files{changes}\n",
        out.display(),
        counted(lessons, "lesson")
    )
}

/// What the one who publishes should know.
fn reservations(review: &Review, strict: bool, unreviewed: usize, errors: usize) -> String {
    let mut text = String::new();
    if errors > 0 {
        text.push_str(&format!(
            "Published despite {}; compasario check shows them.\n",
            counted(errors, "error")
        ));
    }
    if unreviewed > 0 {
        let what = counted(unreviewed, "lesson");
        let names = review.lessons.iter().filter(|lesson| lesson.reviewed.is_none());
        let mut names: Vec<&str> = names.map(|lesson| lesson.id.as_str()).collect();
        if names.len() > LISTED {
            names.truncate(LISTED);
            names.push("…");
        }
        let (end, names) = (
            if strict {
                "left out"
            } else {
                "published, and the page says so"
            },
            names.join(", "),
        );
        text.push_str(&format!("{what} not yet reviewed ({end}): {names}\n"));
    }
    text
}

/// Most lessons that are listed by name.
const LISTED: usize = 12;

fn counted(count: usize, thing: &str) -> String {
    format!("{count} {thing}{}", if count == 1 { "" } else { "s" })
}
