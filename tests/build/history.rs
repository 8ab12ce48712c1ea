//! What depends on earlier builds: addresses that stay, pages that lead on, what students are told.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

const TANGOS: &str = "title: Tangos\npalo: tangos\nreviewed: 2026-01-02\n\ntempo: 100\n\ncore 1-4\n1: p down\n2: i down, & i up\n3: p down\n4: golpe a\n";

struct House {
    directory: tempfile::TempDir,
}

impl House {
    fn new(notes: &[(&str, &str)]) -> Self {
        let house = Self {
            directory: tempfile::tempdir().unwrap(),
        };
        fs::create_dir(house.path("notes")).unwrap();
        notes.iter().for_each(|(name, text)| house.note(name, text));
        house
    }

    fn path(&self, name: &str) -> PathBuf {
        self.directory.path().join(name)
    }

    fn note(&self, name: &str, text: &str) {
        let path = self.path("notes").join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// Exit status, and what was complained of.
    fn build(&self, more: &[&str]) -> (i32, String) {
        let mut command = Command::cargo_bin("compasario").unwrap();
        command
            .arg("build")
            .arg(self.path("notes"))
            .arg("--out")
            .arg(self.path("site"))
            .args(more);
        command
            .env("XDG_CACHE_HOME", self.path("cache"))
            .env_remove("SOURCE_DATE_EPOCH");
        let output = command.output().unwrap();
        (output.status.code().unwrap(), String::from_utf8(output.stderr).unwrap())
    }

    fn publish(&self, date: &str) {
        let (status, words) = self.build(&[
            "--keep-history",
            "--date",
            date,
            "--base-url",
            "https://example.org/course",
        ]);
        assert!(status < 2, "{words}");
    }

    fn page(&self, name: &str) -> String {
        fs::read_to_string(self.path("site").join(name)).unwrap_or_default()
    }
}

#[test]
fn the_first_holder_keeps_its_address() {
    let house = House::new(&[("b/tangos.notes.txt", TANGOS)]);
    house.publish("2026-01-01");
    assert!(house.page("lessons/tangos.html").contains("<h1>Tangos</h1>"));
    // By its name this one would come first and take the address.
    house.note(
        "a/tangos.notes.txt",
        &TANGOS.replace("title: Tangos", "title: Other tangos"),
    );
    house.publish("2026-01-02");
    assert!(house.page("lessons/tangos.html").contains("<h1>Tangos</h1>"));
    assert!(house.page("changes.html").contains("Other tangos"));
    // Without its history it would not.
    fs::remove_file(house.path("notes/history.jsonl")).unwrap();
    house.build(&[]);
    assert!(house.page("lessons/tangos.html").contains("<h1>Other tangos</h1>"));
}

#[test]
fn a_page_that_moved_leads_on_for_good() {
    let house = House::new(&[("tangos.notes.txt", TANGOS)]);
    house.publish("2026-01-01");
    let notes = house.path("notes");
    fs::rename(notes.join("tangos.notes.txt"), notes.join("second.notes.txt")).unwrap();
    house.publish("2026-01-02");
    fs::rename(notes.join("second.notes.txt"), notes.join("third.notes.txt")).unwrap();
    house.publish("2026-01-03");
    for old in ["lessons/tangos.html", "lessons/second.html"] {
        let page = house.page(old);
        assert!(
            page.contains("content=\"0; url=../lessons/third.html\""),
            "{old}: {page}"
        );
        assert!(page.contains("<a href=\"../lessons/third.html\">"), "{old}");
    }
    assert!(!house.page("sitemap.xml").contains("second.html"));
    // Back at its first address, that is a page again and the others lead there.
    fs::rename(notes.join("third.notes.txt"), notes.join("tangos.notes.txt")).unwrap();
    house.publish("2026-01-04");
    assert!(house.page("lessons/tangos.html").contains("<h1>Tangos</h1>"));
    assert!(house.page("lessons/third.html").contains("url=../lessons/tangos.html"));
    assert!(house.page("lessons/second.html").contains("url=../lessons/tangos.html"));
}

#[test]
fn students_are_told_what_changed_in_the_music() {
    let house = House::new(&[("tangos.notes.txt", TANGOS)]);
    house.publish("2026-01-01");
    assert!(house.page("index.html").contains("href=\"changes.html\""));
    house.note("tangos.notes.txt", &TANGOS.replace("tempo: 100", "tempo: 110"));
    house.publish("2026-02-03");
    let changes = house.page("changes.html");
    assert!(
        changes.contains("goal tempo 100 -&gt; 110") && changes.contains("2026-02-03"),
        "{changes}"
    );
    assert!(house.page("index.html").contains("2026-02-03"));
    assert!(house.page("feed.xml").contains("goal tempo 100 -&gt; 110"));
    assert!(
        house
            .page("lessons/tangos.html")
            .contains("<link rel=\"canonical\" href=\"https://example.org/course/lessons/tangos.html\">")
    );
    assert!(
        house
            .page("sitemap.xml")
            .contains("<loc>https://example.org/course/lessons/tangos.html</loc>")
    );
    // Spacing is nothing to tell.
    let before = changes;
    house.note(
        "tangos.notes.txt",
        &TANGOS.replace("tempo: 100\n", "\ntempo:   110\n\n"),
    );
    house.publish("2026-02-04");
    assert_eq!(house.page("changes.html"), before);
}

#[test]
fn without_a_day_no_history_is_kept_and_nothing_is_published() {
    let house = House::new(&[("tangos.notes.txt", TANGOS)]);
    let (status, words) = house.build(&["--keep-history"]);
    assert_eq!(status, 2);
    assert!(words.contains("--date YYYY-MM-DD"), "{words}");
    assert!(!house.path("site").exists());
    house.publish("2026-01-01");
    // Nothing changed: no day is wanted.
    let (status, words) = house.build(&["--keep-history", "--base-url", "https://example.org/course"]);
    assert!(status < 2, "{words}");
}

/// The site that is up stays, rather than losing its addresses.
#[test]
fn a_spoiled_history_stops_the_build() {
    let house = House::new(&[("tangos.notes.txt", TANGOS)]);
    house.publish("2026-01-01");
    let before = house.page("lessons/tangos.html");
    let text = fs::read_to_string(house.path("notes/history.jsonl")).unwrap();
    for (spoiled, words) in [
        (text.replace("{\"held\"", "{\"hold\""), "line 2 is not of a history"),
        (
            text.replace("{\"history\":1}", "{\"history\":9}"),
            "a newer version of this program wrote it",
        ),
        (
            text[..text.len() - 20].to_owned(),
            "its record, from line 3 on: line 2 is not of a record",
        ),
        ("nonsense".to_owned(), "line 1 is not whole"),
    ] {
        house.note("history.jsonl", &spoiled);
        let (status, said) = house.build(&["--keep-history", "--date", "2026-01-02"]);
        assert_eq!(status, 2);
        assert!(said.contains(words), "{said}");
        assert_eq!(house.page("lessons/tangos.html"), before);
    }
}

/// A name that is to be private from now on leaves addresses and old revisions too.
#[test]
fn a_name_made_private_later_leaves_the_history_of_the_site() {
    let notes = &TANGOS.replace("title: Tangos", "title: Tangos for Zenobia");
    let house = House::new(&[("tangos-zenobia.notes.txt", notes), ("other.notes.txt", TANGOS)]);
    house.publish("2026-01-01");
    house.note("tangos-zenobia.notes.txt", &notes.replace("tempo: 100", "tempo: 111"));
    house.publish("2026-01-02");
    assert!(house.page("changes.html").contains("Zenobia"));
    house.note(
        "tangos-zenobia.notes.txt",
        &notes.replace("palo: tangos", "palo: tangos\npeople: Zenobia"),
    );
    house.publish("2026-01-03");
    every_file(&house.path("site"), &|path, text| {
        assert!(!path.to_string_lossy().contains("zenobia"), "{}", path.display());
        assert!(!text.to_lowercase().contains("zenobia"), "{}", path.display());
    });
}

fn every_file(folder: &Path, look: &dyn Fn(&Path, &str)) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            every_file(&path, look);
        } else {
            look(&path, &String::from_utf8_lossy(&fs::read(&path).unwrap()));
        }
    }
}

#[test]
fn an_address_that_is_none_is_refused() {
    let house = House::new(&[("tangos.notes.txt", TANGOS)]);
    for address in [
        "example.org",
        "ftp://example.org",
        "https://",
        "https:///x",
        "https://example.org/?a",
        "https://a b/",
        "https://a\"b/",
    ] {
        let (status, words) = house.build(&["--base-url", address]);
        assert_eq!(status, 2, "{address}");
        assert!(words.contains("is no address of a site"), "{words}");
    }
}
