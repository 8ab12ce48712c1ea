//! The sample course is what it says it is: eleven lessons in every kind of note, ten of them reviewed, nothing private told,
//! and each with the facts that a careful listener would write down (`tests/demo-gold`).

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use compasario::findings::Severity;
use compasario::intake::{self, Folder, NoteKind};
use compasario::pipeline;
use compasario::text::ClockTime;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn sample_notes() -> Folder {
    intake::load(&root().join("sample-notes")).unwrap()
}

/// The value of a head line in any note of each lesson: one entry a lesson, in the order of the folder.
fn heads(folder: &Folder, name: &str) -> Vec<(String, Option<String>)> {
    let lessons = intake::lessons(folder).into_iter();
    let value = |lesson: intake::LessonNotes| {
        let notes = lesson.notes.iter().map(|index| &folder.notes[*index]);
        let mut values = notes.filter_map(|note| note.head_value(name).map(str::to_owned));
        (lesson.id, values.next())
    };
    lessons.map(value).collect()
}

#[test]
fn eleven_lessons_and_the_facts_of_each() {
    let lessons: BTreeSet<String> = intake::lessons(&sample_notes())
        .into_iter()
        .map(|lesson| lesson.id)
        .collect();
    let gold = fs::read_dir(root().join("tests/demo-gold")).unwrap();
    let names = gold.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let gold: BTreeSet<String> = names
        .filter_map(|name| name.strip_suffix(".gold.json").map(str::to_owned))
        .collect();
    assert_eq!(lessons.len(), 11);
    assert_eq!(lessons, gold);
}

#[test]
fn every_kind_of_note_in_both_languages() {
    let folder = sample_notes();
    let kind = |note: &&intake::Note| (note.kind, note.language.clone());
    let kinds: BTreeSet<_> = folder
        .notes
        .iter()
        .filter(|note| note.kind != NoteKind::Corrections)
        .map(|note| kind(&note))
        .collect();
    let spanish = Some("es".to_owned());
    for wanted in [
        (NoteKind::Typed, None),
        (NoteKind::Typed, spanish.clone()),
        (NoteKind::Spoken, None),
        (NoteKind::Spoken, spanish),
    ] {
        assert!(kinds.contains(&wanted), "{wanted:?}");
    }
    let names: Vec<&str> = folder.files.iter().map(|file| file.name.as_str()).collect();
    for ending in [".vtt", ".srt", ".corrections.txt"] {
        assert_eq!(
            names.iter().filter(|name| name.ends_with(ending)).count(),
            1,
            "{ending}"
        );
    }
    assert!(intake::lessons(&folder).iter().any(|lesson| {
        let kinds: Vec<NoteKind> = lesson.notes.iter().map(|index| folder.notes[*index].kind).collect();
        kinds == [NoteKind::Typed, NoteKind::Spoken]
    }));
}

#[test]
fn ten_are_reviewed_and_every_need_is_a_lesson() {
    let folder = sample_notes();
    let reviewed = heads(&folder, "reviewed");
    assert_eq!(reviewed.iter().filter(|(_, date)| date.is_some()).count(), 10);
    assert!(
        reviewed
            .iter()
            .flat_map(|(_, date)| date)
            .all(|date| date.starts_with("2026-10-"))
    );
    let order: BTreeSet<_> = heads(&folder, "order")
        .into_iter()
        .filter_map(|(_, order)| order)
        .collect();
    assert_eq!(order.len(), 10);
    assert_eq!(
        heads(&folder, "recording")
            .iter()
            .filter(|(_, recording)| recording.is_none())
            .count(),
        1
    );
    let ids: Vec<String> = reviewed.into_iter().map(|(id, _)| id).collect();
    for (id, needs) in heads(&folder, "needs") {
        for need in needs.iter().flat_map(|needs| needs.split(", ")) {
            assert!(ids.iter().any(|known| known == need), "{id} needs {need}");
        }
    }
}

#[test]
fn the_files_themselves_are_sound() {
    let folder = sample_notes();
    assert!(folder.findings.is_empty(), "{:#?}", folder.findings);
    assert!(
        folder
            .skipped
            .iter()
            .all(|(name, _)| name.starts_with('_') || name == "course.toml"),
        "{:?}",
        folder.skipped
    );
}

/// The tientos hold what is meant for one student, and the siguiriya what the centre need not know.
#[test]
fn what_is_private_is_sealed() {
    let folder = sample_notes();
    let private = |words: &str| {
        let mut with = folder
            .notes
            .iter()
            .flat_map(|note| &note.cues)
            .filter(|cue| cue.text.contains(words));
        let all = with.clone().all(|cue| cue.private);
        with.next().is_some() && all
    };
    for words in [
        "wrist again",
        "owes for two evenings",
        "He carries the chairs",
        "estufa la pago yo",
    ] {
        assert!(private(words), "{words}");
    }
    assert!(!private("Bring a pencil"));
    assert!(!private("se guarda la guitarra"));
    let sealed = ClockTime::parse("5:31");
    assert!(
        folder
            .notes
            .iter()
            .flat_map(|note| &note.cues)
            .any(|cue| cue.time == sealed && cue.private)
    );
}

/// `sample-notes/_with-mistakes` shows the findings. What is planted stands in `with-mistakes.expected.json`.
#[test]
fn no_finding_but_on_a_planted_line() {
    let expected = fs::read_to_string(root().join("tests/demo-gold/with-mistakes.expected.json")).unwrap();
    let expected: serde_json::Value = serde_json::from_str(&expected).unwrap();
    for (name, mistakes) in expected.as_object().unwrap() {
        let note: PathBuf = root().join("sample-notes/_with-mistakes").join(name);
        let lines: Vec<u64> = mistakes
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|mistake| mistake["lines"].as_array().unwrap())
            .filter_map(serde_json::Value::as_u64)
            .collect();
        let review = pipeline::review(&note).unwrap();
        let serious = review
            .findings
            .iter()
            .filter(|finding| finding.severity > Severity::Note);
        let strange: Vec<_> = serious
            .filter(|finding| !lines.contains(&u64::from(finding.place.line)))
            .collect();
        assert!(strange.is_empty(), "{name}: {strange:#?}");
    }
}
