#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
//! The room that reads the notes: folders and files in, cues out.

use std::fs;
use std::path::Path;

use compasario::intake::{self, Cue, Folder, Note, NoteKind};

/// A notes folder with these files, loaded.
fn folder(files: &[(&str, &str)]) -> (tempfile::TempDir, Folder) {
    let bytes: Vec<(&str, &[u8])> = files.iter().map(|(name, text)| (*name, text.as_bytes())).collect();
    let directory = write(&bytes);
    let folder = intake::load(directory.path()).unwrap();
    (directory, folder)
}

fn write(files: &[(&str, &[u8])]) -> tempfile::TempDir {
    let directory = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        let path = directory.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    directory
}

/// A cue as one line: time, speaker, text, `*` in front when private.
fn shown(cue: &Cue) -> String {
    let time = cue.time.map(|time| format!("{time} ")).unwrap_or_default();
    let speaker = cue
        .speaker
        .as_ref()
        .map(|speaker| format!("<{speaker}> "))
        .unwrap_or_default();
    let private = if cue.private { "* " } else { "" };
    format!("{private}{time}{speaker}{}", cue.text.replace('\n', "/"))
}

fn cues(note: &Note) -> Vec<String> {
    note.cues.iter().map(shown).collect()
}

/// A single file of this name and text: its cues and the rules that found something.
fn check(name: &str, text: &str, expected: &[&str], rules: &[&str]) {
    let (_directory, folder) = folder(&[(name, text)]);
    let found: Vec<&str> = folder.findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert_eq!(cues(&folder.notes[0]), expected, "{name}: {text}");
    assert_eq!(found, rules, "{name}: {text}");
    check_maps(&folder);
}

/// Every letter of a cue leads to a letter of the file, and runs that are the file's own are the file's own.
fn check_maps(folder: &Folder) {
    for cue in folder.notes.iter().flat_map(|note| &note.cues) {
        let source = &folder.files[cue.file.0 as usize].text;
        for (at, letter) in cue.text.char_indices() {
            let span = cue.source_span(at, at + letter.len_utf8());
            assert!(source.is_char_boundary(span.start), "{at} {span:?} in {:?}", cue.text);
            assert!(source.is_char_boundary(span.end), "{at} {span:?} in {:?}", cue.text);
            assert!(span.end <= source.len());
        }
        let whole = cue.source_span(0, cue.text.len());
        assert!(source.get(whole.start..whole.end).is_some());
    }
}

#[test]
fn a_paragraph_of_speech_is_a_cue() {
    check(
        "a.spoken.txt",
        "[0:00] So, one\nand two.\n\n[0:27] Three\n[0:30] four\n\nfive\n",
        &["0:00 So, one and two.", "0:27 Three", "0:30 four", "0:30 five"],
        &[],
    );
}

#[test]
fn a_typed_line_is_a_cue_with_what_stands_below_it() {
    check(
        "a.notes.txt",
        "[0:00] SOLEA\r\n[0:07] 1: i dn\r\nthen 2: i up\r\n\r\ncore\r\n",
        &["0:00 SOLEA", "0:07 1: i dn/then 2: i up", "0:07 core"],
        &[],
    );
}

#[test]
fn columns_stay_under_each_other() {
    check(
        "a.notes.txt",
        "[1:00]  1   2   3\n        dn  up  dn\n",
        &["1:00 1   2   3/dn  up  dn"],
        &[],
    );
    check(
        "a.notes.txt",
        "[1:00]  1   2\nRH:     dn  up\n",
        &["1:00         1   2/RH:     dn  up"],
        &[],
    );
    check(
        "a.notes.txt",
        "      1   2\nRH:   dn  up\n",
        &["      1   2/RH:   dn  up"],
        &[],
    );
    check(
        "a.notes.txt",
        "[1:00] just words\nand more\n",
        &["1:00 just words/and more"],
        &[],
    );
}

#[test]
fn other_ways_of_writing_times() {
    check("a.notes.txt", "(0:01) a\nb\n(0:03) c", &["0:01 a/b", "0:03 c"], &[]);
    check(
        "a.spoken.txt",
        "0:01\nhello\n0:04\nso today\n",
        &["0:01 hello", "0:04 so today"],
        &[],
    );
    check("a.notes.txt", "0:01 a\n0:02 - b", &["0:01 a", "0:02 b"], &[]);
    check(
        "a.notes.txt",
        "[0:01] a\n[0:75] b",
        &["0:01 a", "0:01 b"],
        &["time-not-read"],
    );
    check(
        "a.spoken.txt",
        "[0:01] one [0:03] two [0:05] three",
        &["0:01 one two three"],
        &[],
    );
    check(
        "a.md",
        "# Soleá\n\n- [0:04] 1: i dn\n- [0:06] 2: i up\n",
        &["Soleá", "0:04 1: i dn", "0:06 2: i up"],
        &[],
    );
}

#[test]
fn speakers_are_taken_off_the_words() {
    check(
        "a.spoken.txt",
        "[0:01] Teacher: one\n\n[0:05] Alumno: ¿dos?\nProfesora: dos.\n",
        &["0:01 <Teacher> one", "0:05 <Alumno> ¿dos?", "0:05 <Profesora> dos."],
        &[],
    );
    check("a.notes.txt", "[0:01] core: 1-12", &["0:01 core: 1-12"], &[]);
}

#[test]
fn accents_are_composed_and_lead_back_to_the_file() {
    let (_directory, folder) = folder(&[("a.notes.txt", "\u{feff}[0:01] compa\u{301}s de solea\u{301}")]);
    check_maps(&folder);
    let cue = &folder.notes[0].cues[0];
    assert_eq!(cue.text, "compás de soleá");
    let span = cue.source_span(0, 7);
    assert_eq!(&folder.files[0].text[span.start..span.end], "compa\u{301}s");
    assert_eq!(folder.files[0].line_and_column(span.start), (1, 8));
}

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
