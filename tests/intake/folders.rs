//! Folders: what is read, what is passed over, what cannot be read.

use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::path::Path;

use compasario::intake::{self, NoteKind};

use crate::support::{check_maps, check_rules, cues, folder, write};

#[test]
fn the_corpus_is_read_without_a_finding() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus/lessons");
    let folder = intake::load(&root).unwrap();
    assert_eq!(folder.findings, []);
    check_maps(&folder);
    assert_eq!(folder.notes.len(), 8);
    let typed = folder.notes.iter().filter(|note| note.kind == NoteKind::Typed).count();
    assert_eq!(typed, 3);
    assert!(folder.notes.iter().all(|note| !note.cues.is_empty()));
    assert_eq!(intake::lessons(&folder).len(), 8);
}

/// Loads and shows what was passed over and found: `name: reason` and `name: rule`.
fn passed_over(files: &[(&str, &[u8])]) -> (Vec<String>, Vec<String>) {
    let directory = write(files);
    let folder = intake::load(directory.path()).unwrap();
    let skipped = folder
        .skipped
        .iter()
        .map(|(name, reason)| format!("{name}: {reason}"))
        .collect();
    check_rules(&folder);
    let name = |finding: &compasario::findings::Finding| folder.files[finding.place.file.0 as usize].name.clone();
    let found = folder
        .findings
        .iter()
        .map(|finding| format!("{}: {}: {}", name(finding), finding.rule, finding.message));
    (skipped, found.collect())
}

fn starts(found: &[String], expected: &[&str]) {
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for (found, expected) in found.iter().zip(expected) {
        assert!(found.starts_with(expected), "{found} / {expected}");
    }
}

#[test]
fn what_is_no_note_is_named() {
    let (skipped, found) = passed_over(&[
        ("a.txt", b"recording: sound/take 1.ogg\n\n1: i dn"),
        ("sound/take 1.ogg", b"\x00"),
        ("cover.jpg", b"\xff\xd8"),
        ("LICENSE", b"words"),
        (".git/config", b"x"),
        ("_drafts/b.txt", b"x"),
        ("deep/er/take 1.mp3", b"\x00"),
    ]);
    starts(
        &skipped,
        &[
            ".git/: names that begin with . or _",
            "LICENSE: its name has no ending",
            "_drafts/: names that begin",
            "cover.jpg: a .jpg file is no note",
            "deep/er/take 1.mp3: a .mp3 file is no note",
        ],
    );
    starts(&found, &[]);
}

#[test]
fn what_cannot_be_read_stops_nothing() {
    let utf16: Vec<u8> = "\u{feff}hola".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let (skipped, found) = passed_over(&[
        ("a.txt", b"1: i dn"),
        ("b.txt", b"[0:01] comp\xe1s de doce"),
        ("c.txt", &utf16),
        ("d.txt", &[7, 0, 200, 13, 99]),
        ("e.txt", &[0x9f, 0x1b, 0x02, 0x88, 0x90, 0x05, 0x06]),
        ("f.txt", b"  \n\n"),
        ("g.txt", b"title: only a head\n"),
    ]);
    starts(&skipped, &[]);
    starts(
        &found,
        &[
            "b.txt: file-not-utf-8: byte 12 of this file (0xe1) is not UTF-8, which would be \"á\" in the older Western",
            "c.txt: file-in-utf-16",
            "d.txt: file-not-text: this file is not text: byte 2 of it is zero",
            "e.txt: file-not-text",
            "f.txt: note-empty",
            "g.txt: note-without-text",
        ],
    );
}

#[test]
fn a_byte_that_is_not_utf_8_is_pointed_at() {
    let directory = write(&[("a.txt", b"1: i dn"), ("b.txt", b"[0:01] uno\n[0:05] comp\xe1s")]);
    let folder = intake::load(directory.path()).unwrap();
    let place = folder.findings[0].place;
    assert_eq!((place.line, place.column), (2, 12));
}

#[test]
fn a_file_far_too_large_is_left_out_unread() {
    let directory = write(&[("a.txt", b"1: i dn")]);
    let large = fs::File::create(directory.path().join("b.txt")).unwrap();
    large.set_len(50_000_000).unwrap();
    let folder = intake::load(directory.path()).unwrap();
    check_rules(&folder);
    assert_eq!(folder.findings[0].rule, "file-too-large");
    assert_eq!(
        folder.findings[0].message,
        "this file has 50 MB, far more than any note; it is left out"
    );
    assert_eq!(folder.notes.len(), 1);
}

#[test]
fn folders_that_lead_back_and_broken_links_are_found() {
    let directory = write(&[("a.txt", b"1: i dn"), ("in/b.txt", b"2: i up")]);
    let link = |to: &str, name: &str| std::os::unix::fs::symlink(to, directory.path().join(name)).unwrap();
    link("..", "in/round");
    link("nowhere.txt", "c.txt");
    let folder = intake::load(directory.path()).unwrap();
    check_rules(&folder);
    let rules: Vec<_> = folder.findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert_eq!(rules, ["file-not-readable", "folder-leads-back"]);
    assert_eq!(folder.notes.len(), 2);
}

#[test]
fn a_pipe_named_like_a_note_stops_nothing() {
    let directory = write(&[("a.txt", b"1: i dn")]);
    let made = std::process::Command::new("mkfifo")
        .arg(directory.path().join("b.txt"))
        .status()
        .unwrap();
    assert!(made.success());
    let folder = intake::load(directory.path()).unwrap();
    assert_eq!(
        folder.skipped,
        [("b.txt".to_owned(), "it is not an ordinary file".to_owned())]
    );
}

#[test]
fn strange_names_are_read_and_shown_as_they_are() {
    let names = [
        "a b.txt",
        "it's \"so\".txt",
        "<b>bold.txt",
        "a..b.txt",
        "sole\u{301}a.txt",
        "new\nline.txt",
    ];
    let files: Vec<(&str, &[u8])> = names.iter().map(|name| (*name, b"1: i dn".as_slice())).collect();
    let directory = write(&files);
    fs::write(
        directory.path().join(std::ffi::OsStr::from_bytes(b"b\xff.txt")),
        "1: i dn",
    )
    .unwrap();
    let folder = intake::load(directory.path()).unwrap();
    assert_eq!(folder.notes.len(), names.len() + 1);
    let ids: Vec<String> = intake::lessons(&folder).into_iter().map(|lesson| lesson.id).collect();
    assert_eq!(ids, ["b-bold", "a-b", "a-b-2", "b", "its-so", "new-line", "solea"]);
    assert!(
        ids.iter()
            .all(|id| id.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-'))
    );
}

#[test]
fn a_folder_without_a_note_is_refused() {
    let refused = |files: &[(&str, &[u8])]| intake::load(write(files).path()).unwrap_err().to_string();
    assert!(refused(&[]).contains("this folder is empty"));
    let message = refused(&[("cover.jpg", b"x"), ("b.txt", b"\xe1")]);
    assert!(message.contains("no note in this folder that can be read"), "{message}");
    assert!(message.contains("\"b.txt\": byte 1 of this file"), "{message}");
    assert!(message.contains("\"cover.jpg\": a .jpg file is no note"), "{message}");
    let missing = intake::load(Path::new("/no/such/folder")).unwrap_err().to_string();
    assert_eq!(missing, "/no/such/folder: there is no such file or folder");
}

#[test]
fn the_teachers_own_words_and_palos_are_kept_as_text() {
    let (_directory, folder) = folder(&[
        ("a.txt", "1: i dn"),
        ("words.toml", "x = 1"),
        ("palos.toml", "y = 2"),
        ("in/words.toml", "z"),
    ]);
    assert_eq!(folder.words.map(|source| source.text).as_deref(), Some("x = 1"));
    assert_eq!(folder.palos.map(|source| source.text).as_deref(), Some("y = 2"));
    assert_eq!(folder.skipped.len(), 1);
}

#[test]
fn one_note_comes_with_what_belongs_to_it() {
    let directory = write(&[
        ("solea-1.notes.txt", b"[0:01] 1: i dn"),
        ("solea-1.vtt", b"WEBVTT\n\n00:01.000 --> 00:02.000\nhello"),
        ("other name.spoken.txt", b"lesson: Sole\xc3\xa1 1\n\n[0:03] and so on"),
        ("solea-1.corrections.txt", b"false eta -> falseta"),
        ("tangos.notes.txt", b"title: Tangos one\n\n1: p dn"),
        ("words.toml", b"x = 1"),
        ("cover.jpg", b"x"),
    ]);
    let path = directory.path().join("solea-1.notes.txt");
    let folder = intake::load(&path).unwrap();
    assert_eq!(folder.files[0].name, path.to_string_lossy());
    assert_eq!(folder.asked, Some(folder.notes[0].file));
    let kinds: Vec<NoteKind> = folder.notes.iter().map(|note| note.kind).collect();
    assert_eq!(
        kinds,
        [
            NoteKind::Typed,
            NoteKind::Spoken,
            NoteKind::Corrections,
            NoteKind::Spoken
        ]
    );
    let siblings: Vec<_> = folder
        .siblings
        .iter()
        .map(|sibling| (sibling.id.as_str(), sibling.title.as_deref()))
        .collect();
    assert_eq!(siblings, [("tangos", Some("Tangos one"))]);
    let lessons = intake::lessons(&folder);
    assert_eq!(lessons.len(), 1);
    assert_eq!(lessons[0].notes, [0, 2, 1, 3]);
    assert!(folder.words.is_some());
    assert_eq!(cues(&folder.notes[0]), ["0:01 1: i dn"]);
}

#[test]
fn one_note_that_cannot_be_read_is_a_failure() {
    let directory = write(&[("a.txt", b"comp\xe1s"), ("b.jpg", b"x"), ("c.txt", b"")]);
    let fails = |name: &str| intake::load(&directory.path().join(name)).unwrap_err().to_string();
    assert!(fails("a.txt").contains("is not UTF-8"));
    assert!(fails("b.jpg").contains("a .jpg file is no note"));
    assert!(fails("c.txt").contains("there is nothing in this note"));
    assert!(fails("d.txt").contains("there is no such file"));
}

#[test]
fn a_plain_text_is_typed_or_spoken() {
    let long =
        "and then we come to the third finger, which waits above the string until the thumb has played, ".repeat(3);
    for (text, kind) in [
        (
            "[0:00] tangos\n[0:04] 1: i dn\n[0:09] 2: i up".to_owned(),
            NoteKind::Typed,
        ),
        ("1: i dn\n2: i up\n".to_owned(), NoteKind::Typed),
        (format!("title: A\n\n[0:00] {long}"), NoteKind::Typed),
        (format!("[0:00] {long}\n\n[0:31] {long}"), NoteKind::Spoken),
        (long.clone(), NoteKind::Spoken),
    ] {
        let (_directory, folder) = folder(&[("a.txt", &text)]);
        assert_eq!(folder.notes[0].kind, kind, "{text}");
    }
}

#[test]
fn the_language_is_said_by_name_head_or_captions() {
    for (name, text, language) in [
        ("a.es.txt", "1: i ab", Some("es")),
        ("a.txt", "idioma: español\n\n1: i ab", Some("es")),
        (
            "a.vtt",
            "WEBVTT\nKind: captions\nLanguage: es-ES\n\n00:01.000 --> 00:02.000\nhola",
            Some("es"),
        ),
        ("a.txt", "1: i dn", None),
    ] {
        let (_directory, folder) = folder(&[(name, text)]);
        assert_eq!(folder.notes[0].language.as_deref(), language, "{name}");
        assert_eq!(folder.findings, []);
    }
    let (_directory, folder) = folder(&[("a.txt", "language: Klingon\n\n1: i dn")]);
    assert_eq!(folder.findings[0].rule, "language-unknown");
}

#[test]
fn the_course_says_what_it_is_called() {
    let (_directory, found) = folder(&[
        ("a.txt", "1: i dn"),
        ("course.toml", "title = \"Jueves\"\nlanguage = \"es\""),
    ]);
    assert_eq!(
        (found.course.title.as_str(), found.course.language.as_str()),
        ("Jueves", "es")
    );
    for (text, words) in [
        ("titel = \"Jueves\"", "unknown field `titel`"),
        ("title = Jueves", "nothing of this file is used"),
        ("title = \"A\"\nlanguage = \"fr\"", "\"fr\" is not a language"),
    ] {
        let (_directory, found) = folder(&[("a.txt", "1: i dn"), ("course.toml", text)]);
        assert!(
            found.findings[0].message.contains(words),
            "{}",
            found.findings[0].message
        );
    }
}
