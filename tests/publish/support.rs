//! Two sites, and what of them is on the disk.

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::{Path, PathBuf};

use compasario::disk::{OutputFile, Site};

pub const MARKER: &str = ".compasario-site";

pub fn site(files: &[(&str, &str)]) -> Site {
    let file = |(path, text): &(&str, &str)| OutputFile {
        path: (*path).to_owned(),
        bytes: text.as_bytes().to_vec(),
    };
    Site {
        files: files.iter().map(file).collect(),
        ..Site::default()
    }
}

/// The site that is up.
pub fn old_site() -> Site {
    site(&[
        ("index.html", "old home"),
        ("assets/site.css", "same style"),
        ("lessons/tangos/index.html", "same tangos"),
        ("lessons/solea/index.html", "old soleá"),
        ("lessons/gone/index.html", "a lesson that goes"),
        ("lessons/gone/shape.svg", "<svg/>"),
    ])
}

/// The site that takes its place: a page changed, one gone, one new, two the same.
pub fn new_site() -> Site {
    site(&[
        ("index.html", "new home"),
        ("assets/site.css", "same style"),
        ("lessons/tangos/index.html", "same tangos"),
        ("lessons/solea/index.html", "new soleá"),
        ("palos/solea/index.html", "a page that comes"),
    ])
}

/// A site of many pages, half of them the same whatever the name.
pub fn large_site(name: &str, pages: usize) -> Site {
    let file = |number: usize| OutputFile {
        path: format!("lessons/{number}/index.html"),
        bytes: match number % 2 {
            0 => format!("page {number}").repeat(200).into_bytes(),
            _ => format!("{name} page {number}").repeat(200).into_bytes(),
        },
    };
    Site {
        files: (0..pages).map(file).collect(),
        ..Site::default()
    }
}

pub fn values(site: &Site) -> BTreeMap<String, Vec<u8>> {
    site.files
        .iter()
        .map(|file| (file.path.clone(), file.bytes.clone()))
        .collect()
}

/// Every file below a folder, without the marker. None when there is no folder.
pub fn files(folder: &Path) -> Option<BTreeMap<String, Vec<u8>>> {
    fn collect(folder: &Path, above: &str, files: &mut BTreeMap<String, Vec<u8>>) {
        for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
            let name = format!("{above}{}", entry.file_name().to_string_lossy());
            if entry.file_type().unwrap().is_dir() {
                collect(&entry.path(), &format!("{name}/"), files);
            } else if name != MARKER {
                files.insert(name, fs::read(entry.path()).unwrap());
            }
        }
    }
    let mut files = BTreeMap::new();
    folder.is_dir().then(|| collect(folder, "", &mut files))?;
    Some(files)
}

/// The folder holds this site, its marker names every file, and all can be read by everybody.
pub fn is_whole(folder: &Path, site: &Site) -> bool {
    if files(folder).as_ref() != Some(&values(site)) {
        return false;
    }
    let marker = fs::read_to_string(folder.join(MARKER)).unwrap();
    let named: Vec<&str> = marker.lines().skip(1).collect();
    let expected: Vec<String> = values(site).into_keys().collect();
    let modes = walkdir::WalkDir::new(folder)
        .into_iter()
        .map(Result::unwrap)
        .all(|entry| {
            let mode = entry.metadata().unwrap().permissions().mode() & 0o777;
            mode == if entry.file_type().is_dir() { 0o755 } else { 0o644 }
        });
    named == expected && modes
}

pub fn inode(path: &Path) -> u64 {
    fs::metadata(path).unwrap().ino()
}

/// The names beside a site: nothing may be left there.
pub fn beside(site: &Path) -> Vec<String> {
    let own = site.file_name().unwrap().to_owned();
    let entries = fs::read_dir(site.parent().unwrap())
        .unwrap()
        .map(|entry| entry.unwrap().file_name());
    let mut names: Vec<String> = entries
        .filter(|name| *name != own)
        .map(|name| name.to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// A folder of its own for a test, and the path of a site in it that is not there yet.
///
/// In memory where the system has such a place: some tests publish hundreds of times, and bringing each to a disk takes minutes.
pub fn place() -> (tempfile::TempDir, PathBuf) {
    let directory = tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .unwrap();
    let site = directory.path().join("site");
    (directory, site)
}

/// As on a file system that cannot exchange two folders.
pub fn no_exchange(call: &compasario::disk::Call<'_>) -> std::io::Result<()> {
    match call.name {
        "exchange" => Err(std::io::ErrorKind::Unsupported.into()),
        _ => Ok(()),
    }
}
