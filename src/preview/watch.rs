use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant, SystemTime};

use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher};

use super::Stop;
use crate::failure::Failure;

/// An editor saves in several steps: write, rename, set the time. This long after the last of them it is done.
const QUIET: Duration = Duration::from_millis(40);
/// Longest wait for that: some programs write without end.
const LONGEST: Duration = Duration::from_millis(400);
/// How often the folder is looked through. The system tells of changes at once, but not of those on other machines' disks.
const LOOK: Duration = Duration::from_secs(2);
/// How often it is asked whether to stop.
const PULSE: Duration = Duration::from_millis(50);

/// Notices that something in a folder changed.
pub(super) struct Watch {
    folder: PathBuf,
    changes: Receiver<()>,
    /// Kept alive here: it ends when dropped.
    _watcher: Option<RecommendedWatcher>,
    seen: BTreeMap<PathBuf, (u64, Option<SystemTime>)>,
    /// Why changes are noticed only by looking.
    pub(super) trouble: Option<String>,
}

impl Watch {
    pub(super) fn start(folder: &Path) -> Result<Self, Failure> {
        let unreadable = |error: std::io::Error| Failure::Unreadable {
            path: folder.to_path_buf(),
            reason: match error.kind() {
                std::io::ErrorKind::NotFound => "there is no such folder".to_owned(),
                std::io::ErrorKind::NotADirectory => "this is a file; name the folder it lies in".to_owned(),
                _ => error.to_string(),
            },
        };
        fs::read_dir(folder).map_err(unreadable)?;
        let (tell, changes) = channel();
        let (watcher, trouble) = match watcher(folder, tell) {
            Ok(watcher) => (Some(watcher), None),
            Err(error) => (
                None,
                Some(format!(
                    "changes are noticed only every {} seconds: {error}",
                    LOOK.as_secs()
                )),
            ),
        };
        Ok(Self {
            seen: look(folder),
            folder: folder.to_path_buf(),
            changes,
            _watcher: watcher,
            trouble,
        })
    }

    /// Waits for a change, and until it is over. False when told to stop.
    pub(super) fn wait_for_change(&mut self, stop: &Stop) -> bool {
        let mut next_look = Instant::now() + LOOK;
        loop {
            if stop.is_told() {
                return false;
            }
            match self.changes.recv_timeout(PULSE) {
                Ok(()) => {
                    self.until_quiet();
                    self.seen = look(&self.folder);
                    return !stop.is_told();
                }
                Err(RecvTimeoutError::Disconnected) => {
                    if stop.wait(PULSE) {
                        return false;
                    }
                }
                Err(RecvTimeoutError::Timeout) => {}
            }
            if Instant::now() >= next_look {
                let now = look(&self.folder);
                if now != self.seen {
                    self.seen = now;
                    return true;
                }
                next_look = Instant::now() + LOOK;
            }
        }
    }

    fn until_quiet(&self) {
        let end = Instant::now() + LONGEST;
        while Instant::now() < end && self.changes.recv_timeout(QUIET).is_ok() {}
    }
}

/// Reading is no change: our own reading of the notes would set off the next build, and that the next.
fn watcher(folder: &Path, tell: Sender<()>) -> notify::Result<RecommendedWatcher> {
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<Event>| {
        let is_change = event.is_ok_and(|event| !matches!(event.kind, EventKind::Access(_)));
        if is_change {
            // Nobody listens any more when the preview ends.
            let _ = tell.send(());
        }
    })?;
    watcher.watch(folder, RecursiveMode::Recursive)?;
    Ok(watcher)
}

/// Length and time of every file below a folder; folders behind links are not entered.
fn look(folder: &Path) -> BTreeMap<PathBuf, (u64, Option<SystemTime>)> {
    let mut seen = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).into_iter().flatten().flatten();
        for entry in entries {
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if is_folder {
                folders.push(entry.path());
            } else if let Ok(metadata) = fs::metadata(entry.path()) {
                seen.insert(entry.path(), (metadata.len(), metadata.modified().ok()));
            }
        }
    }
    seen
}
