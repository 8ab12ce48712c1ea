//! The only writer: pages and exports are values until they come here.
//!
//! Comes in: files as values, and the folder that is to hold them. Goes out: that folder, complete, or as it was.
//! This room never looks into a file, and never touches anything but the site, its two neighbours and its lock.
//! Start reading at [`publish`].
//!
//! **How a site is replaced.** With `site` the folder asked for, its neighbours are `.site.compasario-new` (the site being made),
//! `.site.compasario-old` (used only where a file system cannot exchange two folders) and `.site.compasario-lock`.
//! 1. The lock is taken: one build at a time.
//! 2. What a killed build left is cleared away, or put back.
//! 3. The folder asked for has to be missing, empty, or ours: with the marker, and nothing in it that a build did not write.
//! 4. The new site is made beside it. Files that are the same, byte for byte, are hard links to the old ones.
//! 5. Everything is brought to the disk, and the two folders exchange names in one step of the kernel.
//! 6. The old site is removed.
//!
//! A kill before step 5 leaves the old site, a kill after it the new one. Where the kernel or the file system has no exchange,
//! step 5 is two renames: killed between them, the whole old site stands beside under its neighbour's name, and the next build
//! puts it back first.

/// Calls of the file system: all of them go through here, so that a test can stop at each.
mod calls;

/// Which names a site may hold, and where its neighbours are.
mod places;

/// One build at a time.
mod lock;

/// The file that says that a folder is ours, and what we wrote into it.
mod marker;

/// Making the new site beside the old one.
mod staging;

/// Exchanging the two, and clearing up.
mod swap;

/// What is kept for the next run.
mod keeping;

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

pub use calls::{Call, Stamp, When};
pub use keeping::{keep, put, recall};
pub use places::keep_apart;

use crate::failure::Failure;
use calls::Calls;
use places::Places;

/// A file to be written, its path relative to the output folder, with `/`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct OutputFile {
    pub path: String,
    pub bytes: Vec<u8>,
}

/// A file to be copied into the site as it is, a recording say: too large to be a value.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct CopiedFile {
    /// Relative to the output folder, with `/`.
    pub path: String,
    pub from: PathBuf,
}

/// A file of the site that is there, which is to stay as it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeptFile {
    /// Relative to the output folder, with `/`.
    pub path: String,
    /// What it was when it was last looked at. Another stamp is another file, and then nothing is published.
    pub stamp: Stamp,
}

/// What is to be in the site, and how careful to be.
#[derive(Debug, Clone, Default)]
pub struct Site {
    pub files: Vec<OutputFile>,
    pub copies: Vec<CopiedFile>,
    pub kept: Vec<KeptFile>,
    /// The notes, which the site may neither lie in nor hold.
    pub notes: Option<PathBuf>,
    /// Leave it to the system when the bytes reach the disk: for a preview, where a loss of power costs nothing.
    pub hasty: bool,
    /// Take the stamps of all files, so that the next build may keep them.
    pub stamps: bool,
}

/// What publishing did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Published {
    /// Files with new bytes.
    pub written: usize,
    /// Files that stayed as they were.
    pub kept: usize,
    /// Files of the old site that are gone.
    pub gone: usize,
    pub how: How,
    /// Of each file, if they were asked for.
    pub stamps: BTreeMap<String, Stamp>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum How {
    /// Nothing differed, nothing was touched.
    #[default]
    Untouched,
    /// There was no site before.
    First,
    /// The kernel exchanged the folders in one step.
    Exchanged,
    /// Two renames, where it cannot.
    Renamed,
}

impl Site {
    /// The name of everything that is to be in it.
    fn names(&self) -> impl Iterator<Item = &String> {
        let files = self.files.iter().map(|file| &file.path);
        let copies = self.copies.iter().map(|copy| &copy.path);
        files.chain(copies).chain(self.kept.iter().map(|kept| &kept.path))
    }
}

/// True when the file that had this stamp still stands in the site.
pub fn stands(out: &Path, path: &str, stamp: Stamp) -> bool {
    Calls::new(&|_| Ok(())).stands(&out.join(path), stamp).unwrap_or(false)
}

/// Makes `out` the site: wholly, or not at all.
pub fn publish(out: &Path, site: Site) -> Result<Published, Failure> {
    publish_told(out, site, &|_| Ok(()))
}

/// [`publish`], telling each call of the file system before and after it is made. What it is answered with an error fails
/// with it: so a test stops, kills or fills the disk at any point.
pub fn publish_told(out: &Path, site: Site, told: &dyn Fn(&Call<'_>) -> io::Result<()>) -> Result<Published, Failure> {
    let calls = Calls::new(told);
    let site = places::checked(site)?;
    if let Some(notes) = &site.notes {
        keep_apart(notes, out)?;
    }
    let places = Places::find(&calls, out)?;
    let _lock = lock::take(&calls, &places)?;
    swap::recover(&calls, &places)?;
    let old = marker::old_site(&calls, &places)?;
    let staged = staging::stage(&calls, &places, &site, &old);
    let published = staged.and_then(|staged| swap::exchange(&calls, &places, &site, &old, staged));
    if published.is_err() {
        swap::clear_new(&calls, &places);
    }
    published
}
