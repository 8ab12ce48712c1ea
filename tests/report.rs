//! The teacher's report: everything found is on the page, every link leads somewhere, and nothing of a note is markup.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use compasario::checks;
use compasario::pages;
use compasario::pipeline::{self, Review};
use compasario::report::{self, CellState, Report};
use regex::Regex;

fn notes(folder: &str) -> Review {
    pipeline::review(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap()
}

fn report_of(review: &Review) -> Report {
    report::report(&report::Input {
        folder: &review.folder,
        lessons: &review.lessons,
        palos: &review.palos,
        findings: &review.findings,
        let_stand: &review.let_stand,
    })
}

fn written(folder: &tempfile::TempDir, notes: &[(&str, &str)]) -> Review {
    for (name, text) in notes {
        fs::write(folder.path().join(name), text).unwrap();
    }
    pipeline::review(folder.path()).unwrap()
}

#[test]
fn every_finding_is_told_once_in_its_lesson() {
    let review = notes("tests/corpus/faulty");
    let report = report_of(&review);
    let told: usize = report.lessons.iter().map(|lesson| lesson.findings.len()).sum();
    let found = review
        .findings
        .iter()
        .filter(|finding| finding.rule != "sentence-not-understood");
    assert_eq!(told + report.files.len(), found.count());
    let counts = report.counts;
    assert_eq!(
        counts.errors + counts.warnings + counts.notes,
        told + report.files.len()
    );
}

#[test]
fn every_link_leads_to_something_on_the_page_and_every_check_is_explained() {
    for folder in ["tests/corpus/faulty", "sample-notes"] {
        let page = pages::report(&report_of(&notes(folder)), "en").unwrap();
        let all = |pattern: &str| -> Vec<String> {
            let of = Regex::new(pattern).unwrap();
            of.captures_iter(&page).map(|found| found[1].to_owned()).collect()
        };
        let ids = all(r#" id="([^"]+)""#);
        let distinct: BTreeSet<&String> = ids.iter().collect();
        assert_eq!(ids.len(), distinct.len(), "{folder}: an id twice");
        for href in all(r##"href="#([^"]+)""##) {
            assert!(distinct.contains(&href), "{folder}: #{href} is nowhere");
        }
        for rule in checks::rules() {
            assert!(
                distinct.contains(&format!("check-{}", rule.id)),
                "{} is not explained",
                rule.id
            );
        }
        assert!(
            !page.contains("<script") && !page.contains("http"),
            "{folder}: the page fetches something"
        );
    }
}

#[test]
fn nothing_of_a_note_is_markup() {
    let folder = tempfile::tempdir().unwrap();
    let note =
        "[0:00] Tangos <b>por medio</b>, A phrygian\n[0:05] count 4, acc 2 3 4 9 <img src=x>\n[0:10] 1 p dn, 2 i dn\n";
    let review = written(&folder, &[("tangos.notes.txt", note)]);
    let page = pages::report(&report_of(&review), "es").unwrap();
    assert!(page.contains("&lt;img src=x&gt;") && !page.contains("<img"), "{page}");
}

#[test]
fn counts_are_filled_silent_the_cores_or_open() {
    let folder = tempfile::tempdir().unwrap();
    let note = "[0:00] Tangos por medio, A phrygian\n[0:05] count 4, acc 2 3 4\n[0:07] A x02220\n\
        [0:10] 1 rest, 2 i dn, & i up, 4 i dn\n[0:30] V1, replaces 3-4: 3 p dn, 4 i up\n";
    let review = written(&folder, &[("tangos.notes.txt", note)]);
    let coverage = &report_of(&review).lessons[0].coverage;
    let states: Vec<Vec<CellState>> = coverage
        .rows
        .iter()
        .map(|row| row.cells.iter().map(|cell| cell.state).collect())
        .collect();
    use CellState::{Core, Open, Silent, Struck};
    assert_eq!(states, [[Silent, Struck, Open, Struck], [Core, Core, Struck, Struck]]);
    assert_eq!(coverage.rows[0].open, [3]);
    let accents: Vec<bool> = coverage.counts.iter().map(|counted| counted.accent).collect();
    assert_eq!(accents, [false, true, true, true]);
}

#[test]
fn what_lessons_say_together_is_held_side_by_side() {
    let folder = tempfile::tempdir().unwrap();
    let one = "order: 1\npalo: tangos\n\n[0:05] count 4, acc 2 3 4\n[0:07] Bb x13331\n[0:10] 1 p dn (Bb), 2 rasgueado x a m i\n";
    let two = "order: 2\npalo: tangos\n\n[0:05] count 4, acc 2 4\n[0:07] Bb x1333x\n[0:10] 1 p dn (Bb)\n";
    let review = written(&folder, &[("one.notes.txt", one), ("two.notes.txt", two)]);
    let together = report_of(&review).together;
    let bb = together.chords.iter().find(|chord| chord.name == "Bb").unwrap();
    assert!(bb.differs && bb.ways.len() == 2, "{bb:?}");
    assert!(together.accents[0].differs, "{:?}", together.accents);
    assert_eq!(
        together.order.iter().map(|(place, ..)| *place).collect::<Vec<_>>(),
        [1, 2]
    );
}
