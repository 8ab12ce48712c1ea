use std::fs::File;
use std::io;

use super::calls::Calls;
use super::places::{Places, unwritable};
use crate::failure::Failure;

/// Held while a site is replaced. The kernel lets go of it when the program ends, however it ends.
pub(super) struct Lock<'a> {
    calls: &'a Calls<'a>,
    places: &'a Places,
    file: File,
}

/// Takes the lock, or refuses: another build is at work.
pub(super) fn take<'a>(calls: &'a Calls<'a>, places: &'a Places) -> Result<Lock<'a>, Failure> {
    let failed = |error: &io::Error| match error.kind() {
        io::ErrorKind::WouldBlock => Failure::Refused(format!(
            "{}: another build is writing this site; wait until it is done",
            places.site.display()
        )),
        _ => unwritable(&places.parent, error),
    };
    loop {
        let file = calls.open_lock(&places.lock).map_err(|error| failed(&error))?;
        calls.lock(&places.lock, &file).map_err(|error| failed(&error))?;
        // The one who held it before may have removed the file that we opened.
        if calls.is_at(&file, &places.lock).map_err(|error| failed(&error))? {
            return Ok(Lock { calls, places, file });
        }
    }
}

impl Drop for Lock<'_> {
    /// A lock file that stays is taken over by the next build, so nothing is lost when it cannot be removed. Unlocked by
    /// name: a process begun meanwhile holds the open file too, until it runs a program of its own.
    fn drop(&mut self) {
        let _ = self.calls.remove_file(&self.places.lock);
        self.calls.unlock(&self.file);
    }
}
