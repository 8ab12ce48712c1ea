//! Random edits, one after another: what is remembered never shows.

use std::collections::BTreeMap;
use std::path::Path;

use compasario::mark::Mark;
use compasario::pages::{self, Choices, CourseHead, Known, SiteInput};
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
}

fn site(review: &Review, up: Option<&mut Up>) -> Files {
    let said = &review.folder.course;
    let head = CourseHead {
        title: said.title.clone(),
        about: said.about.clone(),
        language: said.language.clone(),
    };
    let input = SiteInput {
        head: &head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices: Choices::default(),
    };
    let values = |files: Vec<compasario::disk::OutputFile>| -> Files {
        files.into_iter().map(|file| (file.path, file.bytes)).collect()
    };
    let Some(up) = up else {
        return values(pages::site(&input).unwrap());
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
    files
}

fn lessons(review: &Review) -> String {
    format!("{:?} {:?} {:?}", review.lessons, review.published, review.findings)
}

fn compare(folder: &Path, up: &mut Up, after: &str) {
    let remembering = pipeline::review_remembering(folder, &mut up.memory, &|_, _| {}).unwrap();
    let afresh = pipeline::review(folder).unwrap();
    assert_eq!(lessons(&remembering), lessons(&afresh), "{after}");
    let whole = site(&afresh, None);
    let only_what_changed = site(&remembering, Some(up));
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
        println!("seed {seed}: {} pages kept", up.kept);
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
