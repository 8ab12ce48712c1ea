use std::collections::BTreeSet;
use std::io;
use std::path::Path;

use super::calls::{Calls, Stands};
use super::marker::{OldSite, is_ours};
use super::places::{Places, unwritable};
use super::staging::Staged;
use super::{How, Published, Site};
use crate::failure::Failure;

/// Puts the new site in the old one's place and removes the old one.
pub(super) fn exchange(
    calls: &Calls<'_>,
    places: &Places,
    site: &Site,
    old: &OldSite,
    staged: Staged,
) -> Result<Published, Failure> {
    let same = staged.same;
    let published = |how| Published {
        written: staged.written,
        kept: staged.kept,
        gone: gone(site, old),
        how,
        stamps: staged.stamps,
    };
    if same {
        return Ok(published(How::Untouched));
    }
    let how = put_in_place(calls, places, old).map_err(|error| unwritable(&places.site, &error))?;
    // The site is in its place. What is left to do cannot fail it: the next build clears up what stays.
    if !site.hasty {
        let _ = calls.sync(&places.parent);
    }
    let _ = remove(calls, &places.new);
    let _ = remove(calls, &places.old);
    Ok(published(how))
}

fn gone(site: &Site, old: &OldSite) -> usize {
    let stays: BTreeSet<&String> = site.names().collect();
    old.names().filter(|name| !stays.contains(name)).count()
}

fn put_in_place(calls: &Calls<'_>, places: &Places, old: &OldSite) -> io::Result<How> {
    if *old == OldSite::Missing {
        calls.rename(&places.new, &places.site)?;
        return Ok(How::First);
    }
    let how = match calls.exchange(&places.new, &places.site) {
        Ok(()) => How::Exchanged,
        Err(error) if error.kind() == io::ErrorKind::Unsupported => rename_twice(calls, places)?,
        Err(error) => return Err(error),
    };
    Ok(if *old == OldSite::Empty { How::First } else { how })
}

fn rename_twice(calls: &Calls<'_>, places: &Places) -> io::Result<How> {
    calls.rename(&places.site, &places.old)?;
    if let Err(error) = calls.rename(&places.new, &places.site) {
        calls.rename(&places.old, &places.site)?;
        return Err(error);
    }
    Ok(How::Renamed)
}

/// Clears up after a build that was killed: puts the old site back if it stands beside, removes what was half made.
pub(super) fn recover(calls: &Calls<'_>, places: &Places) -> Result<(), Failure> {
    let failed = |path: &Path, error: io::Error| unwritable(path, &error);
    if calls.look(&places.old).map_err(|error| failed(&places.old, error))? == Stands::Folder {
        let missing = calls.look(&places.site).map_err(|error| failed(&places.site, error))? == Stands::Nothing;
        if missing {
            calls
                .rename(&places.old, &places.site)
                .map_err(|error| failed(&places.site, error))?;
        } else {
            clear(calls, &places.old)?;
        }
    }
    clear(calls, &places.new)
}

/// Removes a neighbour of the site, if it is one that we made.
fn clear(calls: &Calls<'_>, neighbour: &Path) -> Result<(), Failure> {
    let failed = |error: io::Error| unwritable(neighbour, &error);
    match calls.look(neighbour).map_err(failed)? {
        Stands::Nothing => Ok(()),
        Stands::Folder if is_ours(calls, neighbour).map_err(failed)? => remove(calls, neighbour).map_err(failed),
        Stands::Folder | Stands::File { .. } | Stands::Other => Err(Failure::Refused(format!(
            "{}: this stands where the new site is to be made, and no build put it there; move it elsewhere",
            neighbour.display()
        ))),
    }
}

/// Removes what could not be finished; what stays is cleared up by the next build.
pub(super) fn clear_new(calls: &Calls<'_>, places: &Places) {
    let _ = clear(calls, &places.new);
}

/// Removes a folder and all that is in it, following no link. The marker goes last: until then the folder is known to be ours.
fn remove(calls: &Calls<'_>, folder: &Path) -> io::Result<()> {
    if calls.look(folder)? != Stands::Folder {
        return Ok(());
    }
    let mut names = calls.list(folder)?;
    names.sort_by_key(|name| name == super::marker::MARKER);
    for name in names {
        let path = folder.join(name);
        match calls.look(&path)? {
            Stands::Folder => remove(calls, &path)?,
            Stands::File { .. } | Stands::Other => calls.remove_file(&path)?,
            Stands::Nothing => {}
        }
    }
    calls.remove_folder(folder)
}
