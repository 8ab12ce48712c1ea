use std::fs::{self, DirBuilder, Permissions};
use std::io::{self, Write};
use std::os::unix::fs::{DirBuilderExt, PermissionsExt};
use std::path::Path;

/// As many files are kept; a teacher has a few courses, and what is not kept is worked out again.
const MOST_KEPT: usize = 24;

/// Keeps bytes for the next run, for this user's eyes only: they may hold what is private in the notes.
///
/// The file is there whole or not at all. Of those beside it, the ones that were written longest ago are removed when there are many.
pub fn keep(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.persist(path).map_err(|error| error.error)?;
    forget(folder);
    Ok(())
}

/// Puts a file where it belongs, in place of the one that is there: the whole of it, or nothing. Not touched when it is the same.
pub fn put(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let before = fs::metadata(path).ok();
    if before.is_some() && fs::read(path).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    let mode = before.map_or(MODE, |before| before.permissions().mode());
    file.as_file().set_permissions(Permissions::from_mode(mode))?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|error| error.error)?;
    Ok(())
}

/// Of a file that was not there before: anyone may read it, its owner may write it.
const MODE: u32 = 0o644;

/// What was kept; None when there is nothing, or nothing that can be read.
pub fn recall(path: &Path) -> Option<Vec<u8>> {
    fs::read(path).ok()
}

/// Removes all but the files that were written last.
fn forget(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let written = |entry: fs::DirEntry| Some((entry.metadata().ok()?.modified().ok()?, entry.path()));
    let mut files: Vec<_> = entries.filter_map(written).collect();
    files.sort();
    let many = files.len().saturating_sub(MOST_KEPT);
    for (_, path) in files.iter().take(many) {
        // What cannot be removed is in nobody's way.
        let _ = fs::remove_file(path);
    }
}
