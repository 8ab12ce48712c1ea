//! What one changed note of a thousand costs, beside building all of them: `cargo bench --bench one_changed_note`.
//!
//! Both are measured in one run, one after the other, each three times, the quickest counts. Reading and rendering is
//! from the folder of notes to the pages as values, with what is remembered read and written; the swap is what `disk`
//! does with them, and beside it stands what a copy of the site by hard links takes.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a measurement may stop at the first surprise, and prints"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use compasario::compare::History;
use compasario::disk::{self, KeptFile, Site, Stamp};
use compasario::mark::Mark;
use compasario::pages::{self, Choices, CourseHead, Known, Pages, Publication, SiteInput};
use compasario::pipeline::{self, Memory};

const NOTES: usize = 1_000;
const ROUNDS: usize = 3;

/// The sample notes again and again, under other names, until there are a thousand.
fn notes(folder: &Path) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-notes");
    let mut files: Vec<PathBuf> = fs::read_dir(samples)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.retain(|path| {
        let name = path.file_name().unwrap().to_str().unwrap();
        path.is_file() && !name.starts_with('_') && !name.ends_with(".toml") && !name.contains(".corrections.")
    });
    files.sort();
    for index in 0..NOTES {
        let sample = &files[index % files.len()];
        let name = sample.file_name().unwrap().to_str().unwrap();
        let text = fs::read_to_string(sample).unwrap();
        // Two lessons may not be one by their heads.
        let text: String = text
            .lines()
            .filter(|line| !line.starts_with("lesson:"))
            .map(|line| format!("{line}\n"))
            .collect();
        fs::write(folder.join(format!("n{:04}-{name}", index)), text).unwrap();
    }
}

/// What a build leaves for the next.
#[derive(Default)]
struct Left {
    memory: Vec<u8>,
    marks: BTreeMap<String, Mark>,
    stamps: BTreeMap<String, Stamp>,
}

/// From the folder of notes to the pages: how long it took, and the pages.
fn make(folder: &Path, out: &Path, left: &mut Left, history: Option<&History>) -> (Duration, Pages) {
    let begin = Instant::now();
    let mut memory = Memory::from_bytes("", &left.memory);
    let review = pipeline::review_remembering(folder, &mut memory, &|_, _| {}).unwrap();
    let head = CourseHead::default();
    let input = SiteInput {
        head: &head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices: Choices::default(),
        publication: Publication {
            history,
            date: Some("2026-11-25"),
            base_url: None,
        },
    };
    let holds = |address: &str, mark: Mark| {
        let stamp = left.stamps.get(address);
        left.marks.get(address) == Some(&mark) && stamp.is_some_and(|stamp| disk::stands(out, address, *stamp))
    };
    let known = Known {
        lessons: &review.marks,
        holds: &holds,
    };
    let pages = pages::site_knowing(&input, Some(known)).unwrap();
    left.memory = memory.to_bytes();
    left.marks.clone_from(&pages.marks);
    (begin.elapsed(), pages)
}

fn swap(out: &Path, left: &mut Left, pages: &Pages) -> Duration {
    let kept = pages.kept.iter().map(|path| KeptFile {
        path: path.clone(),
        stamp: left.stamps[path],
    });
    let site = Site {
        files: pages.files.clone(),
        kept: kept.collect(),
        stamps: true,
        ..Site::default()
    };
    let begin = Instant::now();
    left.stamps = disk::publish(out, site).unwrap().stamps;
    begin.elapsed()
}

/// What is to be beaten: the site copied without copying a byte.
fn hard_links(out: &Path, to: &Path) -> Duration {
    let begin = Instant::now();
    assert!(
        Command::new("cp")
            .arg("-al")
            .arg(out)
            .arg(to)
            .status()
            .unwrap()
            .success()
    );
    begin.elapsed()
}

fn main() {
    let directory = tempfile::tempdir().unwrap();
    let path = |name: &str| directory.path().join(name);
    let (folder, out) = (path("notes"), path("site"));
    fs::create_dir(&folder).unwrap();
    notes(&folder);
    let changed = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .max()
        .unwrap();

    let (mut full, mut one) = (Duration::MAX, Duration::MAX);
    let (mut swaps, mut links) = (Duration::MAX, Duration::MAX);
    let mut left = Left::default();
    for _ in 0..ROUNDS {
        left.memory = Vec::new();
        left.marks.clear();
        full = full.min(make(&folder, &out, &mut left, None).0);
    }
    let (_, pages) = make(&folder, &out, &mut left, None);
    swap(&out, &mut left, &pages);
    let mut history = pages.history;
    for round in 0..ROUNDS {
        let text = fs::read_to_string(&changed).unwrap();
        fs::write(
            &changed,
            format!("{text}\n[9:{round:02}] and the ring finger stays down on the third string\n"),
        )
        .unwrap();
        let (took, pages) = make(&folder, &out, &mut left, Some(&history));
        println!("{} pages made, {} kept", pages.files.len(), pages.kept.len());
        one = one.min(took);
        swaps = swaps.min(swap(&out, &mut left, &pages));
        links = links.min(hard_links(&out, &path(&format!("copy{round}"))));
        history = pages.history;
    }
    let seconds = |time: Duration| time.as_secs_f64();
    println!("reading and rendering {NOTES} notes: {:.2} s", seconds(full));
    println!(
        "the same for one changed note: {:.2} s, ratio {:.3}",
        seconds(one),
        seconds(one) / seconds(full)
    );
    println!(
        "the swap: {:.2} s; a copy of the site by hard links: {:.2} s",
        seconds(swaps),
        seconds(links)
    );
}
