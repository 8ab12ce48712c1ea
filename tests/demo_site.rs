//! `site/` is the demo course as `build` makes it: committed, so that a change to it shows in review.
//! When this test fails, build it again: `cargo run --release -- build sample-notes --out site`.
#![allow(clippy::unwrap_used, reason = "a test may")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Every file below a folder by its path, the mark of the build left out.
fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut folders = vec![root.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
                files.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    files
}

#[test]
fn the_committed_site_is_what_the_sample_notes_make() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let made = tempfile::tempdir().unwrap();
    let out = made.path().join("site");
    let run = Command::new(env!("CARGO_BIN_EXE_compasario"))
        .current_dir(here)
        .args(["build", "sample-notes", "--out"])
        .arg(&out)
        .output()
        .unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let (made, committed) = (files(&out), files(&here.join("site")));
    let names = |site: &BTreeMap<String, Vec<u8>>| site.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&made), names(&committed), "the pages are not the same");
    let stale: Vec<&String> = made
        .iter()
        .filter(|(name, bytes)| committed.get(*name) != Some(bytes))
        .map(|(name, _)| name)
        .collect();
    assert!(stale.is_empty(), "site/ is stale, build it again: {stale:?}");
}
