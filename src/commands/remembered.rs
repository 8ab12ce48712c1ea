use std::collections::BTreeMap;
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::disk::{self, KeptFile, Stamp};
use crate::mark::Mark;
use crate::pipeline::Memory;

/// What the last build of a course into a site left for the next: lessons read, and the files of the site with what they were made from.
///
/// It lies in the user's cache folder, because it holds what is private in the notes. Without it, or with one that does not fit,
/// everything is made; the site is the same.
pub(super) struct Remembered {
    path: Option<PathBuf>,
    program: String,
    pub(super) memory: Memory,
    pages: BTreeMap<String, Page>,
}

/// A page of the site, as it was when it was published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
struct Page {
    mark: Mark,
    stamp: Stamp,
}

/// The first part of the file; the memory follows it.
#[derive(Serialize, Deserialize)]
struct Kept {
    program: String,
    pages: BTreeMap<String, Page>,
}

/// Bytes of the length of the first part, in front of it.
const LENGTH: usize = 8;

fn parts(bytes: &[u8]) -> Option<(Kept, &[u8])> {
    let (length, rest) = bytes.split_at_checked(LENGTH)?;
    let length = usize::try_from(u64::from_le_bytes(length.try_into().ok()?)).ok()?;
    let (kept, memory) = rest.split_at_checked(length)?;
    Some((rmp_serde::from_slice(kept).ok()?, memory))
}

fn whole(kept: &Kept, memory: &[u8]) -> Option<Vec<u8>> {
    let kept = rmp_serde::to_vec(kept).ok()?;
    Some([&(kept.len() as u64).to_le_bytes(), kept.as_slice(), memory].concat())
}

impl Remembered {
    pub(super) fn of(notes: &Path, out: &Path) -> Self {
        Self::at(place(notes, out), program())
    }

    fn at(path: Option<PathBuf>, program: String) -> Self {
        let bytes = path.as_deref().and_then(disk::recall).unwrap_or_default();
        let kept = parts(&bytes).filter(|(kept, _)| kept.program == program);
        let (pages, memory) = match kept {
            Some((kept, memory)) => (kept.pages, Memory::from_bytes(&program, memory)),
            None => (BTreeMap::new(), Memory::new(&program)),
        };
        Self {
            path,
            program,
            memory,
            pages,
        }
    }

    /// Whether the page at this address was made from what has this mark, and still stands as it was published.
    pub(super) fn holds(&self, out: &Path, address: &str, mark: Mark) -> bool {
        let page = self.pages.get(address).filter(|page| page.mark == mark);
        page.is_some_and(|page| disk::stands(out, address, page.stamp))
    }

    /// The files of the site that are to stay.
    pub(super) fn files(&self, addresses: Vec<String>) -> Vec<KeptFile> {
        let file = |path: String| {
            let stamp = self.pages.get(&path)?.stamp;
            Some(KeptFile { path, stamp })
        };
        addresses.into_iter().filter_map(file).collect()
    }

    /// Leaves word for the next build. If it cannot, the next build makes everything: that is no reason to fail this one.
    pub(super) fn leave(self, marks: &BTreeMap<String, Mark>, stamps: &BTreeMap<String, Stamp>) {
        let Some(path) = self.path else { return };
        let page = |(address, mark): (&String, &Mark)| {
            let page = Page {
                mark: *mark,
                stamp: *stamps.get(address)?,
            };
            Some((address.clone(), page))
        };
        let kept = Kept {
            program: self.program,
            pages: marks.iter().filter_map(page).collect(),
        };
        if let Some(bytes) = whole(&kept, &self.memory.to_bytes()) {
            let _ = disk::keep(&path, &bytes);
        }
    }
}

/// The file for these notes and this site in the user's cache folder (XDG Base Directory Specification).
fn place(notes: &Path, out: &Path) -> Option<PathBuf> {
    let folder = |name: &str| {
        std::env::var_os(name)
            .map(PathBuf::from)
            .filter(|path| path.is_absolute())
    };
    let cache = folder("XDG_CACHE_HOME").or_else(|| folder("HOME").map(|home| home.join(".cache")))?;
    let real = |path: &Path| path.canonicalize().or_else(|_| std::path::absolute(path)).ok();
    let (notes, out) = (real(notes)?, real(out)?);
    let parts = [notes.as_os_str().as_encoded_bytes(), out.as_os_str().as_encoded_bytes()];
    let name: String = format!("{:?}", Mark::of(&parts)).chars().take(32).collect();
    Some(cache.join("compasario").join(name))
}

/// What differs when the program does: its version, and the file it runs from.
fn program() -> String {
    let file = std::env::current_exe().and_then(|path| path.metadata());
    let file = file
        .map(|file| (file.len(), file.ino(), file.mtime(), file.mtime_nsec()))
        .ok();
    format!("{} {file:?}", env!("CARGO_PKG_VERSION"))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::path::Path;

    use super::{Remembered, disk};
    use crate::disk::{OutputFile, Site};
    use crate::mark::Mark;
    use crate::pipeline;

    #[test]
    fn what_is_left_is_found_by_the_same_program() {
        let directory = tempfile::tempdir().unwrap();
        let (out, path) = (directory.path().join("site"), directory.path().join("cache/file"));
        let at = |program: &str| Remembered::at(Some(path.clone()), program.to_owned());
        let mut first = at("this");
        let notes = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-notes");
        pipeline::review_remembering(&notes, &mut first.memory, &|_, _| {}).unwrap();
        let lessons = first.memory.len();
        let file = OutputFile {
            path: "a.html".to_owned(),
            bytes: b"a".to_vec(),
        };
        let site = Site {
            files: vec![file],
            stamps: true,
            ..Site::default()
        };
        let published = disk::publish(&out, site).unwrap();
        let mark = Mark::of(&[b"what it comes from"]);
        first.leave(&BTreeMap::from([("a.html".to_owned(), mark)]), &published.stamps);

        let second = at("this");
        assert_eq!((second.memory.len(), second.memory.forgotten()), (lessons, 0));
        assert!(second.holds(&out, "a.html", mark));
        assert!(!second.holds(&out, "a.html", Mark::of(&[b"something else"])));
        assert_eq!(second.files(vec!["a.html".to_owned()]).len(), 1);
        std::fs::write(out.join("a.html"), "b").unwrap();
        assert!(!second.holds(&out, "a.html", mark));
        let another = at("another");
        assert!(another.memory.is_empty() && !another.holds(&out, "a.html", mark));
    }
}
