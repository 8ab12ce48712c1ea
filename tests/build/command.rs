//! The command: what lies in the cache folder and what lies in the site never make a difference.

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use assert_cmd::Command;

use crate::edits::{begin, edit, scattered};

struct House {
    directory: tempfile::TempDir,
}

impl House {
    fn new() -> Self {
        let directory = tempfile::tempdir().unwrap();
        fs::create_dir(directory.path().join("notes")).unwrap();
        begin(&directory.path().join("notes"));
        Self { directory }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.directory.path().join(name)
    }

    /// Builds; what it printed.
    fn build(&self, site: &str, cache: &str) -> String {
        let mut command = Command::cargo_bin("compasario").unwrap();
        command
            .arg("build")
            .arg(self.path("notes"))
            .arg("--out")
            .arg(self.path(site));
        command.env("XDG_CACHE_HOME", self.path(cache));
        let output = command.output().unwrap();
        assert!(
            output.status.code().unwrap() < 2,
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8(output.stdout).unwrap()
    }

    /// The site of a build that remembers nothing.
    fn afresh(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        for name in ["afresh", "no-cache"] {
            let _ = fs::remove_dir_all(self.path(name));
        }
        self.build("afresh", "no-cache");
        files(&self.path("afresh"))
    }

    fn kept_file(&self) -> PathBuf {
        let folder = self.path("cache/compasario");
        let mut names = fs::read_dir(folder).unwrap();
        names.next().unwrap().unwrap().path()
    }
}

fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let entries = walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap);
    let files = entries.filter(|entry| entry.file_type().is_file());
    files
        .map(|entry| {
            (
                entry.path().strip_prefix(folder).unwrap().to_path_buf(),
                fs::read(entry.path()).unwrap(),
            )
        })
        .collect()
}

#[test]
fn edits_built_one_after_another_are_as_built_afresh() {
    let house = House::new();
    house.build("site", "cache");
    for step in 0..8u64 {
        let number = scattered(step + 77);
        edit(
            &house.path("notes"),
            (number >> 8) as usize % 1000,
            (number % 97) as usize,
        );
        house.build("site", "cache");
        assert!(files(&house.path("site")) == house.afresh(), "step {step}");
    }
}

#[test]
fn a_page_changed_by_hand_is_made_again() {
    let house = House::new();
    house.build("site", "cache");
    let page = house.path("site/lessons/tangos-one.html");
    let good = fs::read(&page).unwrap();
    fs::write(&page, "spoiled").unwrap();
    assert!(house.build("site", "cache").contains("(1 new"));
    assert_eq!(fs::read(&page).unwrap(), good);
    // The same length, and put in its place by a rename.
    fs::write(house.path("other"), vec![b'x'; good.len()]).unwrap();
    fs::rename(house.path("other"), &page).unwrap();
    house.build("site", "cache");
    assert_eq!(fs::read(&page).unwrap(), good);
    fs::remove_file(&page).unwrap();
    house.build("site", "cache");
    assert_eq!(fs::read(&page).unwrap(), good);
    assert!(house.build("site", "cache").contains("nothing changed"));
}

#[test]
fn a_site_that_was_moved_or_removed_is_made_again() {
    let house = House::new();
    house.build("site", "cache");
    fs::rename(house.path("site"), house.path("away")).unwrap();
    house.build("site", "cache");
    assert!(files(&house.path("site")) == files(&house.path("away")));
}

#[test]
fn what_is_kept_is_for_this_user_only_and_may_be_spoiled_or_gone() {
    let house = House::new();
    house.build("site", "cache");
    let kept = house.kept_file();
    assert_eq!(fs::metadata(&kept).unwrap().permissions().mode() & 0o777, 0o600);
    assert_eq!(
        fs::metadata(kept.parent().unwrap()).unwrap().permissions().mode() & 0o777,
        0o700
    );
    edit(&house.path("notes"), 0, 0);
    let bytes = fs::read(&kept).unwrap();
    for spoiled in [&bytes[..bytes.len() / 2], b"", b"nonsense"] {
        fs::write(&kept, spoiled).unwrap();
        house.build("site", "cache");
        assert!(files(&house.path("site")) == house.afresh());
    }
    fs::remove_dir_all(house.path("cache")).unwrap();
    fs::write(house.path("cache"), "no folder can be made here").unwrap();
    house.build("site", "cache");
    assert!(files(&house.path("site")) == house.afresh());
}

#[test]
fn what_was_kept_long_ago_gives_way() {
    let house = House::new();
    house.build("site", "cache");
    let folder = house.kept_file().parent().unwrap().to_path_buf();
    for number in 0..40u64 {
        let old = fs::File::create(folder.join(format!("old-{number:02}"))).unwrap();
        old.set_modified(SystemTime::now() - Duration::from_secs(1000 - number))
            .unwrap();
    }
    house.build("site", "cache");
    let left = fs::read_dir(&folder).unwrap().count();
    assert_eq!(left, 24);
    assert!(folder.join("old-39").exists() && !folder.join("old-05").exists());
    assert!(house.build("site", "cache").contains("nothing changed"));
}

/// Nothing of what the notes keep private is in the site, whatever is remembered; what is kept beside is in the cache folder alone.
#[test]
fn nothing_is_left_in_the_site_but_pages() {
    let house = House::new();
    house.build("site", "cache");
    house.build("site", "cache");
    for (path, bytes) in files(&house.path("site")) {
        let text = String::from_utf8_lossy(&bytes);
        assert!(
            !text.contains("zwickmuehle") && !text.contains("Luis"),
            "{}",
            path.display()
        );
    }
    let mut beside: Vec<_> = fs::read_dir(house.directory.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    beside.sort();
    assert_eq!(beside, ["cache", "notes", "site"]);
}
