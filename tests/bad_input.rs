//! Folders that no teacher means to give: each gets a clear message and the exit status of the manual, and nothing outside of
//! the site is touched.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A lesson that says enough for a page.
const LESSON: &str =
    "title: Tangos\npalo: tangos\nreviewed: 2026-02-01\n\n[0:04] Count 4. On 1, index down on A. On 2, golpe.\n";

/// One folder, and what `build` has to say of it.
struct Case {
    name: &'static str,
    /// Makes the notes folder, inside a folder of its own.
    make: fn(&Path),
    status: i32,
    /// Parts of what is said, in any order.
    says: &'static [&'static str],
    /// The pages of lessons that stand afterwards; `None` when there is no site.
    lessons: Option<&'static [&'static str]>,
}

const CASES: &[Case] = &[
    Case {
        name: "an empty folder",
        make: |_| {},
        status: 2,
        says: &["this folder is empty", ".txt, .md, .vtt or .srt"],
        lessons: None,
    },
    Case {
        name: "a folder without a note",
        make: |notes| {
            put(notes, "photo.png", b"\x89PNG");
            put(notes, "song.mp3", b"ID3");
        },
        status: 2,
        says: &["no note in this folder", "photo.png", "song.mp3"],
        lessons: None,
    },
    Case {
        name: "a folder that leads back to itself",
        make: |notes| {
            put(notes, "tangos.txt", LESSON.as_bytes());
            #[cfg(unix)]
            std::os::unix::fs::symlink(".", notes.join("again")).unwrap();
        },
        status: 1,
        says: &["again", "leads back to the notes folder itself"],
        lessons: Some(&["tangos.html"]),
    },
    Case {
        name: "a file of 50 MB beside a lesson",
        make: |notes| {
            put(notes, "tangos.txt", LESSON.as_bytes());
            put(notes, "huge.txt", &b"[0:01] on 1, index down. \n".repeat(2_000_000));
        },
        status: 1,
        says: &["huge.txt", "52 MB, far more than any note"],
        lessons: Some(&["tangos.html"]),
    },
    Case {
        name: "files of random bytes beside a lesson",
        make: |notes| {
            put(notes, "tangos.txt", LESSON.as_bytes());
            put(notes, "noise.txt", &noise(40_000));
            put(notes, "noise.vtt", &noise(40_000));
        },
        status: 1,
        says: &["noise.txt", "noise.vtt", "not text"],
        lessons: Some(&["tangos.html"]),
    },
    Case {
        name: "a note with only a head",
        make: |notes| {
            put(
                notes,
                "tangos.txt",
                b"title: Tangos\npalo: tangos\nreviewed: 2026-02-01\n",
            )
        },
        status: 0,
        says: &["a head and nothing below it"],
        lessons: Some(&["tangos.html"]),
    },
    Case {
        name: "two notes that make one address",
        make: |notes| {
            put(notes, "Día Uno.txt", LESSON.as_bytes());
            put(notes, "dia-uno.txt", LESSON.as_bytes());
        },
        status: 0,
        says: &[
            "\"Día Uno.txt\"",
            "\"dia-uno.txt\"",
            "both make the address \"dia-uno\"",
        ],
        lessons: Some(&["dia-uno-2.html", "dia-uno.html"]),
    },
    Case {
        name: "names with spaces, quotes, brackets and dots",
        make: |notes| {
            put(notes, "a b 'c' \"d\" <i>e.txt", LESSON.as_bytes());
            put(notes, "..up..txt", LESSON.as_bytes());
            put(notes, "x....txt", LESSON.as_bytes());
        },
        status: 0,
        says: &["..up..txt: names that begin with . or _ are left alone"],
        lessons: Some(&["a-b-c-d-i-e.html", "x.html"]),
    },
    Case {
        name: "marks of a page inside a note",
        make: |notes| {
            let text = LESSON.replace("title: Tangos", "title: <script>alert(1)</script> \"&\"");
            put(
                notes,
                "tangos.txt",
                text.replace("golpe", "golpe <img src=x>").as_bytes(),
            );
        },
        status: 0,
        says: &["1 lesson"],
        lessons: Some(&["tangos.html"]),
    },
];

fn put(folder: &Path, name: &str, bytes: &[u8]) {
    fs::write(folder.join(name), bytes).unwrap();
}

/// Bytes that look like nothing, the same at every run.
fn noise(length: usize) -> Vec<u8> {
    let mut state: u32 = 0x2545_f491;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        (state >> 24) as u8
    };
    (0..length).map(|_| next()).collect()
}

fn build(notes: &Path, site: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_compasario"))
        .args(["build", notes.to_str().unwrap(), "--out", site.to_str().unwrap()])
        .env("NO_COLOR", "1")
        .output()
        .unwrap()
}

/// Every file below a folder with its bytes; links are not followed.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(Result::unwrap)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| (entry.path().to_owned(), fs::read(entry.path()).unwrap()))
        .collect()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn each_is_told_plainly_and_touches_nothing_but_the_site() {
    for case in CASES {
        let around = tempfile::tempdir().unwrap();
        let (notes, site) = (around.path().join("notes"), around.path().join("site"));
        fs::create_dir(&notes).unwrap();
        put(around.path(), "neighbour.txt", b"not ours");
        (case.make)(&notes);
        let before = contents(&notes);

        let output = build(&notes, &site);

        let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
        let flat: String = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(output.status.code(), Some(case.status), "{}: {said}", case.name);
        for part in case.says {
            assert!(flat.contains(part), "{}: {part:?} is not said in\n{said}", case.name);
        }
        let expected: &[&str] = match case.lessons {
            Some(pages) => {
                assert_eq!(names(&site.join("lessons")), pages, "{}", case.name);
                &["neighbour.txt", "notes", "site"]
            }
            None => &["neighbour.txt", "notes"],
        };
        let mut around_it = names(around.path());
        around_it.retain(|name| !name.starts_with('.'));
        assert_eq!(around_it, expected, "{}", case.name);
        assert_eq!(contents(&notes), before, "{}: the notes are as they were", case.name);
        assert_eq!(fs::read(around.path().join("neighbour.txt")).unwrap(), b"not ours");
    }
}

#[test]
fn what_a_note_says_is_never_a_mark_of_the_page() {
    let around = tempfile::tempdir().unwrap();
    let (notes, site) = (around.path().join("notes"), around.path().join("site"));
    fs::create_dir(&notes).unwrap();
    let case = CASES.last().unwrap();
    (case.make)(&notes);
    build(&notes, &site);
    for (path, bytes) in contents(&site) {
        if path.extension().is_some_and(|ending| ending == "html") {
            let page = String::from_utf8(bytes).unwrap();
            assert!(!page.contains("<script>alert"), "{}", path.display());
            assert!(!page.contains("<img src=x"), "{}", path.display());
        }
    }
    let page = fs::read_to_string(site.join("lessons/tangos.html")).unwrap();
    assert!(
        page.contains("&lt;script&gt;alert(1)&lt;"),
        "the title is shown as it was written"
    );
}
