use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};

use super::Site;
use super::calls::{Calls, Stands};
use super::marker::MARKER;
use crate::failure::Failure;

/// The site and what may stand beside it while it is made.
#[derive(Debug, Clone)]
pub(super) struct Places {
    pub(super) site: PathBuf,
    pub(super) parent: PathBuf,
    pub(super) new: PathBuf,
    pub(super) old: PathBuf,
    pub(super) lock: PathBuf,
}

impl Places {
    /// Where `out` really is: a link to a folder is followed, missing folders above it are made.
    pub(super) fn find(calls: &Calls<'_>, out: &Path) -> Result<Self, Failure> {
        let refused = |why: &str| Failure::Refused(format!("{}: {why}", out.display()));
        let real = match calls.real_path(out) {
            Ok(real) => real,
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let name = out.file_name().ok_or_else(|| refused("this is no name for a folder"))?;
                let parent = out
                    .parent()
                    .filter(|parent| !parent.as_os_str().is_empty())
                    .unwrap_or(Path::new("."));
                calls
                    .make_folders_to(parent)
                    .map_err(|error| unwritable(parent, &error))?;
                let parent = calls.real_path(parent).map_err(|error| unwritable(parent, &error))?;
                parent.join(name)
            }
            Err(error) => return Err(unwritable(out, &error)),
        };
        let (Some(parent), Some(name)) = (real.parent(), real.file_name()) else {
            return Err(refused("a site cannot take the place of the whole file system"));
        };
        let stands = calls.look(&real).map_err(|error| unwritable(&real, &error))?;
        if matches!(stands, Stands::File { .. } | Stands::Other) {
            return Err(refused("this is a file; the site needs a folder of its own"));
        }
        let beside = |what: &str| {
            let mut neighbour = OsString::from(".");
            neighbour.push(name);
            neighbour.push(format!(".compasario-{what}"));
            parent.join(neighbour)
        };
        Ok(Self {
            site: real.clone(),
            parent: parent.to_path_buf(),
            new: beside("new"),
            old: beside("old"),
            lock: beside("lock"),
        })
    }
}

/// Refuses a site inside the notes (it would be read as notes, and set off its own rebuilding), and notes inside the site (they would be replaced).
pub fn keep_apart(notes: &Path, out: &Path) -> Result<(), Failure> {
    let real = |path: &Path| -> PathBuf {
        let mut missing = Vec::new();
        let mut here = path;
        loop {
            match (here.canonicalize(), here.file_name(), here.parent()) {
                (Ok(real), _, _) => {
                    return missing
                        .iter()
                        .rev()
                        .fold(real, |path: PathBuf, name: &OsString| path.join(name));
                }
                (Err(_), Some(name), Some(parent)) => {
                    missing.push(name.to_os_string());
                    here = if parent.as_os_str().is_empty() {
                        Path::new(".")
                    } else {
                        parent
                    };
                }
                (Err(_), _, _) => return path.to_path_buf(),
            }
        }
    };
    let (notes_path, out_path) = (real(notes), real(out));
    if out_path.starts_with(&notes_path) {
        return Err(Failure::Refused(format!(
            "{} lies in the notes folder {}; make the site in a folder outside it",
            out.display(),
            notes.display()
        )));
    }
    if notes_path.starts_with(&out_path) {
        return Err(Failure::Refused(format!(
            "{} holds the notes folder {}, and a build replaces all that is in the site; make the site in another folder",
            out.display(),
            notes.display()
        )));
    }
    Ok(())
}

/// The site with its files in order, if all their names may stand in one.
pub(super) fn checked(mut site: Site) -> Result<Site, Failure> {
    site.files.sort_by(|one, two| one.path.cmp(&two.path));
    site.copies.sort();
    site.kept.sort();
    let mut taken: BTreeMap<String, &str> = BTreeMap::new();
    for name in site.names() {
        check_name(name)?;
        if let Some(other) = taken.insert(name.to_lowercase(), name) {
            return Err(misnamed(name, &format!("it has the name of {other}")));
        }
    }
    for name in taken.keys() {
        let above = name.match_indices('/').filter_map(|(at, _)| name.get(..at));
        for folder in above {
            if taken.contains_key(folder) {
                return Err(misnamed(name, &format!("{folder} is a file")));
            }
        }
    }
    Ok(site)
}

fn check_name(name: &str) -> Result<(), Failure> {
    let sound = |part: &str| !part.is_empty() && part != "." && part != ".." && part.len() <= 255;
    if !name.split('/').all(sound) {
        return Err(misnamed(name, "it would not lie in the site"));
    }
    if name.chars().any(|letter| letter.is_control() || letter == '\\') {
        return Err(misnamed(name, "it holds a letter that no file of a site may have"));
    }
    if name.eq_ignore_ascii_case(MARKER) {
        return Err(misnamed(name, "that name is the marker's"));
    }
    Ok(())
}

fn misnamed(name: &str, why: &str) -> Failure {
    Failure::Refused(format!("the file {name:?} cannot be published: {why}"))
}

/// What kept a path from being written, in words.
pub(super) fn unwritable(path: &Path, error: &io::Error) -> Failure {
    let reason = match error.kind() {
        io::ErrorKind::PermissionDenied => "no permission to write here".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "this can only be read, not written".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::QuotaExceeded => "no more space may be used here".to_owned(),
        _ => error.to_string(),
    };
    Failure::Unwritable {
        path: path.to_path_buf(),
        reason,
    }
}

#[cfg(test)]
mod tests {
    use super::{Site, checked};
    use crate::disk::OutputFile;

    fn check(names: &[&str]) -> Result<(), String> {
        let file = |name: &&str| OutputFile {
            path: (*name).to_owned(),
            bytes: Vec::new(),
        };
        let site = Site {
            files: names.iter().map(file).collect(),
            ..Site::default()
        };
        checked(site).map(|_| ()).map_err(|failure| failure.to_string())
    }

    #[test]
    fn names_that_leave_the_site_or_clash_are_refused() {
        assert_eq!(check(&["index.html", "a/b.html", "a/b.css", "a b/ñ <x>.html"]), Ok(()));
        for names in [
            &["../x"][..],
            &["/x"],
            &["a/../x"],
            &["a//x"],
            &["a/"],
            &[""],
            &["."],
            &["a\\b"],
            &["a\nb"],
            &["a\0b"],
            &[".compasario-site"],
            &["a", "a"],
            &["a", "A"],
            &["a", "a/b"],
        ] {
            assert!(check(names).is_err(), "{names:?}");
        }
    }
}
