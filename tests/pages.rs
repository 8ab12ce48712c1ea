//! The pages: whole sites from lessons, checked as a reader's browser would find them.
//!
//! With COMPASARIO_LOOK=FOLDER the sites are written there, to be looked at.
#![allow(clippy::unwrap_used, reason = "a test says what went wrong by failing")]

#[path = "pages/by_hand.rs"]
mod by_hand;
#[path = "pages/fixtures.rs"]
mod fixtures;
#[path = "pages/links.rs"]
mod links;
#[path = "pages/read_back.rs"]
mod read_back;

use compasario::disk::OutputFile;
use compasario::music::palo::PaloTable;
use compasario::pages::{self, Choices, CourseHead, SiteInput};

use fixtures::Course;

fn build(course: &Course, choices: Choices) -> Vec<OutputFile> {
    let head = CourseHead {
        title: "Thursday evening guitar".to_owned(),
        about: "Accompaniment, one palo at a time, from the evening class at the cultural centre.".to_owned(),
        language: String::new(),
    };
    let (lessons, folder) = (&course.lessons, &course.folder);
    pages::site(&SiteInput {
        head: &head,
        lessons,
        folder,
        palos: PaloTable::ours(),
        choices,
    })
    .unwrap()
}

/// The sites that every rule below is held against.
fn sites() -> Vec<(&'static str, Vec<OutputFile>)> {
    let strict = Choices {
        strict: true,
        copy_recordings: false,
    };
    let mut with_recordings = fixtures::gold();
    for (index, lesson) in with_recordings.lessons.iter_mut().enumerate() {
        let said = [
            "sound/lesson.mp3",
            "https://example.org/watch?id=1",
            "class.mp4",
            "https://example.org/w?from={seconds}",
        ];
        lesson.recording = Some(by_hand::said(said[index % said.len()].to_owned()));
    }
    let sites = vec![
        ("gold", build(&fixtures::gold(), Choices::default())),
        ("by-hand", build(&by_hand::all(), Choices::default())),
        ("strict", build(&fixtures::gold(), strict)),
        (
            "recordings",
            build(
                &with_recordings,
                Choices {
                    strict: false,
                    copy_recordings: true,
                },
            ),
        ),
        ("empty", build(&by_hand::course(Vec::new()), Choices::default())),
    ];
    if let Ok(folder) = std::env::var("COMPASARIO_LOOK") {
        for (name, files) in &sites {
            write(&std::path::Path::new(&folder).join(name), files);
        }
    }
    sites
}

fn write(folder: &std::path::Path, files: &[OutputFile]) {
    for file in files {
        let path = folder.join(&file.path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, &file.bytes).unwrap();
    }
}

#[test]
fn every_link_leads_somewhere_and_nothing_is_asked_for_outside() {
    for (name, files) in sites() {
        // The recordings themselves are copied by the command that writes the site.
        let faults = links::faults(&files, |address| address.starts_with("recordings/"));
        assert_eq!(faults, Vec::<String>::new(), "{name}");
    }
}

#[test]
fn a_broken_link_would_be_found() {
    let mut files = build(&fixtures::gold(), Choices::default());
    files.retain(|file| file.path != "glossary.html");
    assert!(!links::faults(&files, |_| false).is_empty());
}

/// Every stroke of the corpus comes back from the picture for a telephone alone, as it stands in the gold facts.
#[test]
fn a_drawing_says_every_stroke() {
    let course = fixtures::gold();
    let files = build(&course, Choices::default());
    let mut compared = 0;
    for lesson in &course.lessons {
        let page = text(&files, &format!("lessons/{}.html", lesson.id));
        for sheet in ["drawing-narrow", "drawing-wide"] {
            let drawings: Vec<&str> = pictures(page, sheet);
            assert_eq!(drawings.len(), lesson.patterns.len(), "{}", lesson.id);
            for (pattern, drawing) in lesson.patterns.iter().zip(drawings) {
                let (strokes, changes) = read_back::read(drawing);
                assert_eq!(strokes, gold_strokes(pattern), "{} {} {sheet}", lesson.id, pattern.name);
                let gold: Vec<(String, String)> = pattern
                    .changes
                    .iter()
                    .map(|change| (change.at.to_string(), change.chord.to_string()))
                    .collect();
                assert_eq!(changes, gold, "{} {} {sheet}", lesson.id, pattern.name);
                compared += strokes.len();
            }
        }
    }
    assert!(compared > 300, "{compared}");
}

fn gold_strokes(pattern: &compasario::music::pattern::Pattern) -> Vec<read_back::Seen> {
    let mut strokes: Vec<read_back::Seen> = pattern
        .strokes
        .iter()
        .map(|stroke| {
            let mut strings = stroke.strings.clone();
            strings.sort();
            read_back::Seen {
                at: stroke.at.to_string(),
                action: serde_json::to_value(stroke.action)
                    .unwrap()
                    .as_str()
                    .unwrap()
                    .to_owned(),
                fingers: stroke
                    .fingers
                    .iter()
                    .map(|finger| finger.letter().to_string())
                    .collect(),
                strings,
                note: stroke.note.map_or(String::new(), |note| note.to_string()),
                rest_stroke: stroke.rest_stroke == Some(true),
            }
        })
        .collect();
    strokes.sort();
    strokes
}

fn text<'a>(files: &'a [OutputFile], path: &str) -> &'a str {
    let file = files
        .iter()
        .find(|file| file.path == path)
        .unwrap_or_else(|| panic!("there is no {path}"));
    std::str::from_utf8(&file.bytes).unwrap()
}

/// The pictures of one class on a page, in order.
fn pictures<'a>(page: &'a str, class: &str) -> Vec<&'a str> {
    let opening = format!("<svg class=\"{class}\"");
    let starts = page.match_indices(&opening).map(|(at, _)| &page[at..]);
    starts
        .map(|rest| rest.split_inclusive("</svg>").next().unwrap())
        .collect()
}
