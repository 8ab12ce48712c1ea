use std::fs::{self, DirBuilder};
use std::io::{self, Write};
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::time::{Duration, SystemTime};

/// What nobody asked for in this long is forgotten.
const FORGOTTEN_AFTER: Duration = Duration::from_secs(60 * 24 * 60 * 60);

/// Keeps bytes for the next run, for this user's eyes only: they may hold what is private in the notes.
///
/// The file is there whole or not at all. What lies beside it unused for two months is removed.
pub fn keep(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.persist(path).map_err(|error| error.error)?;
    forget(folder);
    Ok(())
}

/// What was kept; None when there is nothing, or nothing that can be read.
pub fn recall(path: &Path) -> Option<Vec<u8>> {
    fs::read(path).ok()
}

fn forget(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let old = entries.filter(|entry| {
        let modified = entry.metadata().and_then(|metadata| metadata.modified());
        let age = modified
            .ok()
            .and_then(|modified| SystemTime::now().duration_since(modified).ok());
        age.is_some_and(|age| age > FORGOTTEN_AFTER)
    });
    for entry in old {
        // What cannot be removed is in nobody's way.
        let _ = fs::remove_file(entry.path());
    }
}
