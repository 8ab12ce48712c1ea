use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::PathBuf;

use anstream::{AutoStream, ColorChoice};
use anstyle::{AnsiColor, Style};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::cli::Colour;
use crate::failure::Failure;
use crate::text::Language;

/// Where a command speaks: results on standard output, everything else on standard error.
pub(super) struct Terminal {
    colour: ColorChoice,
}

impl Terminal {
    pub(super) fn new(colour: Colour) -> Self {
        let colour = match colour {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        Self { colour }
    }

    /// Prints a result. A reader that closed the pipe early has what it wanted.
    pub(super) fn print(&self, text: &str) -> Result<(), Failure> {
        let mut output = AutoStream::new(io::stdout().lock(), self.colour);
        finished(output.write_all(text.as_bytes()).and_then(|()| output.flush()))
    }

    /// Prints bytes as they are: a file for another program.
    pub(super) fn print_bytes(&self, bytes: &[u8]) -> Result<(), Failure> {
        let mut output = io::stdout().lock();
        finished(output.write_all(bytes).and_then(|()| output.flush()))
    }

    /// Standard output is a terminal: bytes of a sound do not belong there.
    pub(super) fn prints_to_a_person(&self) -> bool {
        io::stdout().is_terminal()
    }

    /// Says something beside the result. Nobody can be told when standard error is gone.
    pub(super) fn say(&self, text: &str) {
        let mut output = AutoStream::new(io::stderr().lock(), self.colour);
        let _ = writeln!(output, "{text}");
    }

    /// What the person at the terminal reads: the language of messages, as POSIX says where to look for it.
    pub(super) fn language(&self) -> Language {
        let set = ["LC_ALL", "LC_MESSAGES", "LANG"].map(|name| std::env::var(name).unwrap_or_default());
        let first = set.iter().find(|locale| !locale.is_empty());
        Language::of(first.and_then(|locale| locale.split(['_', '.']).next()).unwrap_or(""))
    }

    /// Columns to write in: those of the terminal between 40 and 100, 80 where there is none.
    pub(super) fn width(&self) -> usize {
        match console_width() {
            Some(columns) => columns.clamp(40, 100),
            None => 80,
        }
    }

    pub(super) fn complain(&self, failure: &Failure) {
        let bold = Style::new().bold().fg_color(Some(AnsiColor::Red.into()));
        self.say(&format!("{bold}compasario:{bold:#} {failure}"));
    }

    /// A bar for work that counts its steps; invisible when nobody watches, and gone when all are done.
    pub(super) fn counting(&self, what: &'static str) -> impl Fn(usize, usize) + Sync + use<> {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr_with_hz(10));
        let style = ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}");
        bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
        bar.set_message(what);
        move |done, all| {
            bar.set_length(all as u64);
            bar.inc(1);
            if done == all {
                bar.finish_and_clear();
            }
        }
    }
}

fn finished(written: io::Result<()>) -> Result<(), Failure> {
    match written {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Unwritable {
            path: PathBuf::from("standard output"),
            reason: error.to_string(),
        }),
        _ => Ok(()),
    }
}

fn console_width() -> Option<usize> {
    let size = rustix::termios::tcgetwinsize(io::stdout()).ok()?;
    Some(usize::from(size.ws_col)).filter(|columns| *columns > 0)
}
