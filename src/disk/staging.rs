use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::Path;

use super::calls::{Calls, Stamp};
use super::marker::{MARKER, OldSite, marker};
use super::places::{Places, unwritable};
use super::{OutputFile, Site};
use crate::failure::Failure;

/// Up to this many new files are brought to the disk one by one; more of them all at once.
const ONE_BY_ONE: usize = 64;

/// What the new site has in common with the old one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Staged {
    pub(super) written: usize,
    pub(super) kept: usize,
    /// The old site is the new one already; nothing was staged.
    pub(super) same: bool,
    pub(super) stamps: BTreeMap<String, Stamp>,
}

/// Makes the new site beside the old one.
pub(super) fn stage(calls: &Calls<'_>, places: &Places, site: &Site, old: &OldSite) -> Result<Staged, Failure> {
    let failed = |error: io::Error| unwritable(&places.site, &error);
    let mut same = same_files(calls, places, site, old).map_err(failed)?;
    same.extend(kept_files(calls, places, site, old)?);
    let all = site.names().count();
    let marker = OutputFile {
        path: MARKER.to_owned(),
        bytes: marker(site),
    };
    let same_marker = calls.holds(&places.site.join(MARKER), &marker.bytes).map_err(failed)?;
    if same_marker && same.len() == all && old.names().all(|name| same.contains(name.as_str())) {
        return Ok(Staged {
            written: 0,
            kept: all,
            same: true,
            stamps: stamps(calls, &places.site, site).map_err(failed)?,
        });
    }
    let mut staging = Staging {
        calls,
        places,
        folders: BTreeSet::new(),
        written: Vec::new(),
    };
    staging.fill(site, &marker, &same).map_err(failed)?;
    if !site.hasty {
        staging.sync().map_err(failed)?;
    }
    let written = staging.written.len() - 1;
    Ok(Staged {
        written,
        kept: all - written,
        same: false,
        stamps: stamps(calls, &places.new, site).map_err(failed)?,
    })
}

fn stamps(calls: &Calls<'_>, folder: &Path, site: &Site) -> io::Result<BTreeMap<String, Stamp>> {
    let names = site.names().filter(|_| site.stamps);
    names
        .map(|name| Ok((name.clone(), calls.stamp(&folder.join(name))?)))
        .collect()
}

/// The files that are to stay as they are, if they still are so.
fn kept_files<'a>(calls: &Calls<'_>, places: &Places, site: &'a Site, old: &OldSite) -> Result<Vec<&'a str>, Failure> {
    let known: BTreeSet<&String> = old.names().collect();
    let mut kept = Vec::new();
    for file in &site.kept {
        let path = places.site.join(&file.path);
        let stands = calls
            .stands(&path, file.stamp)
            .map_err(|error| unwritable(&path, &error))?;
        if !stands || !known.contains(&file.path) {
            return Err(Failure::Refused(format!(
                "{}: {} was changed while the site was being built; build it again",
                places.site.display(),
                file.path
            )));
        }
        kept.push(file.path.as_str());
    }
    Ok(kept)
}

/// The names of the files that the old site holds already, byte for byte.
fn same_files<'a>(calls: &Calls<'_>, places: &Places, site: &'a Site, old: &OldSite) -> io::Result<BTreeSet<&'a str>> {
    let OldSite::Ours(names) = old else {
        return Ok(BTreeSet::new());
    };
    let mut same = BTreeSet::new();
    for file in site.files.iter().filter(|file| names.contains(&file.path)) {
        if calls.holds(&places.site.join(&file.path), &file.bytes)? {
            same.insert(file.path.as_str());
        }
    }
    for copy in site.copies.iter().filter(|copy| names.contains(&copy.path)) {
        if calls.same(&copy.from, &places.site.join(&copy.path))? {
            same.insert(copy.path.as_str());
        }
    }
    Ok(same)
}

struct Staging<'a> {
    calls: &'a Calls<'a>,
    places: &'a Places,
    /// Folders made, relative to the site; the site itself is `""`.
    folders: BTreeSet<String>,
    /// Files with bytes of their own, not links.
    written: Vec<String>,
}

impl Staging<'_> {
    /// The marker goes first: from then on the folder is known to be ours.
    fn fill(&mut self, site: &Site, marker: &OutputFile, same: &BTreeSet<&str>) -> io::Result<()> {
        self.calls.make_folder(&self.places.new)?;
        self.folders.insert(String::new());
        self.write(marker)?;
        for file in &site.files {
            self.folders_for(&file.path)?;
            if !same.contains(file.path.as_str()) || !self.link(&file.path) {
                self.write(file)?;
            }
        }
        for copy in &site.copies {
            self.folders_for(&copy.path)?;
            if !same.contains(copy.path.as_str()) || !self.link(&copy.path) {
                self.calls.copy(&copy.from, &self.places.new.join(&copy.path))?;
                self.written.push(copy.path.clone());
            }
        }
        for kept in &site.kept {
            self.folders_for(&kept.path)?;
            if !self.link(&kept.path) {
                let (from, to) = (self.places.site.join(&kept.path), self.places.new.join(&kept.path));
                self.calls.copy(&from, &to)?;
                self.written.push(kept.path.clone());
            }
        }
        Ok(())
    }

    fn write(&mut self, file: &OutputFile) -> io::Result<()> {
        self.calls.write(&self.places.new.join(&file.path), &file.bytes)?;
        self.written.push(file.path.clone());
        Ok(())
    }

    /// A file system without links, or one that has enough of them for this file, gets a file of its own.
    fn link(&self, name: &str) -> bool {
        let linked = self
            .calls
            .link(&self.places.site.join(name), &self.places.new.join(name));
        linked.is_ok()
    }

    fn folders_for(&mut self, name: &str) -> io::Result<()> {
        let above = name.match_indices('/').filter_map(|(at, _)| name.get(..at));
        for folder in above {
            if self.folders.insert(folder.to_owned()) {
                self.calls.make_folder(&self.places.new.join(folder))?;
            }
        }
        Ok(())
    }

    fn sync(&self) -> io::Result<()> {
        let new: &Path = &self.places.new;
        if self.written.len() > ONE_BY_ONE {
            return self.calls.sync_all(new);
        }
        let names = self.written.iter().chain(&self.folders);
        names.into_iter().try_for_each(|name| self.calls.sync(&new.join(name)))
    }
}
