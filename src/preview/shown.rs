use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use super::Notice;
use crate::disk::Site;

/// What is up, for all threads.
#[derive(Debug, Default)]
pub(super) struct Shown {
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Debug, Default)]
struct State {
    /// Counts what was put up.
    version: u64,
    files: BTreeMap<String, Arc<Vec<u8>>>,
    copies: BTreeMap<String, PathBuf>,
    /// A mark of everything that every page uses: styles, scripts.
    shared: String,
    news: News,
}

/// What is said beside the page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct News {
    pub(super) notices: Arc<Vec<Notice>>,
    /// The notes as they are could not be shown; what is up is older.
    pub(super) kept: bool,
}

/// A file that is up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Up {
    Bytes(Arc<Vec<u8>>),
    /// Served from where it is: a recording.
    File(PathBuf),
}

/// Files below this are part of every page.
const SHARED: &str = "assets/";

impl Shown {
    fn state(&self) -> MutexGuard<'_, State> {
        // A thread that panicked leaves whole values behind: they are put in one step.
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts up a site, or leaves the one that is up, with what is to be said. How many files differ.
    pub(super) fn put(&self, site: Option<Site>, notices: Vec<Notice>) -> usize {
        let mut state = self.state();
        state.news = News {
            notices: Arc::new(notices),
            kept: site.is_none() && !state.files.is_empty(),
        };
        let changed = site.map_or(0, |site| state.replace(site));
        state.version += 1;
        drop(state);
        self.changed.notify_all();
        changed
    }

    pub(super) fn find(&self, path: &str) -> Option<Up> {
        let state = self.state();
        let file = state.files.get(path).map(|bytes| Up::Bytes(Arc::clone(bytes)));
        file.or_else(|| state.copies.get(path).cloned().map(Up::File))
    }

    /// True when something is up below this folder.
    pub(super) fn is_folder(&self, folder: &str) -> bool {
        let state = self.state();
        let below = format!("{folder}/");
        let next = state.files.range(below.clone()..).next();
        next.is_some_and(|(path, _)| path.starts_with(&below))
    }

    /// Nothing was ever built.
    pub(super) fn is_empty(&self) -> bool {
        self.state().files.is_empty()
    }

    /// A mark of a page and all that it uses: another mark, another page.
    pub(super) fn mark(&self, path: &str) -> String {
        let state = self.state();
        let page = state
            .files
            .get(path)
            .map_or("missing".to_owned(), |bytes| mark(&[bytes]));
        format!("{page}-{}", state.shared)
    }

    pub(super) fn news(&self) -> (u64, News) {
        let state = self.state();
        (state.version, state.news.clone())
    }

    /// Waits until something newer than this version is up, or the time is over.
    pub(super) fn wait_past(&self, version: u64, time: Duration) {
        let state = self.state();
        let _ = self
            .changed
            .wait_timeout_while(state, time, |state| state.version <= version);
    }

    /// Wakes whoever waits, so that they look whether it is time to stop.
    pub(super) fn wake(&self) {
        self.state().version += 1;
        self.changed.notify_all();
    }
}

impl State {
    fn replace(&mut self, site: Site) -> usize {
        let before = std::mem::take(&mut self.files);
        for file in site.files {
            // Bytes that are the same stay the same value, so that a large site does not lie in memory twice.
            let bytes = match before.get(&file.path) {
                Some(bytes) if **bytes == file.bytes => Arc::clone(bytes),
                _ => Arc::new(file.bytes),
            };
            self.files.insert(file.path, bytes);
        }
        for kept in site.kept {
            if let Some(bytes) = before.get(&kept.path) {
                self.files.insert(kept.path, Arc::clone(bytes));
            }
        }
        self.copies = site.copies.into_iter().map(|copy| (copy.path, copy.from)).collect();
        let shared: Vec<&Arc<Vec<u8>>> = self
            .files
            .iter()
            .filter(|(path, _)| path.starts_with(SHARED))
            .map(|(_, bytes)| bytes)
            .collect();
        self.shared = mark(&shared);
        let differs = |path: &&String| self.files.get(*path) != before.get(*path);
        let gone = before.keys().filter(|path| !self.files.contains_key(*path)).count();
        self.files.keys().filter(differs).count() + gone
    }
}

fn mark(parts: &[&Arc<Vec<u8>>]) -> String {
    let mut hasher = blake3::Hasher::new();
    for part in parts {
        hasher.update(&(part.len() as u64).to_le_bytes());
        hasher.update(part);
    }
    hasher.finalize().to_hex().chars().take(16).collect()
}
