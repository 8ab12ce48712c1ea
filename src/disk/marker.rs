use std::collections::BTreeSet;
use std::io;
use std::path::Path;

use super::Site;
use super::calls::{Calls, Stands};
use super::places::{Places, unwritable};
use crate::failure::Failure;

/// The file that says that a folder is ours. Its first line is [`FIRST_LINE`], then one name a line.
pub(super) const MARKER: &str = ".compasario-site";
const FIRST_LINE: &str = "Made by Compasario. Each build replaces everything in this folder. The files it wrote:";

/// What systems put into folders by themselves.
const LITTER: &[&str] = &[".DS_Store", "Thumbs.db", "desktop.ini"];

/// Most names that a message lists.
const LISTED: usize = 3;

/// The site that is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum OldSite {
    Missing,
    Empty,
    /// Ours, with these files (without the marker).
    Ours(BTreeSet<String>),
}

impl OldSite {
    pub(super) fn names(&self) -> impl Iterator<Item = &String> {
        match self {
            OldSite::Ours(names) => Some(names),
            OldSite::Missing | OldSite::Empty => None,
        }
        .into_iter()
        .flatten()
    }
}

/// The marker of a site, as bytes.
pub(super) fn marker(site: &Site) -> Vec<u8> {
    let names: BTreeSet<&String> = site.names().collect();
    let mut text = format!("{FIRST_LINE}\n");
    for name in names {
        text.push_str(name);
        text.push('\n');
    }
    text.into_bytes()
}

/// Looks at the folder that is to be replaced, and refuses one that is not ours to replace.
pub(super) fn old_site(calls: &Calls<'_>, places: &Places) -> Result<OldSite, Failure> {
    let site = &places.site;
    let failed = |error: io::Error| unwritable(site, &error);
    if calls.look(site).map_err(failed)? == Stands::Nothing {
        return Ok(OldSite::Missing);
    }
    let mut names = BTreeSet::new();
    collect(calls, site, "", &mut names).map_err(failed)?;
    if names.is_empty() {
        return Ok(OldSite::Empty);
    }
    let Some(ours) = read_marker(calls, site).map_err(failed)? else {
        return Err(Failure::Refused(format!(
            "{}: this folder was not made by a build and is not empty ({}); a build would replace all that is in it. \
             Choose another folder, or empty this one yourself",
            site.display(),
            listed(&names)
        )));
    };
    let foreign: BTreeSet<String> = names
        .iter()
        .filter(|name| *name != MARKER && !ours.contains(*name))
        .cloned()
        .collect();
    if !foreign.is_empty() {
        return Err(Failure::Refused(format!(
            "{}: there is something in this site that no build wrote ({}), and a build would remove it; move it elsewhere",
            site.display(),
            listed(&foreign)
        )));
    }
    names.remove(MARKER);
    Ok(OldSite::Ours(names))
}

/// True for what a killed build may leave beside the site: a folder with our marker, perhaps half written, or with nothing in it.
pub(super) fn is_ours(calls: &Calls<'_>, folder: &Path) -> io::Result<bool> {
    let names = calls.list(folder)?;
    let mut names = names.iter().filter(|name| !LITTER.iter().any(|litter| *name == litter));
    if names.clone().any(|name| name == MARKER) {
        let text = calls.read(&folder.join(MARKER))?;
        let half_written = FIRST_LINE.as_bytes().starts_with(&text) && names.clone().count() == 1;
        return Ok(half_written || text.starts_with(FIRST_LINE.as_bytes()));
    }
    Ok(names.next().is_none())
}

fn read_marker(calls: &Calls<'_>, folder: &Path) -> io::Result<Option<BTreeSet<String>>> {
    let path = folder.join(MARKER);
    if !matches!(calls.look(&path)?, Stands::File { .. }) {
        return Ok(None);
    }
    let text = String::from_utf8_lossy(&calls.read(&path)?).into_owned();
    let mut lines = text.lines();
    let ours = lines.next() == Some(FIRST_LINE);
    Ok(ours.then(|| lines.map(str::to_owned).collect()))
}

/// All that is in a folder and is no folder, links not followed; what systems leave lying about is not counted.
fn collect(calls: &Calls<'_>, folder: &Path, above: &str, names: &mut BTreeSet<String>) -> io::Result<()> {
    for entry in calls.list(folder)? {
        let path = folder.join(&entry);
        let entry = entry.to_string_lossy();
        match calls.look(&path)? {
            Stands::Folder => collect(calls, &path, &format!("{above}{entry}/"), names)?,
            Stands::File { .. } if LITTER.contains(&entry.as_ref()) => {}
            Stands::File { .. } | Stands::Other => {
                names.insert(format!("{above}{entry}"));
            }
            Stands::Nothing => {}
        }
    }
    Ok(())
}

fn listed(names: &BTreeSet<String>) -> String {
    let first: Vec<&str> = names.iter().take(LISTED).map(String::as_str).collect();
    match names.len().saturating_sub(LISTED) {
        0 => first.join(", "),
        more => format!("{} and {more} more", first.join(", ")),
    }
}
