use std::path::Path;

use super::remembered::Remembered;
use super::{Outcome, Terminal, check, course};
use crate::cli::BuildArgs;
use crate::disk::{self, How, Published};
use crate::failure::Failure;
use crate::findings::{Severity, Tally};
use crate::pages::Choices;
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
    let mut made = course::make(&args.notes, &review, choices, &holds)?;
    let (lessons, unreviewed) = (made.lessons, made.unreviewed);
    made.site.kept = remembered.files(made.kept);
    made.site.stamps = true;
    let published = disk::publish(&args.out, made.site)?;
    terminal.print(&summary(&args.out, lessons, &published))?;
    remembered.leave(&made.marks, &published.stamps);
    terminal.print(&reservations(&review, args.strict, unreviewed, errors))?;
    Ok(if errors > 0 { Outcome::Found } else { Outcome::Fine })
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
