use std::fs;
use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use crate::failure::Failure;

/// A file of the notes folder, in the order of names.
pub(super) enum Found {
    File {
        path: PathBuf,
        name: String,
        bytes: u64,
    },
    /// Passed over, with the reason.
    Skipped {
        name: String,
        reason: String,
    },
    /// Something that could not be looked at.
    Trouble {
        name: String,
        rule: &'static str,
        /// The folder that a link leads back to, or why something cannot be read.
        why: String,
    },
}

/// Everything below a folder. Links are followed; a folder that leads back to itself is trouble, not a trap.
pub(super) fn walk(root: &Path) -> Result<Vec<Found>, Failure> {
    let entries = fs::read_dir(root);
    entries.map_err(|error| Failure::Unreadable {
        path: root.to_path_buf(),
        reason: reason(&error),
    })?;
    let mut found = Vec::new();
    let mut walker = WalkDir::new(root)
        .min_depth(1)
        .follow_links(true)
        .sort_by_file_name()
        .into_iter();
    while let Some(entry) = walker.next() {
        match entry {
            Ok(entry) if is_hidden(&entry) => {
                let directory = entry.file_type().is_dir();
                if directory {
                    walker.skip_current_dir();
                }
                let name = shown_name(root, entry.path()) + if directory { "/" } else { "" };
                let reason = "names that begin with . or _ are left alone".to_owned();
                found.push(Found::Skipped { name, reason });
            }
            Ok(entry) if entry.file_type().is_dir() => {}
            Ok(entry) => found.push(file(root, &entry)),
            Err(error) => found.push(trouble(root, &error)),
        }
    }
    Ok(found)
}

fn is_hidden(entry: &DirEntry) -> bool {
    let name = entry.file_name().as_encoded_bytes();
    name.starts_with(b".") || name.starts_with(b"_")
}

fn file(root: &Path, entry: &DirEntry) -> Found {
    let name = shown_name(root, entry.path());
    if !entry.file_type().is_file() {
        let reason = "it is not an ordinary file".to_owned();
        return Found::Skipped { name, reason };
    }
    match entry.metadata() {
        Ok(metadata) => Found::File {
            path: entry.path().to_path_buf(),
            name,
            bytes: metadata.len(),
        },
        Err(error) => trouble(root, &error),
    }
}

fn trouble(root: &Path, error: &walkdir::Error) -> Found {
    let name = error.path().map_or_else(String::new, |path| shown_name(root, path));
    if let Some(ancestor) = error.loop_ancestor() {
        let up = shown_name(root, ancestor);
        let (rule, why) = ("folder-leads-back", up);
        return Found::Trouble { name, rule, why };
    }
    let why = error.io_error().map_or_else(|| error.to_string(), reason);
    let rule = "file-not-readable";
    Found::Trouble { name, rule, why }
}

/// The name as people see it: from the notes folder on, `/` between.
fn shown_name(root: &Path, path: &Path) -> String {
    let inside = path.strip_prefix(root).unwrap_or(path);
    let parts = inside
        .components()
        .map(|part| part.as_os_str().to_string_lossy().into_owned());
    parts.collect::<Vec<_>>().join("/")
}

/// What went wrong, without the number that the system adds.
pub(super) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        std::io::ErrorKind::PermissionDenied => "no permission to read it".to_owned(),
        _ => error.to_string(),
    }
}
