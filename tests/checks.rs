//! Each check on its fixture: a note that trips it, and the same put right.
//!
//! In a fixture, what is found stands under the words it points at, as `| ^^^ error: the-check`. A fixture tells the
//! findings of its own check, and every other error or warning: a sound note has none. `UPDATE_GOLDEN=1` writes them.

use std::fs;
use std::path::{Path, PathBuf};

use compasario::checks::{CHECKS, Run};
use compasario::findings::{Finding, Severity};
use compasario::pipeline;

/// One of the two halves of a fixture.
struct Half {
    name: String,
    notes: Vec<(String, Vec<String>)>,
}

fn halves(fixture: &str) -> Vec<Half> {
    let mut halves: Vec<Half> = Vec::new();
    for line in fixture.lines() {
        if let Some(name) = line.strip_prefix("== ") {
            halves.push(Half {
                name: name.to_owned(),
                notes: Vec::new(),
            });
        } else if let Some(name) = line.strip_prefix("-- ") {
            halves.last_mut().unwrap().notes.push((name.to_owned(), Vec::new()));
        } else if !line.starts_with('|') {
            halves
                .last_mut()
                .unwrap()
                .notes
                .last_mut()
                .unwrap()
                .1
                .push(line.to_owned());
        }
    }
    for (_, lines) in halves.iter_mut().flat_map(|half| &mut half.notes) {
        while lines.last().is_some_and(String::is_empty) {
            lines.pop();
        }
    }
    halves
}

/// The half with what is found in it written under the words.
fn annotated(half: &Half, id: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    for (name, lines) in &half.notes {
        fs::write(folder.path().join(name), lines.join("\n") + "\n").unwrap();
    }
    let review = pipeline::review(folder.path()).unwrap();
    let told = |finding: &&Finding| finding.rule == id || finding.severity > Severity::Note;
    let mut text = format!("== {}\n", half.name);
    for (name, lines) in &half.notes {
        text.push_str(&format!("-- {name}\n"));
        let file = review.folder.files.iter().find(|source| source.name == *name).unwrap();
        for (index, line) in lines.iter().enumerate() {
            text.push_str(&format!("{line}\n"));
            let here = |finding: &&Finding| finding.place.file == file.id && finding.place.line as usize == index + 1;
            for finding in review.findings.iter().filter(told).filter(here) {
                text.push_str(&under(finding, file.slice(finding.place.span)));
            }
        }
        text.push('\n');
    }
    text.trim_end().to_owned() + "\n"
}

fn under(finding: &Finding, words: &str) -> String {
    // The bar takes the first column, so a finding there loses its first sign.
    let before = " ".repeat((finding.place.column as usize).saturating_sub(2));
    let wide = words.lines().next().unwrap_or("").chars().count();
    let wide = if finding.place.column == 1 {
        wide.saturating_sub(1)
    } else {
        wide
    };
    let severity = format!("{:?}", finding.severity).to_lowercase();
    format!("|{before}{} {severity}: {}\n", "^".repeat(wide.max(1)), finding.rule)
}

fn fixtures() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    paths
}

#[test]
fn each_fixture_says_what_is_found() {
    let update = std::env::var_os("UPDATE_GOLDEN").is_some() && std::env::var_os("CI").is_none();
    let mut differing = Vec::new();
    for path in fixtures() {
        let id = path.file_stem().unwrap().to_string_lossy().into_owned();
        let written = fs::read_to_string(&path).unwrap();
        let halves = halves(&written);
        assert_eq!(
            halves.iter().map(|half| half.name.as_str()).collect::<Vec<_>>(),
            ["trips", "right"],
            "{id}"
        );
        let found = halves
            .iter()
            .map(|half| annotated(half, &id))
            .collect::<Vec<_>>()
            .join("\n");
        if found != written {
            differing.push(format!(
                "{id}:\n{}",
                similar::TextDiff::from_lines(&written, &found).unified_diff()
            ));
            if update {
                fs::write(&path, &found).unwrap();
            }
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

/// What a fixture says must itself be right: the first half trips its check and nothing else, the second trips nothing.
#[test]
fn each_fixture_trips_its_check_and_no_other() {
    for path in fixtures() {
        let id = path.file_stem().unwrap().to_string_lossy().into_owned();
        let written = fs::read_to_string(&path).unwrap();
        let (trips, right) = written.split_once("== right").unwrap();
        let marks = |half: &str| -> Vec<String> {
            let lines = half.lines().filter(|line| line.starts_with('|'));
            lines
                .map(|line| line.rsplit(' ').next().unwrap_or("").to_owned())
                .collect()
        };
        let tripped = marks(trips);
        assert!(
            !tripped.is_empty() && tripped.iter().all(|rule| *rule == id),
            "{id}: trips {tripped:?}"
        );
        assert_eq!(marks(right), Vec::<String>::new(), "{id}: not put right");
    }
}

/// Checks whose example is no typed note: what a recogniser heard.
const NOT_TYPED: [&str; 1] = ["word-misheard"];

/// What `check --explain` prints can be tried as it stands.
#[test]
fn the_example_of_each_check_of_one_note_trips_it() {
    let found = |note: &str, id: &str| {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("lesson.notes.txt"), format!("{note}\n")).unwrap();
        let review = pipeline::review(folder.path()).unwrap();
        review.findings.iter().any(|finding| finding.rule == id)
    };
    let of_one_note = CHECKS
        .iter()
        .filter(|check| matches!(check.run, Run::Lesson(_) | Run::Remark(_)));
    for check in of_one_note.filter(|check| !NOT_TYPED.contains(&check.id)) {
        assert!(found(check.example.trips, check.id), "{} is not tripped", check.id);
        assert!(!found(check.example.right, check.id), "{} is not put right", check.id);
    }
}
