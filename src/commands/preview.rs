use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use super::{Outcome, Terminal, check, course};
use crate::cli::PreviewArgs;
use crate::compare::History;
use crate::disk::{KeptFile, Stamp};
use crate::failure::Failure;
use crate::findings::{Finding, Severity};
use crate::intake;
use crate::mark::Mark;
use crate::pages::{Choices, Publication};
use crate::pipeline::{self, Memory, Review};
use crate::preview::{self, Built, Notice, Settings, Stop, Told};

pub(super) fn run(args: &PreviewArgs, terminal: &Terminal) -> Result<Outcome, Failure> {
    let settings = Settings {
        notes: args.notes.clone(),
        port: args.port,
    };
    let stop = Stop::when_interrupted()?;
    let up = RefCell::new(Up::default());
    let build = || build(args, terminal, &mut up.borrow_mut());
    preview::serve(&settings, &stop, &build, &|told| tell(&told, terminal))?;
    terminal.say("The preview has ended.");
    Ok(Outcome::Fine)
}

fn tell(told: &Told<'_>, terminal: &Terminal) {
    match told {
        Told::Serving(address) => {
            terminal.say(&format!(
                "The course is at {address} and follows your changes. Ctrl-C ends it."
            ));
        }
        Told::Rebuilt {
            took, changed, kept, ..
        } => {
            let state = if *kept {
                "not shown: the last good course stays up".to_owned()
            } else {
                format!("{changed} files differ")
            };
            terminal.say(&format!("Built in {:.2} s; {state}.", took.as_secs_f64()));
        }
        Told::Trouble(words) => terminal.say(words),
    }
}

/// What is up, and what was worked out for it.
#[derive(Default)]
struct Up {
    lessons: BTreeSet<String>,
    memory: Memory,
    pages: BTreeMap<String, Mark>,
}

/// Reads and builds what differs from what is up.
fn build(args: &PreviewArgs, terminal: &Terminal, up: &mut Up) -> Built {
    let review = match pipeline::review_remembering(&args.notes, &mut up.memory, &|_, _| {}) {
        Ok(review) => review,
        Err(failure) => return failed(&failure, terminal),
    };
    let shown: Vec<Finding> = review
        .findings
        .iter()
        .filter(|finding| finding.severity > Severity::Note)
        .cloned()
        .collect();
    if !shown.is_empty() {
        terminal.say(check::shown(&shown, &review, terminal).trim_end());
    }
    let notices: Vec<Notice> = shown.iter().map(|finding| notice(finding, &review)).collect();
    let now: BTreeSet<String> = review.lessons.iter().map(|lesson| lesson.id.clone()).collect();
    if is_broken(&review) && !up.lessons.is_subset(&now) {
        return Built { site: None, notices };
    }
    let choices = Choices {
        strict: false,
        copy_recordings: true,
    };
    // A history that cannot be read is for `build` to complain of.
    let history = History::read(&review.folder.history).ok();
    let publication = Publication {
        history: history.as_ref().filter(|_| !review.folder.history.is_empty()),
        ..Publication::default()
    };
    let holds = |address: &str, mark| up.pages.get(address) == Some(&mark);
    match course::make(&args.notes, &review, choices, publication, &holds) {
        Ok(mut made) => {
            let kept = made.kept.into_iter().map(|path| KeptFile {
                path,
                stamp: Stamp::default(),
            });
            made.site.kept = kept.collect();
            up.lessons = now;
            up.pages = made.marks;
            Built {
                site: Some(made.site),
                notices,
            }
        }
        Err(failure) => failed(&failure, terminal),
    }
}

/// A note of the folder cannot be read: with a lesson gone, that is why.
fn is_broken(review: &Review) -> bool {
    let of_a_file = |finding: &Finding| {
        let rule = intake::RULES.iter().find(|rule| rule.id == finding.rule);
        rule.is_some_and(|rule| rule.id.starts_with("file-") || rule.id == "note-empty")
    };
    review.findings.iter().any(of_a_file)
}

fn failed(failure: &Failure, terminal: &Terminal) -> Built {
    terminal.complain(failure);
    Built {
        site: None,
        notices: vec![Notice {
            severity: Severity::Error,
            place: String::new(),
            words: String::new(),
            message: failure.to_string(),
            help: String::new(),
        }],
    }
}

/// Most letters of a note's words that stand beside a page.
const LONGEST_WORDS: usize = 120;

fn notice(finding: &Finding, review: &Review) -> Notice {
    let place = &finding.place;
    let source = review.folder.files.get(place.file.0 as usize);
    let name = source.map_or("", |source| source.name.as_str());
    let time = place.time.map(|time| format!(" ({time})")).unwrap_or_default();
    let words = source.map_or("", |source| source.slice(place.span));
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    Notice {
        severity: finding.severity,
        place: format!("{name}:{}:{}{time}", place.line, place.column),
        words: words.chars().take(LONGEST_WORDS).collect(),
        message: finding.message.clone(),
        help: finding.help.clone(),
    }
}
