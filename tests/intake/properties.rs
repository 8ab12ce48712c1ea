//! Laws that hold for any text.

use std::fs;

use compasario::intake::{self, Folder};
use proptest::prelude::*;
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

use crate::support::check_maps;

/// Letters that make trouble: composed, decomposed, reordered, Hangul, wide, and what notes are made of.
fn letter() -> impl Strategy<Value = char> {
    prop_oneof![
        5 => prop::sample::select("abiorsp aim x 0123456789:.,[]()<>&;-!".chars().collect::<Vec<_>>()),
        2 => prop::sample::select("ñéáüÑ\u{301}\u{303}\u{327}\u{323}\u{307}\u{308}e\u{200d}😀한".chars().collect::<Vec<_>>()),
        1 => prop::sample::select("\u{1100}\u{1161}\u{11a8}\u{0958}\u{2126}\u{1e9b}".chars().collect::<Vec<_>>()),
        1 => any::<char>().prop_filter("text", |letter| !letter.is_control() && *letter != '\u{feff}' && !is_space(*letter)),
    ]
}

fn is_space(letter: char) -> bool {
    letter.is_whitespace() || ('\u{2028}'..='\u{2029}').contains(&letter)
}

fn text(longest: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(letter(), 1..longest).prop_map(|letters| letters.into_iter().collect())
}

fn load(name: &str, text: &str) -> Option<Folder> {
    let directory = tempfile::tempdir().unwrap();
    fs::write(directory.path().join(name), text).unwrap();
    intake::load(directory.path()).ok()
}

/// Text without what typed notes and captions read as marks.
fn plain(text: &str) -> String {
    text.chars().filter(|letter| !"[]()<>&:".contains(*letter)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_typed_line_is_the_files_line_with_composed_accents(line in text(40)) {
        let line = plain(&line);
        prop_assume!(!line.trim().is_empty());
        let file = format!("[0:05] {line}\n");
        let folder = load("a.notes.txt", &file).unwrap();
        let expected: String = line.trim().nfc().collect();
        let cue = &folder.notes[0].cues[0];
        prop_assert_eq!(&cue.text, expected.trim());
        prop_assert!(unicode_normalization::is_nfc(&cue.text));
        check_maps(&folder);
    }

    /// What a piece of a cue came from, composed, is that piece, wherever composing cannot reach over its ends.
    #[test]
    fn pieces_lead_back_to_the_same_words(words in prop::collection::vec(text(8), 1..6), mark in any::<bool>()) {
        let words: Vec<String> = words.iter().map(|word| plain(word).split_whitespace().collect::<String>()).collect();
        // A vowel of Hangul may be composed with what stands before it, even across a space that it leaves alone.
        let joins = |first: char| is_nfc_quick(std::iter::once(first)) != IsNormalized::Yes;
        let apart = |word: &String| word.starts_with(char::is_alphanumeric) && !word.starts_with(joins);
        let words: Vec<String> = words.into_iter().filter(apart).collect();
        prop_assume!(!words.is_empty());
        let file = format!("{}[0:05] {}\n", if mark { "\u{feff}" } else { "" }, words.join(" "));
        let folder = load("a.notes.txt", &file).unwrap();
        let cue = &folder.notes[0].cues[0];
        let mut at = 0;
        for piece in cue.text.split(' ') {
            let span = cue.source_span(at, at + piece.len());
            let source: String = folder.files[0].text[span.start..span.end].nfc().collect();
            prop_assert_eq!(&source, piece);
            at += piece.len() + 1;
        }
    }

    /// Whatever the bytes, whatever the ending: no panic, and every place stands in the file.
    #[test]
    fn nothing_makes_it_stumble(
        bytes in prop::collection::vec(any::<u8>(), 0..200),
        name in prop::sample::select(vec!["a.txt", "a.vtt", "a.srt", "a.md", "a.spoken.txt"]),
    ) {
        let directory = tempfile::tempdir().unwrap();
        fs::write(directory.path().join(name), &bytes).unwrap();
        fs::write(directory.path().join("b.txt"), "1: i dn").unwrap();
        let folder = intake::load(directory.path()).unwrap();
        check_maps(&folder);
    }

    #[test]
    fn captions_of_any_text_make_no_trouble(payload in text(60), parts in prop::collection::vec(
        prop::sample::select(vec!["\n", "\r\n", "\r", "\n\n", "-->", "00:01.000 --> 00:02.000\n", "<v A>", "</v>", "<00:01.500>", "&amp;", "(private)",
            "this stays between us", "end of the private part", "1\n00:00:01,000 --> 00:00:02,000\n"]), 0..12,
    ), name in prop::sample::select(vec!["a.vtt", "a.srt", "a.txt", "a.md"])) {
        let file = format!("WEBVTT\n\n00:01.000 --> 00:02.000\n{}", parts.join(&payload));
        let folder = load(name, &file).unwrap();
        check_maps(&folder);
        for cue in folder.notes.iter().flat_map(|note| &note.cues) {
            prop_assert!(!cue.text.trim().is_empty());
            prop_assert!(cue.word_times.iter().all(|(at, _)| cue.text.is_char_boundary(*at)));
        }
    }

    /// Not a letter of what stands between the marks is outside the private cues.
    #[test]
    fn nothing_between_the_marks_gets_out(
        before in "[a-p]{1,8}( [a-p]{1,8}){0,5}",
        secret in "zq[a-z]{1,8}( zq[a-z]{1,8}){0,9}",
        breaks in prop::collection::vec(prop::sample::select(vec![" ", "\n", "\n\n", "\n\n[0:20] ", "\n[0:21] "]), 10),
        marks in prop::sample::select(vec![
            ("this stays between us", "end of the private part"),
            ("Esto queda entre nosotros.", "Fin de lo privado."),
            ("\n\n(private)\n\n", "(end of private)"),
        ]),
        name in prop::sample::select(vec!["a.spoken.txt", "a.notes.txt", "a.txt"]),
    ) {
        let mut spread = String::new();
        for (index, word) in secret.split(' ').enumerate() {
            spread.push_str(breaks.get(index).copied().unwrap_or(" "));
            spread.push_str(word);
        }
        let file = format!("[0:01] {before} {}{spread} {} {before}\n", marks.0, marks.1);
        let folder = load(name, &file).unwrap();
        let public: String = folder.notes[0].cues.iter().filter(|cue| !cue.private).map(|cue| cue.text.clone() + " ").collect();
        prop_assert!(!public.contains("zq"), "{public}");
        prop_assert_eq!(public.split_whitespace().count(), 2 * before.split(' ').count(), "{}", public);
        prop_assert_eq!(&folder.findings, &[]);
    }
}
