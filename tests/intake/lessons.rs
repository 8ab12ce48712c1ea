//! Which notes are one lesson, and the address it has.

use compasario::intake;

use crate::support::folder;

/// `address: file file` for each lesson, and the rules of the findings.
fn check(files: &[&str], expected: &[&str], rules: &[&str]) {
    let files: Vec<(&str, &str)> = files
        .iter()
        .map(|file| file.split_once('|').unwrap_or((file, "1: i dn")))
        .collect();
    let (_directory, folder) = folder(&files);
    let name = |index: &usize| folder.files[folder.notes[*index].file.0 as usize].name.clone();
    let lessons = intake::lessons(&folder).into_iter();
    let shown: Vec<String> = lessons
        .map(|lesson| {
            format!(
                "{}: {}",
                lesson.id,
                lesson.notes.iter().map(name).collect::<Vec<_>>().join(" ")
            )
        })
        .collect();
    let found: Vec<&str> = folder.findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert_eq!(shown, expected);
    assert_eq!(found, rules);
}

#[test]
fn one_stem_is_one_lesson_typed_note_first() {
    check(
        &[
            "a.srt|1\n00:00:01,000 --> 00:00:02,000\nx",
            "a.corrections.txt",
            "a.notes.txt",
        ],
        &["a: a.notes.txt a.corrections.txt a.srt"],
        &[],
    );
    check(
        &["a.notes.txt", "b.notes.txt"],
        &["a: a.notes.txt", "b: b.notes.txt"],
        &[],
    );
}

#[test]
fn the_head_can_join_notes() {
    check(
        &[
            "a.notes.txt|lesson: Soleá uno\n\n1: i dn",
            "z.spoken.txt|lección: solea UNO\n\nand one",
        ],
        &["solea-uno: a.notes.txt z.spoken.txt"],
        &[],
    );
    check(
        &["a.notes.txt|lesson: b\n\n1: i dn", "b.spoken.txt"],
        &["b: a.notes.txt b.spoken.txt"],
        &[],
    );
}

#[test]
fn transcripts_may_lie_in_another_folder() {
    check(
        &["notes/a.notes.txt", "speech/a.spoken.txt"],
        &["a: notes/a.notes.txt speech/a.spoken.txt"],
        &[],
    );
}

#[test]
fn names_that_make_one_address_keep_apart() {
    check(
        &["solea 1.notes.txt", "solea-1.notes.txt"],
        &["solea-1: solea 1.notes.txt", "solea-1-2: solea-1.notes.txt"],
        &["address-taken"],
    );
    check(
        &["solea/core.txt", "tangos/core.txt"],
        &["core: solea/core.txt", "tangos-core: tangos/core.txt"],
        &["address-taken"],
    );
    check(
        &["a 1.notes.txt", "a-1-2.notes.txt", "a-1.notes.txt"],
        &["a-1: a 1.notes.txt", "a-1-2: a-1-2.notes.txt", "a-1-3: a-1.notes.txt"],
        &["address-taken"],
    );
    check(
        &[
            "solea/core.notes.txt",
            "solea/core.spoken.txt",
            "tangos/core.notes.txt",
            "tangos/core.spoken.txt",
        ],
        &[
            "core: solea/core.notes.txt solea/core.spoken.txt",
            "tangos-core: tangos/core.notes.txt tangos/core.spoken.txt",
        ],
        &["address-taken"],
    );
}
