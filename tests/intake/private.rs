//! What is never published: the marks, and how far they reach.

use compasario::intake;

use crate::support::{check, check_maps, cues, folder};

#[test]
fn a_typed_mark_reaches_to_the_end_of_its_paragraph() {
    check(
        "a.notes.txt",
        "[0:01] 1: i dn\n[0:04] (private) Ana's wrist again\nask her mother\n[0:09] 2: i up\n\n(Privado) no contar\n\n3: i dn",
        &[
            "0:01 1: i dn",
            "* 0:04 (private) Ana's wrist again/ask her mother",
            "0:09 2: i up",
            "* 0:09 (Privado) no contar",
            "0:09 3: i dn",
        ],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:01] private: Ana\n[0:02] PRIVADA - Ana\n[0:03] private lesson at six",
        &[
            "* 0:01 private: Ana",
            "* 0:02 PRIVADA - Ana",
            "0:03 private lesson at six",
        ],
        &[],
    );
}

#[test]
fn a_mark_in_the_middle_of_a_cue_parts_it() {
    check(
        "a.notes.txt",
        "[0:01] 1: i dn (private) Ana's wrist",
        &["0:01 1: i dn", "* 0:01 (private) Ana's wrist"],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:01] 1: i dn (private: Ana (the tall one) forgets) & i up",
        &[
            "0:01 1: i dn",
            "* 0:01 (private: Ana (the tall one) forgets)",
            "0:01 & i up",
        ],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:01] 1: i dn (private: Ana\nand Luis\n[0:04] 2: i up",
        &["0:01 1: i dn", "* 0:01 (private: Ana/and Luis", "0:04 2: i up"],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:01] 1: i dn\nprivate: Ana\n2: i up",
        &["0:01 1: i dn", "* 0:01 private: Ana/2: i up"],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:01] 1: i dn [private] Ana (public) 2: i up",
        &["0:01 1: i dn", "* 0:01 [private] Ana (public)", "0:01 2: i up"],
        &[],
    );
}

#[test]
fn a_mark_alone_on_its_line_reaches_to_its_end_mark() {
    check(
        "a.notes.txt",
        "[0:01] (private)\n[0:02] Ana\n\nLuis\n[0:05] (end of private)\n[0:06] 1: i dn",
        &[
            "* 0:01 (private)",
            "* 0:02 Ana",
            "* 0:02 Luis",
            "* 0:05 (end of private)",
            "0:06 1: i dn",
        ],
        &[],
    );
    check(
        "a.notes.txt",
        "[0:02] (privado) Ana\n[0:03] Luis\n[0:05] (fin de lo privado)\n[0:06] 1: i ab",
        &[
            "* 0:02 (privado) Ana",
            "* 0:03 Luis",
            "* 0:05 (fin de lo privado)",
            "0:06 1: i ab",
        ],
        &[],
    );
    check(
        "a.notes.txt",
        "1: i dn\n\nprivate\n\nAna\n\nLuis",
        &["1: i dn", "* private", "* Ana", "* Luis"],
        &["private-never-ends"],
    );
    check(
        "a.notes.txt",
        "Ana\n\n(end of private)\n\n1: i dn",
        &["Ana", "(end of private)", "1: i dn"],
        &["private-never-begins"],
    );
}

#[test]
fn a_mark_can_be_said() {
    check(
        "a.spoken.txt",
        "[0:00] One, two. Okay, this stays between us: Ana cannot do it.\n\n[0:30] She tries. End of the private part. Three, four.",
        &[
            "0:00 One, two. Okay,",
            "* 0:00 this stays between us: Ana cannot do it.",
            "* 0:30 She tries. End of the private part",
            "0:30 Three, four.",
        ],
        &[],
    );
    check(
        "a.es.spoken.txt",
        "[0:00] Uno. Esto se queda entre nosotros, Ana no puede. Fin de lo privado. Dos.",
        &[
            "0:00 Uno.",
            "* 0:00 Esto se queda entre nosotros, Ana no puede. Fin de lo privado",
            "0:00 Dos.",
        ],
        &[],
    );
    check(
        "a.spoken.txt",
        "One. this days be tween us, Ana.\n\nAnd Luis.",
        &["One.", "* this days be tween us, Ana.", "* And Luis."],
        &["private-never-ends"],
    );
    check(
        "a.spoken.txt",
        "This stays between us. Ana. The end of a private part. Two.",
        &["* This stays between us. Ana. The end of a private part. Two."],
        &["private-never-ends"],
    );
    check(
        "a.spoken.txt",
        "The distance between us and the singer stays.",
        &["The distance between us and the singer stays."],
        &[],
    );
}

#[test]
fn a_said_mark_may_be_broken_across_captions() {
    check(
        "a.vtt",
        "WEBVTT\n\n00:01.000 --> 00:02.000\none and this\n\n00:02.000 --> 00:03.000\nstays between\n\n00:03.000 --> 00:04.000\nus Ana is late end\n\n\
         00:04.000 --> 00:05.000\nof the private part two\n",
        &[
            "0:01 one and",
            "* 0:01 this",
            "* 0:02 stays between",
            "* 0:03 us Ana is late end",
            "* 0:04 of the private part",
            "0:04 two",
        ],
        &[],
    );
}

/// Times and flags of each note's cues, for a lesson of two files.
fn stretch(head: &str, expected: &[&str]) {
    let speech = "[0:00] before\n\n[0:30] into it\n\n[1:00] within\n\n[1:30] after";
    let typed = format!("{head}\n\n[0:29] a\n[0:40] b\n[0:59] c\n[1:30] d");
    let (_directory, folder) = folder(&[("a.notes.txt", &typed), ("a.spoken.txt", speech)]);
    check_maps(&folder);
    let shown: Vec<String> = folder.notes.iter().flat_map(cues).collect();
    assert_eq!(shown, expected);
    assert_eq!(folder.findings, []);
}

#[test]
fn a_stretch_of_the_recording_is_private_in_every_note_of_the_lesson() {
    stretch(
        "private: 0:40-1:15",
        &[
            "0:29 a",
            "* 0:40 b",
            "* 0:59 c",
            "1:30 d",
            "0:00 before",
            "* 0:30 into it",
            "* 1:00 within",
            "1:30 after",
        ],
    );
    stretch(
        "privado: 0:00 – 0:10; 1:30-2:00",
        &[
            "0:29 a",
            "0:40 b",
            "0:59 c",
            "* 1:30 d",
            "* 0:00 before",
            "0:30 into it",
            "1:00 within",
            "* 1:30 after",
        ],
    );
    stretch(
        "private: all",
        &[
            "* 0:29 a",
            "* 0:40 b",
            "* 0:59 c",
            "* 1:30 d",
            "0:00 before",
            "0:30 into it",
            "1:00 within",
            "1:30 after",
        ],
    );
}

#[test]
fn timed_words_are_parted_at_the_stretch() {
    let text = "WEBVTT\n\nNOTE\nprivate: 0:01.5-0:02\n\n00:01.000 --> 00:03.000\none <00:01.500>Ana <00:02.000>three\n\n00:03.000 --> 00:04.000\nfour";
    check(
        "a.vtt",
        text,
        &["0:01 one", "* 0:01 Ana", "0:02 three", "0:03 four"],
        &[],
    );
}

#[test]
fn a_stretch_that_keeps_nothing_private_is_found() {
    let rules = |text: &str| {
        let (_directory, folder) = folder(&[("a.notes.txt", text)]);
        folder
            .findings
            .iter()
            .map(|finding| finding.rule.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(rules("private: sometime\n\n[0:01] a"), ["private-stretch-not-read"]);
    assert_eq!(rules("private: 2:00-1:00\n\n[0:01] a"), ["private-stretch-not-read"]);
    assert_eq!(rules("private: 0:01-0:02\n\na"), ["private-stretch-without-times"]);
}

#[test]
fn no_mark_no_privacy() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    for part in ["lessons", "faulty"] {
        let folder = intake::load(&root.join(part)).unwrap();
        assert!(folder.notes.iter().flat_map(|note| &note.cues).all(|cue| !cue.private));
    }
}
