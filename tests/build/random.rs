//! Random edits, one after another: what is remembered never shows.

use std::collections::BTreeMap;
use std::path::Path;

use compasario::compare::History;
use compasario::mark::Mark;
use compasario::pages::{self, Choices, CourseHead, Known, Publication, SiteInput};
use compasario::pipeline::{self, Memory, Review};

use crate::edits::{begin, edit, scattered};

type Files = BTreeMap<String, Vec<u8>>;

/// What is up, and the marks of what it was made from.
#[derive(Default)]
struct Up {
    memory: Memory,
    files: Files,
    marks: BTreeMap<String, Mark>,
    kept: usize,
    /// What the notes folder holds of earlier builds.
    history: History,
    /// A revision a day.
    day: u32,
}

/// The site, and the history with it. Now and then nobody says the day.
fn site(review: &Review, known: (&History, u32), up: Option<&mut Up>) -> (Files, History) {
    let said = &review.folder.course;
    let head = CourseHead {
        title: said.title.clone(),
        about: said.about.clone(),
        language: said.language.clone(),
    };
    let date = format!("2026-{:02}-{:02}", 1 + known.1 / 28, 1 + known.1 % 28);
    let input = SiteInput {
        head: &head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices: Choices::default(),
        publication: Publication {
            history: Some(known.0),
            date: Some(date.as_str()).filter(|_| !known.1.is_multiple_of(5)),
            base_url: Some("https://example.org/").filter(|_| known.1 % 16 < 8),
        },
    };
    let values = |files: Vec<compasario::disk::OutputFile>| -> Files {
        files.into_iter().map(|file| (file.path, file.bytes)).collect()
    };
    let Some(up) = up else {
        let pages = pages::site_knowing(&input, None).unwrap();
        return (values(pages.files), pages.history);
    };
    let marks = up.marks.clone();
    let holds = |address: &str, mark: Mark| marks.get(address) == Some(&mark);
    let known = Known {
        lessons: &review.marks,
        holds: &holds,
    };
    let pages = pages::site_knowing(&input, Some(known)).unwrap();
    let mut files = values(pages.files);
    up.kept += pages.kept.len();
    for address in pages.kept {
        let before = up.files.get(&address).unwrap().clone();
        assert!(files.insert(address, before).is_none());
    }
    up.marks = pages.marks;
    up.files.clone_from(&files);
    (files, pages.history)
}

fn differing<'a>(one: &'a Files, two: &'a Files) -> Vec<&'a String> {
    let names = one.keys().chain(two.keys());
    names.filter(|name| one.get(*name) != two.get(*name)).collect()
}

fn lessons(review: &Review) -> String {
    format!("{:?} {:?} {:?}", review.lessons, review.published, review.findings)
}

fn compare(folder: &Path, up: &mut Up, after: &str) {
    let remembering = pipeline::review_remembering(folder, &mut up.memory, &|_, _| {}).unwrap();
    let afresh = pipeline::review(folder).unwrap();
    assert_eq!(lessons(&remembering), lessons(&afresh), "{after}");
    // The history goes through its file, as between two runs of the program.
    let history = History::read(&up.history.to_text()).unwrap();
    assert_eq!(history, up.history, "{after}");
    let known = (&history, up.day);
    let (whole, next) = site(&afresh, known, None);
    let (only_what_changed, next_too) = site(&remembering, known, Some(up));
    assert_eq!(next, next_too, "{after}");
    // Built again with the history that holds it, the site is what it was.
    let (again, same) = site(&afresh, (&next, up.day), None);
    assert_eq!(next, same, "{after}");
    if !up.day.is_multiple_of(5) {
        assert!(again == whole, "{after}: {:?}", differing(&again, &whole));
    }
    (up.history, up.day) = (next, up.day + 1);
    for (path, bytes) in &whole {
        let found = only_what_changed.get(path).map(|bytes| String::from_utf8_lossy(bytes));
        assert_eq!(found, Some(String::from_utf8_lossy(bytes)), "{path} {after}");
    }
    assert_eq!(whole.len(), only_what_changed.len(), "{after}");
    assert_eq!(up.memory.forgotten(), 0, "{after}");
    // What is kept for the next run is the same again.
    let bytes = up.memory.to_bytes();
    assert_eq!(Memory::from_bytes("", &bytes), up.memory);
}

#[test]
fn after_any_edits_the_site_is_what_a_full_build_makes() {
    for seed in 0..4u64 {
        let directory = tempfile::tempdir().unwrap();
        begin(directory.path());
        let mut up = Up::default();
        compare(directory.path(), &mut up, "at first");
        for step in 0..22u64 {
            let number = scattered(seed * 1000 + step);
            let mut after = format!("seed {seed} step {step}:");
            for part in 0..1 + number % 3 {
                let which = scattered(number + part);
                after.push_str(&edit(
                    directory.path(),
                    (which >> 8) as usize % 1000,
                    (which % 97) as usize,
                ));
                after.push(' ');
            }
            compare(directory.path(), &mut up, &after);
        }
        let history = &up.history;
        println!(
            "seed {seed}: {} pages kept, {} revisions, {} pages moved",
            up.kept,
            history.revisions.len(),
            history.moved.len()
        );
        assert!(history.revisions.len() > 1, "seed {seed}");
        assert!(up.kept > 40, "seed {seed}: only {} pages were kept", up.kept);
    }
}

#[test]
fn a_memory_that_is_not_whole_or_of_another_program_is_forgotten() {
    let directory = tempfile::tempdir().unwrap();
    begin(directory.path());
    let mut memory = Memory::new("this");
    pipeline::review_remembering(directory.path(), &mut memory, &|_, _| {}).unwrap();
    assert_eq!(memory.len(), 4);
    let bytes = memory.to_bytes();
    assert!(Memory::from_bytes("another", &bytes).is_empty());
    assert!(Memory::from_bytes("this", &bytes[..bytes.len() - 1]).is_empty());
    assert!(Memory::from_bytes("this", b"").is_empty());
    let mut spoiled = bytes.clone();
    spoiled[200] ^= 1;
    assert!(Memory::from_bytes("this", &spoiled).is_empty());
    assert_eq!(Memory::from_bytes("this", &bytes), memory);
}

#[test]
fn what_is_of_no_use_any_more_is_forgotten() {
    let directory = tempfile::tempdir().unwrap();
    begin(directory.path());
    let mut memory = Memory::default();
    for number in 0..5 {
        std::fs::write(
            directory.path().join("fandangos.vtt"),
            format!("WEBVTT\n\n00:01.000 --> 00:02.000\n{number}\n"),
        )
        .unwrap();
        pipeline::review_remembering(directory.path(), &mut memory, &|_, _| {}).unwrap();
        assert_eq!(memory.len(), 4);
    }
}

/// What a note says in any of its ways comes back from memory as it was.
#[test]
fn every_lesson_we_have_is_remembered() {
    for folder in ["sample-notes", "tests/corpus/lessons", "tests/corpus/faulty"] {
        let mut memory = Memory::default();
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let read = pipeline::review_remembering(&folder, &mut memory, &|_, _| {}).unwrap();
        assert!(memory.len() >= 8);
        assert_eq!(memory.forgotten(), 0, "{}", folder.display());
        let recalled = pipeline::review_remembering(&folder, &mut memory, &|_, _| {}).unwrap();
        assert_eq!(lessons(&read), lessons(&recalled));
    }
}
