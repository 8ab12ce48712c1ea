//! What leaves the house for other programs: read back by libraries from outside, and nothing private in any of it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may panic")]

use std::fs;
use std::path::Path;

use assert_cmd::Command;

const FORMATS: [&str; 6] = ["json", "midi", "musicxml", "chapters", "captions", "ics"];

fn export(note: &Path, more: &[&str]) -> Vec<u8> {
    let mut command = Command::cargo_bin("compasario").unwrap();
    command
        .arg("export")
        .arg(note)
        .args(more)
        .args(["--from", "2027-01-11"]);
    let out = command.output().unwrap();
    assert!(
        out.status.success(),
        "{more:?}: {}",
        String::from_utf8_lossy(&out.stderr)
    );
    out.stdout
}

fn note(text: &str) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("siguiriya.notes.txt");
    fs::write(&path, text).unwrap();
    (folder, path)
}

/// A siguiriya in its five uneven counts (W-SIG: short short long long short), a capo, a variation with a ligado.
const SIGUIRIYA: &str = "title: Five steps\npalo: siguiriya\npeople: Rosalinda Quevedo\ncapo: 2\ntempo: 120\n\n\
    [0:02] key: A phrygian\n[0:05] count 5, lengths 2 2 3 3 2\n[0:10] A x02220, Bb x13331\n\
    [0:14] core, 1-5\n[0:15] 1 (A): p dn\n[0:20] 2: i dn\n[0:24] 3 (Bb): i dn + golpe a\n[0:28] 4: i up\n[0:33] 5 (A): p dn\n\
    [0:40] (private) Rosalinda Quevedo forgets the zanahoria, mermelada\n\n\
    [0:50] V1, replaces 5\n[0:52] 5: p s4 f3 (F), & pull-off s4 f2 (E) (private: Rosalinda murciélago)\n";

#[test]
fn nothing_private_leaves_in_any_format() {
    let (_folder, path) = note(SIGUIRIYA);
    let plain = fs::read_to_string(&path).unwrap();
    assert!(plain.contains("zanahoria"));
    for format in FORMATS {
        let bytes = export(&path, &["--to", format]);
        let text = String::from_utf8_lossy(&bytes).to_lowercase().replace("\r\n ", "");
        for word in [
            "zanahoria",
            "mermelada",
            "murciélago",
            "rosalinda",
            "quevedo",
            "forgets",
        ] {
            assert!(!text.contains(word), "{format} says {word}");
        }
        assert!(!bytes.is_empty());
        assert!(
            bytes == export(&path, &["--to", format]),
            "{format}: the same note, the same bytes"
        );
    }
}

/// The variables of SMF 1.1: FF 51 03 tttttt is microseconds a quarter note, FF 58 04 nn dd cc bb the metre.
#[test]
fn uneven_counts_have_their_metre_and_their_tempo() {
    let (_folder, path) = note(SIGUIRIYA);
    let bytes = export(&path, &["--to", "midi", "--play", "core"]);
    let holds = |part: &[u8]| bytes.windows(part.len()).any(|window| window == part);
    // 120 pulses a minute are 60 quarters of two pulses: a million microseconds.
    assert!(holds(&[0xff, 0x51, 0x03, 0x0f, 0x42, 0x40]), "tempo");
    assert!(holds(&[0xff, 0x58, 0x04, 12, 3, 24, 8]), "twelve eighths");
    let file = midly::Smf::parse(&bytes).unwrap();
    let ticks: u32 = file.tracks[0].iter().map(|event| event.delta.as_int()).sum();
    assert_eq!(ticks, 12 * 480, "one round of twelve eighths");
    // The strum on count 3 begins after two short counts, with the lowest string of the chord; capo 2 raises it.
    let mut at = 0;
    let third = file.tracks[1].iter().find_map(|event| {
        at += event.delta.as_int();
        match event.kind {
            midly::TrackEventKind::Midi {
                channel,
                message: midly::MidiMessage::NoteOn { key, .. },
            } if at == 4 * 480 => Some((channel.as_int() + 1, key.as_int())),
            _ => None,
        }
    });
    assert_eq!(third, Some((5, 45 + 1 + 2)), "string 5 at fret 1 of Bb");
}

#[test]
fn musicxml_says_what_the_teacher_said() {
    let (_folder, path) = note(SIGUIRIYA);
    let text = String::from_utf8(export(&path, &["--to", "musicxml"])).unwrap();
    let options = roxmltree::ParsingOptions {
        allow_dtd: true,
        ..Default::default()
    };
    let document = roxmltree::Document::parse_with_options(&text, options).unwrap();
    let said = |name: &str| -> Vec<&str> {
        let all = document.descendants().filter(|node| node.has_tag_name(name));
        all.filter_map(|node| node.text()).collect()
    };
    assert_eq!(said("beats"), ["2+2+3+3+2"]);
    assert_eq!(said("beat-type"), ["8"]);
    assert_eq!(
        (said("fifths"), said("mode")),
        (vec!["-1"], vec!["phrygian"]),
        "A Phrygian has one flat"
    );
    assert_eq!(said("per-minute"), ["120"]);
    assert_eq!(said("beat-unit"), ["eighth"]);
    assert_eq!(said("capo"), ["2"]);
    assert_eq!(said("rehearsal"), ["core", "V1"]);
    assert_eq!(said("pluck"), ["p", "i", "i", "i", "p", "p", "i", "i", "i", "p"]);
    assert_eq!(
        document.descendants().filter(|node| node.has_tag_name("golpe")).count(),
        2
    );
    // Down meets the lowest string first: up the page.
    let arrows = said("arrow-direction");
    assert_eq!(
        arrows.iter().filter(|way| **way == "down").count(),
        2,
        "one stroke up in each version: {arrows:?}"
    );
    let pulls: Vec<_> = document
        .descendants()
        .filter(|node| node.has_tag_name("pull-off"))
        .map(|node| (node.attribute("type"), node.attribute("number")))
        .collect();
    assert_eq!(pulls, [(Some("start"), Some("4")), (Some("stop"), Some("4"))]);
    let kinds: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name("kind"))
        .filter_map(|node| node.text())
        .collect();
    assert!(
        kinds.iter().all(|kind| *kind == "major") && kinds.len() >= 5,
        "{kinds:?}"
    );
}

/// What the note leaves open makes no sound and no pitch: a slash keeps its place.
#[test]
fn what_is_open_stays_open() {
    let open = "palo: tangos\n\n[0:01] count 4\n[0:10] core, 1-4\n[0:14] 1 i dn, 2 i up, 3 i dn, 4 golpe a\n";
    let (_folder, path) = note(open);
    let text = String::from_utf8(export(&path, &["--to", "musicxml"])).unwrap();
    assert_eq!(
        text.matches("<notehead>slash</notehead>").count(),
        6,
        "three strokes on two staves"
    );
    assert!(!text.contains("<pitch>") && !text.contains("<key>"), "{text}");
    let bytes = export(&path, &["--to", "midi"]);
    let file = midly::Smf::parse(&bytes).unwrap();
    let sounded = file.tracks[1].iter().any(|event| {
        matches!(
            event.kind,
            midly::TrackEventKind::Midi {
                message: midly::MidiMessage::NoteOn { .. },
                ..
            }
        )
    });
    assert!(!sounded);
    let told =
        |event: &midly::TrackEvent| matches!(event.kind, midly::TrackEventKind::Meta(midly::MetaMessage::Text(_)));
    assert_eq!(
        file.tracks[1].iter().filter(|event| told(event)).count(),
        3,
        "each says why"
    );
}
