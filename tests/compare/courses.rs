//! Folders, records, addresses, the program.

use std::path::Path;

use assert_cmd::Command;
use compasario::compare::{self, Comparison, Fate, PageFate, Record, Side, Verdict};

use crate::edits::side;

const LESSONS: [&str; 3] = ["tangos.notes.txt", "solea.es.notes.txt", "rumba.notes.txt"];

fn course(folder: &Path) {
    std::fs::create_dir_all(folder).unwrap();
    let lessons = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/compare/lessons");
    for name in LESSONS {
        std::fs::copy(lessons.join(name), folder.join(name)).unwrap();
    }
}

fn change(file: &Path, was: &str, is: &str) {
    let text = std::fs::read_to_string(file).unwrap();
    assert!(text.contains(was), "{was}");
    std::fs::write(file, text.replace(was, is)).unwrap();
}

/// The course of three lessons beside itself after an edit.
fn after(edit: impl Fn(&Path)) -> Comparison {
    let directory = tempfile::tempdir().unwrap();
    let (old, new) = (directory.path().join("old"), directory.path().join("new"));
    course(&old);
    course(&new);
    edit(&new);
    compare::compare(&side(&old), &side(&new), "en")
}

#[test]
fn a_renamed_note_is_the_same_lesson_at_another_address() {
    let comparison = after(|folder| {
        std::fs::rename(folder.join("rumba.notes.txt"), folder.join("rumba-of-may.notes.txt")).unwrap();
        change(
            &folder.join("rumba-of-may.notes.txt"),
            "4 i dn, & i up",
            "4 i dn, & m up",
        );
    });
    let [rumba] = comparison.lessons.as_slice() else {
        panic!("{:?}", comparison.lessons)
    };
    assert_eq!((rumba.fate, rumba.was.as_deref()), (Fate::Renamed, Some("rumba")));
    assert_eq!(
        rumba.music.len(),
        2,
        "count 4, and 8 which is played like it: {:?}",
        rumba.music
    );
    let [page] = comparison.pages.as_slice() else {
        panic!("{:?}", comparison.pages)
    };
    assert_eq!(
        (page.fate, page.to.as_deref()),
        (PageFate::Moved, Some("lessons/rumba-of-may.html"))
    );
}

#[test]
fn a_lesson_that_goes_breaks_the_links_to_it() {
    let comparison = after(|folder| {
        std::fs::remove_file(folder.join("rumba.notes.txt")).unwrap();
        std::fs::write(
            folder.join("tientos.notes.txt"),
            "title: Tientos\npalo: tientos\n\ncore 1-4\n1: p down\n",
        )
        .unwrap();
    });
    let fates: Vec<(&str, Fate)> = comparison
        .lessons
        .iter()
        .map(|lesson| (lesson.lesson.as_str(), lesson.fate))
        .collect();
    assert_eq!(fates, [("tientos", Fate::New), ("rumba", Fate::Gone)]);
    let gone: Vec<&str> = comparison
        .pages
        .iter()
        .filter(|page| page.fate == PageFate::Gone)
        .map(|page| page.address.as_str())
        .collect();
    assert!(
        gone.contains(&"lessons/rumba.html") && gone.contains(&"palos/rumba.html"),
        "{gone:?}"
    );
    assert!(gone.contains(&"chords/index.html#chord-am"), "{gone:?}");
}

#[test]
fn a_pattern_that_gets_another_name_leaves_its_anchor() {
    let comparison = after(|folder| {
        change(
            &folder.join("tangos.notes.txt"),
            "variation \"hammer\"",
            "variation \"the fall\"",
        )
    });
    let gone: Vec<&str> = comparison.pages.iter().map(|page| page.address.as_str()).collect();
    assert_eq!(gone, ["lessons/tangos.html#pattern-hammer"]);
}

#[test]
fn rewording_says_that_it_is_only_rewording() {
    let directory = tempfile::tempdir().unwrap();
    let (old, new) = (directory.path().join("old"), directory.path().join("new"));
    course(&old);
    course(&new);
    change(
        &new.join("rumba.notes.txt"),
        "a hand that swings",
        "a hand that never hurries",
    );
    let (status, text) = program(&["compare", old.to_str().unwrap(), new.to_str().unwrap()]);
    let expected = "rumba: Rumba on Wednesday
  Rewording only: the music is the same.
  Words
    - rumba in A minor. three chords and a hand that [swings]
    + rumba in A minor. three chords and a hand that [never hurries]

Only the words changed: the music is the same.
";
    assert_eq!((status, text.as_str()), (1, expected));
}

#[test]
fn what_follows_from_the_music_is_told() {
    let comparison = after(|folder| {
        let tangos = folder.join("tangos.notes.txt");
        change(&tangos, "8: p s6 f3 G, & p s5 f0 A  ", "8: p s6 f3 G, & hold LH3 s6 f3");
        change(&tangos, "tempo: 120", "tempo: 132");
        change(
            &folder.join("rumba.notes.txt"),
            "palo: rumba",
            "palo: rumba\nneeds: tangos",
        );
    });
    let tangos = comparison
        .lessons
        .iter()
        .find(|lesson| lesson.lesson == "tangos")
        .unwrap();
    assert!(tangos.music.iter().any(|music| music.words == "goal tempo 120 -> 132"));
    assert_eq!(tangos.follows.needed_by, ["rumba"]);
    let ladder = "the ladder of tempos ends at";
    assert!(
        tangos.follows.exercises.iter().any(|line| line.starts_with(ladder)),
        "{:?}",
        tangos.follows
    );
    let rumba = comparison
        .lessons
        .iter()
        .find(|lesson| lesson.lesson == "rumba")
        .unwrap();
    assert_eq!(rumba.course, ["needs tangos first"]);
    assert!(rumba.music.is_empty());
}

#[test]
fn a_record_read_back_is_the_same_and_a_spoiled_one_is_refused() {
    let directory = tempfile::tempdir().unwrap();
    course(directory.path());
    let record = side(directory.path()).record;
    let text = record.to_text();
    assert_eq!(Record::read(&text).unwrap(), record);
    let read = Side {
        record: Record::read(&text).unwrap(),
        ..Side::default()
    };
    assert_eq!(
        compare::compare(&read, &side(directory.path()), "en").verdict,
        Verdict::Nothing
    );
    assert_eq!(Record::read("").unwrap_err(), "it is empty");
    assert_eq!(Record::read("{}\n").unwrap_err(), "line 1 is not of a record");
    let newer = text.replacen("\"record\":1", "\"record\":99", 1);
    assert_eq!(
        Record::read(&newer).unwrap_err(),
        "a newer version of this program wrote it"
    );
}

/// What a private line says is in no record, nor the names of people, nor in a comparison.
#[test]
fn nothing_private_is_in_a_record_or_a_comparison() {
    let directory = tempfile::tempdir().unwrap();
    let (old, new) = (directory.path().join("old"), directory.path().join("new"));
    course(&old);
    course(&new);
    let tangos = new.join("tangos.notes.txt");
    change(&tangos, "palo: tangos\n", "palo: tangos\npeople: Zenobia Quill\n");
    let text = std::fs::read_to_string(&tangos).unwrap();
    std::fs::write(&tangos, text + "\n[private] Zenobia is two months late with the money, tempo 99\n\nZenobia plays this one softly [3:00]\n").unwrap();
    std::fs::rename(new.join("rumba.notes.txt"), new.join("for-zenobia.notes.txt")).unwrap();
    let record = side(&new).record.to_text();
    for word in ["enobia", "uill", "money", "99"] {
        assert!(!record.contains(word), "{word}: {record}");
    }
    let run = program(&[
        "compare",
        old.to_str().unwrap(),
        new.to_str().unwrap(),
        "--format",
        "html",
    ]);
    assert!(!run.1.contains("money") && !run.1.contains("months late"));
}

fn program(arguments: &[&str]) -> (i32, String) {
    let output = Command::cargo_bin("compasario")
        .unwrap()
        .args(arguments)
        .output()
        .unwrap();
    (output.status.code().unwrap(), String::from_utf8(output.stdout).unwrap())
}

#[test]
fn the_program_compares_folders_and_single_notes() {
    let directory = tempfile::tempdir().unwrap();
    let (old, new) = (directory.path().join("old"), directory.path().join("new"));
    course(&old);
    course(&new);
    change(&new.join("tangos.notes.txt"), "tempo: 120", "tempo: 132");
    let [old_note, new_note] = [&old, &new].map(|folder| folder.join("tangos.notes.txt"));
    for (old, new) in [(&old, &new), (&old_note, &new_note)] {
        let (status, text) = program(&["compare", old.to_str().unwrap(), new.to_str().unwrap()]);
        assert_eq!(status, 1);
        assert!(text.contains("    goal tempo 120 -> 132\n"), "{text}");
        let (status, text) = program(&["compare", old.to_str().unwrap(), old.to_str().unwrap()]);
        assert_eq!((status, text.as_str()), (0, "Nothing changed.\n"));
    }
    let (_, html) = program(&[
        "compare",
        old.to_str().unwrap(),
        new.to_str().unwrap(),
        "--format",
        "html",
    ]);
    assert!(html.starts_with("<!doctype html>") && html.contains("goal tempo 120 -&gt; 132"));
    let (_, json) = program(&[
        "compare",
        old.to_str().unwrap(),
        new.to_str().unwrap(),
        "--format",
        "json",
    ]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["verdict"], "music");
    assert_eq!(json["lessons"][0]["music"][0]["kind"], "tempo");
}
