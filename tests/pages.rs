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
#[path = "pages/private.rs"]
mod private;
#[path = "pages/read_back.rs"]
mod read_back;
#[path = "pages/words.rs"]
mod words_and_colours;

use compasario::disk::OutputFile;
use compasario::music::palo::PaloTable;
use compasario::music::pattern::Pattern;
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
        publication: pages::Publication::default(),
    })
    .unwrap()
}

/// The sites that every rule below is held against.
type Sites = Vec<(&'static str, Vec<OutputFile>)>;

fn sites() -> &'static Sites {
    static SITES: std::sync::OnceLock<Sites> = std::sync::OnceLock::new();
    SITES.get_or_init(build_sites)
}

fn build_sites() -> Sites {
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
        let faults = links::faults(files, |address| address.starts_with("recordings/"));
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
    let mut compared = 0;
    for course in [fixtures::gold(), fixtures::voices()] {
        let files = build(&course, Choices::default());
        for lesson in &course.lessons {
            let page = text(&files, &format!("lessons/{}.html", lesson.id));
            for sheet in ["drawing-narrow", "drawing-wide"] {
                let drawings: Vec<&str> = pictures(page, sheet);
                assert_eq!(drawings.len(), lesson.patterns.len(), "{}", lesson.id);
                for (pattern, drawing) in lesson.patterns.iter().zip(drawings) {
                    let (strokes, changes) = read_back::read(drawing);
                    assert_eq!(strokes, gold_strokes(pattern), "{} {} {sheet}", lesson.id, pattern.name);
                    assert_eq!(changes, gold_changes(pattern), "{} {} {sheet}", lesson.id, pattern.name);
                    compared += strokes.len();
                }
            }
        }
    }
    assert!(compared > 1000, "{compared}");
}

fn gold_changes(pattern: &Pattern) -> Vec<(String, String)> {
    let mut changes: Vec<(String, String)> = pattern
        .changes
        .iter()
        .map(|change| (change.at.to_string(), change.chord.to_string()))
        .collect();
    changes.sort();
    changes
}

fn gold_strokes(pattern: &Pattern) -> Vec<read_back::Seen> {
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

#[test]
fn the_same_notes_give_the_same_bytes() {
    assert_eq!(
        build(&fixtures::gold(), Choices::default()),
        build(&fixtures::gold(), Choices::default())
    );
}

#[test]
fn text_of_a_note_is_always_escaped() {
    for file in build(&by_hand::all(), Choices::default()) {
        let page = String::from_utf8_lossy(&file.bytes);
        assert!(
            !page.contains("<script>alert") && !page.contains("<img"),
            "{}",
            file.path
        );
        assert!(!page.contains("javascript:"), "{}", file.path);
        assert!(!file.path.contains(".."), "{}", file.path);
    }
}

#[test]
fn every_picture_is_well_formed() {
    let mut pictures = 0;
    for (_, files) in sites() {
        for file in files.iter().filter(|file| file.path.ends_with(".html")) {
            let page = String::from_utf8_lossy(&file.bytes);
            for start in page.match_indices("<svg").map(|(at, _)| at) {
                let svg = page[start..].split_inclusive("</svg>").next().unwrap();
                let document = roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{}: {error}", file.path));
                let root = document.root_element();
                // A picture either says what it is or keeps silent beside words that do.
                let titled = root
                    .descendants()
                    .any(|node| node.has_tag_name("title") && node.text().is_some());
                assert!(
                    titled || root.attribute("aria-hidden") == Some("true"),
                    "{}: {svg:.120}",
                    file.path
                );
                pictures += 1;
            }
        }
    }
    assert!(pictures > 500, "{pictures}");
}

#[test]
fn a_lesson_that_is_not_checked_says_so_and_strict_leaves_it_out() {
    let course = fixtures::gold();
    let words = "has not yet checked this reading";
    let files = build(&course, Choices::default());
    for lesson in course.lessons.iter().filter(|lesson| lesson.language == "en") {
        for page in ["lessons", "to-send"] {
            let page = text(&files, &format!("{page}/{}.html", lesson.id));
            assert_eq!(page.contains(words), lesson.id == "sevillanas-opening", "{}", lesson.id);
        }
    }
    let strict = build(
        &course,
        Choices {
            strict: true,
            copy_recordings: false,
        },
    );
    assert!(
        !strict.iter().any(|file| file.path.contains("sevillanas")),
        "a page was left in"
    );
    let whole: String = strict
        .iter()
        .map(|file| String::from_utf8_lossy(&file.bytes).into_owned())
        .collect();
    assert!(!whole.contains("sevillanas-opening"), "a link was left in");
}

#[test]
fn a_page_to_send_needs_nothing_beside_it() {
    let files = build(
        &fixtures::gold(),
        Choices {
            strict: false,
            copy_recordings: true,
        },
    );
    for file in files.iter().filter(|file| file.path.starts_with("to-send/")) {
        let page = String::from_utf8_lossy(&file.bytes);
        for links::Attribute { tag, name, value } in links::attributes(&page) {
            if matches!(name.as_str(), "href" | "src") {
                assert!(
                    tag == "a" && (value.starts_with('#') || value.starts_with("http")),
                    "{}: {value}",
                    file.path
                );
            }
        }
        assert!(page.contains("<style>"), "{}", file.path);
        assert!(!page.contains("@import") && !page.contains("url("), "{}", file.path);
    }
}

#[test]
fn spanish_lessons_speak_spanish() {
    let course = fixtures::gold();
    let files = build(&course, Choices::default());
    for lesson in &course.lessons {
        let page = text(&files, &format!("lessons/{}.html", lesson.id));
        assert!(
            page.contains(&format!("<html lang=\"{}\">", lesson.language)),
            "{}",
            lesson.id
        );
        assert_eq!(
            page.contains("Las palabras del profesor"),
            lesson.language == "es",
            "{}",
            lesson.id
        );
    }
}

#[test]
fn an_address_is_kept_by_its_first_holder() {
    let mut course = fixtures::gold();
    let mut twin = course.lessons[0].clone();
    twin.title = Some(by_hand::said("Another".to_owned()));
    course.lessons.push(twin);
    let files = build(&course, Choices::default());
    let address = format!("lessons/{}.html", course.lessons[0].id);
    assert!(text(&files, &address).contains("<h1>Alegrias in E</h1>"));
    assert!(text(&files, &address.replace(".html", "-2.html")).contains("<h1>Another</h1>"));
}

/// The words of a text, folded, in order.
fn words(text: &str) -> Vec<String> {
    let folded = compasario::text::fold(text).text;
    folded
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn nothing_private_and_no_name_is_published() {
    let course = private::course();
    let files = build(
        &course,
        Choices {
            strict: false,
            copy_recordings: true,
        },
    );
    // Pairs of words that our own pages have too say nothing of the note.
    let without = build(&by_hand::course(Vec::new()), Choices::default());
    let ours = without
        .iter()
        .map(|file| words(&links::unescape(&String::from_utf8_lossy(&file.bytes))));
    let ours: Vec<Vec<String>> = ours.collect();
    for file in &files {
        let page = words(&links::unescape(&String::from_utf8_lossy(&file.bytes)));
        for (line, _) in private::lines()
            .iter()
            .filter(|(line, private)| *private || line.contains("Almu"))
        {
            for pair in words(line).windows(2) {
                let common = ours.iter().any(|page| page.windows(2).any(|two| two == pair));
                assert!(
                    common || !page.windows(2).any(|two| two == pair),
                    "{} says {pair:?}",
                    file.path
                );
            }
        }
        assert!(
            !page.iter().any(|word| word == "rosalinda" || word == "quevedo"),
            "{} names a person",
            file.path
        );
        assert!(!file.path.contains("rosalinda"), "{}", file.path);
    }
    let page = text(&files, "lessons/tangos.html");
    // Public facts are there, and what was private has left no trace in the drawing or beside it.
    assert!(page.contains("down with the index on one"));
    let (strokes, changes) = read_back::read(pictures(page, "drawing-narrow")[0]);
    let seen: Vec<(&str, &str)> = strokes
        .iter()
        .map(|seen| (seen.at.as_str(), seen.action.as_str()))
        .collect();
    assert_eq!(seen, [("1", "down"), ("2", "up")]);
    assert_eq!(changes, [("1".to_owned(), "A".to_owned())]);
    for trace in [
        "C♯m",
        "x02225",
        "fret 7",
        "alzap",
        "example.org",
        "techniques/tremolo.html#",
        "zanahoria",
    ] {
        assert!(!page.contains(trace), "{trace} is still there");
    }
}
