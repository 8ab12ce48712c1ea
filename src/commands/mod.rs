//! The front desk: what was typed, told as a short story with the rooms.
//!
//! Comes in: the command line. Goes out: text on the terminal and an exit status.
//! One file a command; no file here knows any music.

/// Standard output and the terminal's colour, progress and width.
mod terminal;

/// A course made ready to be published or shown.
mod course;

/// What the last build left for the next.
mod remembered;

mod build;
mod check;
mod compare;
mod completions;
mod draft;
mod export;
mod manual;
mod plan;
mod preview;
mod read;
mod schema;
mod track;

use std::path::Path;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches};

use crate::cli::{Cli, Command};
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::pipeline::Review;
use terminal::Terminal;

/// How a command that could do its work ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Nothing of severity error, no difference. Exit status 0.
    Fine,
    /// Findings of severity error, or differences. Exit status 1.
    Found,
}

const FINE: u8 = 0;
const FOUND: u8 = 1;
const UNUSABLE: u8 = 2;

/// The whole program.
pub fn main() -> ExitCode {
    let matches = command_line().get_matches();
    let cli = Cli::from_arg_matches(&matches).unwrap_or_else(|error| error.exit());
    let terminal = Terminal::new(cli.color);
    ExitCode::from(match run(&cli.command, &terminal) {
        Ok(Outcome::Fine) => FINE,
        Ok(Outcome::Found) => FOUND,
        Err(failure) => {
            terminal.complain(&failure);
            UNUSABLE
        }
    })
}

/// The command line with what the rooms have to say about themselves.
fn command_line() -> clap::Command {
    Cli::command().mut_subcommand("check", |check| check.after_long_help(check::table_of_contents()))
}

fn run(command: &Command, terminal: &Terminal) -> Result<Outcome, Failure> {
    match command {
        Command::Build(args) => build::run(args, terminal),
        Command::Check(args) => check::run(args, terminal),
        Command::Read(args) => read::run(args, terminal),
        Command::Draft(args) => draft::run(args, terminal),
        Command::Compare(args) => compare::run(args, terminal),
        Command::Preview(args) => preview::run(args, terminal),
        Command::Plan(args) => plan::run(args, terminal),
        Command::Export(args) => export::run(args, terminal),
        Command::Schema(args) => schema::run(args, terminal),
        Command::Completions(args) => completions::run(args, terminal),
        Command::Manual => manual::run(terminal),
    }
}

/// JSON as we print it: indented, with a line end.
fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    let mut text = serde_json::to_string_pretty(value).map_err(|error| Failure::Refused(error.to_string()))?;
    text.push('\n');
    Ok(text)
}

/// The one lesson that a command works on.
fn the_lesson<'a>(note: &Path, review: &'a Review) -> Result<&'a Lesson, Failure> {
    match review.lessons.as_slice() {
        [lesson] => Ok(lesson),
        _ => Err(Failure::Refused(format!(
            "{}: name one note, not a folder of several lessons",
            note.display()
        ))),
    }
}

/// The same lesson as it may leave the house: nothing private is in it.
fn the_published_lesson<'a>(note: &Path, review: &'a Review) -> Result<&'a Lesson, Failure> {
    match review.published.as_slice() {
        [lesson] => Ok(lesson),
        _ => Err(Failure::Refused(format!(
            "{}: name one note, not a folder of several lessons",
            note.display()
        ))),
    }
}

/// What a lesson is called: its title, or its name.
fn title(lesson: &Lesson) -> &str {
    let title = lesson.title.as_ref().map(|title| title.value.trim());
    title.filter(|title| !title.is_empty()).unwrap_or(lesson.id.as_str())
}
