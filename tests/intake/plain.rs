//! Plain text, typed and spoken.

use crate::support::{check, check_maps, folder};

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
