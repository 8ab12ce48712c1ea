//! Chord tones and chord names against music21 10.5.1 (data/ written by chords.py).

use std::collections::BTreeSet;

use compasario::music::chord::{ChordName, ChordShape};
use compasario::music::chord_naming::{against_name, names, sounding};
use compasario::music::chord_tones::{QUALITIES, tones};
use compasario::music::fretboard::Guitar;
use compasario::music::pitch::NoteName;

use crate::rows;

const TONES: &str = include_str!("data/chord_tones.tsv");
const NAMES: &str = include_str!("data/chord_names.tsv");

#[test]
fn chord_tones_are_those_of_the_music_library_over_all_roots_and_qualities() {
    let rows = rows(TONES);
    for row in &rows {
        let name = ChordName::parse(row[0]).unwrap_or_else(|| panic!("{} is not read as a chord", row[0]));
        let ours = tones(&name).unwrap_or_else(|| panic!("{} has no notes", row[0]));
        // The library stops at double marks as we do; it spells further ones otherwise than we do, so compare sound
        // for those, and letters for all the rest.
        let triple = row[1].contains("bbb") || row[1].contains("###");
        if triple {
            continue;
        }
        let ours: BTreeSet<String> = ours.iter().map(|tone| tone.name.to_string()).collect();
        let theirs: BTreeSet<String> = row[1].split(' ').map(str::to_owned).collect();
        assert_eq!(ours, theirs, "{}", row[0]);
    }
    let qualities: BTreeSet<String> = rows
        .iter()
        .filter_map(|row| ChordName::parse(row[0]))
        .map(|name| name.quality)
        .collect();
    // `sus` is `sus4` written short.
    let unheld: Vec<&str> = QUALITIES
        .iter()
        .map(|(quality, _)| *quality)
        .filter(|one| !qualities.contains(*one))
        .collect();
    assert_eq!(unheld, ["sus"]);
}

#[test]
fn shapes_go_by_the_name_that_the_music_library_gives_them() {
    let rows = rows(NAMES);
    assert!(rows.len() >= 500, "{} shapes", rows.len());
    for row in &rows {
        let shape = ChordShape::parse(row[0]).expect("a shape");
        let pitches: Vec<u8> = sounding(&shape, &Guitar::STANDARD)
            .iter()
            .map(|string| string.pitch)
            .collect();
        let theirs: Vec<u8> = row[1].split(' ').map(|midi| midi.parse().expect("a number")).collect();
        assert_eq!(pitches, theirs, "{}", row[0]);

        let root = NoteName::parse(row[2]).expect("a pitch name");
        let same = |name: &ChordName| {
            name.root.pitch_class() == root.pitch_class() && name.quality == row[3] && name.added.is_empty()
        };
        let candidates = names(&shape, &Guitar::STANDARD, None);
        let whole: Vec<&ChordName> = candidates
            .iter()
            .filter(|candidate| candidate.missing.is_empty())
            .map(|candidate| &candidate.name)
            .collect();
        assert!(
            whole.iter().any(|name| same(name)),
            "{} is {}{}, not in {whole:?}",
            row[0],
            row[2],
            row[3]
        );
    }
}

#[test]
fn the_first_name_is_the_librarys_where_the_library_hears_the_bass_as_root() {
    let mut agreed = 0;
    let mut all = 0;
    for row in rows(NAMES) {
        let shape = ChordShape::parse(row[0]).expect("a shape");
        let root = NoteName::parse(row[2]).expect("a pitch name");
        let strings = sounding(&shape, &Guitar::STANDARD);
        let bass = strings
            .iter()
            .map(|string| string.pitch)
            .min()
            .expect("a sounding string");
        if bass % 12 != root.pitch_class() {
            continue;
        }
        all += 1;
        let first = names(&shape, &Guitar::STANDARD, None)
            .into_iter()
            .next()
            .expect("a name")
            .name;
        agreed += usize::from(first.root.pitch_class() == root.pitch_class() && first.quality == row[3]);
    }
    // The rest are chords with two names (a minor seventh is a sixth of another root).
    assert!(agreed * 100 >= all * 97, "{agreed} of {all}");
}

#[test]
fn a_shape_does_not_contradict_the_librarys_name_and_does_contradict_the_other_third() {
    for row in rows(NAMES) {
        let shape = ChordShape::parse(row[0]).expect("a shape");
        let root = NoteName::parse(row[2]).expect("a pitch name");
        let named = ChordName::new(root, row[3]);
        let against = against_name(&named, &shape, &Guitar::STANDARD).expect("readable");
        assert!(
            !against.contradicts() && against.beyond.is_empty() && against.lacking.is_empty(),
            "{} {named}",
            row[0]
        );
        let other = match row[3] {
            "" | "7" | "9" => "m",
            "m" | "m7" | "m9" => "",
            _ => continue,
        };
        let against = against_name(&ChordName::new(root, other), &shape, &Guitar::STANDARD).expect("readable");
        assert!(against.wrong_third.is_some(), "{} is not {root}{other}", row[0]);
    }
}
