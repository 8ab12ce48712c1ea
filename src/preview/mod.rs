//! 8. A look at the course while the notes are being written.
//!
//! Comes in: the notes folder to watch, and a function that builds the site from it. Goes out: the site on this machine's own
//! address, rebuilt and shown anew whenever a note is saved, with the findings beside the page.
//! This room writes no file, answers nobody but this machine, and knows nothing of notes or pages.
//! Start reading at [`serve`].

/// What is asked: the first lines of a request.
mod request;

/// What is up: files, and what is to be said about the notes.
mod shown;

/// What is answered.
mod answer;

/// The part of a file that a player asks for.
mod range;

/// Sockets and threads.
mod server;

/// Notices that notes were saved.
mod watch;

/// When to end.
mod stop;

use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use serde::Serialize;

pub use stop::Stop;

use crate::disk::Site;
use crate::failure::Failure;
use crate::findings::Severity;
use server::Server;
use shown::Shown;
use watch::Watch;

/// Where to serve, and what to watch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    pub notes: PathBuf,
    /// 0 takes any free one.
    pub port: u16,
}

/// What a build came to.
#[derive(Debug, Default)]
pub struct Built {
    /// None when nothing that can be shown came of it: what is up stays up.
    pub site: Option<Site>,
    pub notices: Vec<Notice>,
}

/// Something to be said beside the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Notice {
    pub severity: Severity,
    /// `tangos.notes.txt:9:5 (0:44)`; empty when it is about no place.
    pub place: String,
    /// The words that it is about.
    pub words: String,
    pub message: String,
    pub help: String,
}

/// What the one at the terminal may want to know.
#[derive(Debug)]
pub enum Told<'a> {
    /// It is up, at this address.
    Serving(&'a str),
    /// A build was made: how long it took, how many files differ, and whether the last good site stays up instead.
    Rebuilt {
        took: Duration,
        changed: usize,
        kept: bool,
        notices: &'a [Notice],
    },
    /// Something that does not stop it.
    Trouble(&'a str),
}

/// Builds, serves, and rebuilds whenever something in the notes folder changes, until told to stop.
pub fn serve(
    settings: &Settings,
    stop: &Stop,
    build: &dyn Fn() -> Built,
    told: &dyn Fn(Told<'_>),
) -> Result<(), Failure> {
    let shown = Arc::new(Shown::default());
    let mut watch = Watch::start(&settings.notes)?;
    if let Some(trouble) = &watch.trouble {
        told(Told::Trouble(trouble));
    }
    let server = Server::start(settings.port, Arc::clone(&shown), stop.clone())?;
    rebuild(&shown, build, told);
    told(Told::Serving(&server.address));
    while watch.wait_for_change(stop) {
        rebuild(&shown, build, told);
    }
    shown.wake();
    server.end();
    Ok(())
}

fn rebuild(shown: &Shown, build: &dyn Fn() -> Built, told: &dyn Fn(Told<'_>)) {
    let begin = Instant::now();
    let Built { site, notices } = build();
    let kept = site.is_none();
    let changed = shown.put(site, notices.clone());
    told(Told::Rebuilt {
        took: begin.elapsed(),
        changed,
        kept,
        notices: &notices,
    });
}
