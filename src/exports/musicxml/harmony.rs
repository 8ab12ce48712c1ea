use super::element::{Element, el, text};
use crate::music::chord::{Chord, ChordName, ChordShape};
use crate::music::pitch::NoteName;
use crate::practice::score::ChordMark;

/// A degree beside the kind: number, alteration, `add` or `alter`.
type Degree = (i64, i64, &'static str);

/// Our qualities in the standard's kinds, with the degrees that no kind has (MusicXML 4.0, kind-value and degree).
const KINDS: [(&str, &str, &[Degree]); 25] = [
    ("", "major", &[]),
    ("m", "minor", &[]),
    ("7", "dominant", &[]),
    ("m7", "minor-seventh", &[]),
    ("maj7", "major-seventh", &[]),
    ("6", "major-sixth", &[]),
    ("m6", "minor-sixth", &[]),
    ("sus4", "suspended-fourth", &[]),
    ("sus", "suspended-fourth", &[]),
    ("sus2", "suspended-second", &[]),
    ("7sus4", "suspended-fourth", &[(7, 0, "add")]),
    ("dim", "diminished", &[]),
    ("dim7", "diminished-seventh", &[]),
    ("m7b5", "half-diminished", &[]),
    ("aug", "augmented", &[]),
    ("9", "dominant-ninth", &[]),
    ("m9", "minor-ninth", &[]),
    ("maj9", "major-ninth", &[]),
    ("7b9", "dominant", &[(9, -1, "add")]),
    ("7#9", "dominant", &[(9, 1, "add")]),
    ("7b5", "dominant", &[(5, -1, "alter")]),
    ("7#5", "augmented-seventh", &[]),
    ("mmaj7", "major-minor", &[]),
    ("add9", "major", &[(9, 0, "add")]),
    ("madd9", "minor", &[(9, 0, "add")]),
];

/// A chord's name over the staff, with its shape where the notes give one. `offset` is in divisions.
pub(super) fn harmony(mark: &ChordMark, known: Option<&Chord>, offset: i64) -> Element {
    let (kind, degrees) = kind(&mark.name);
    let root = el("root")
        .with(text("root-step", mark.name.root.letter))
        .with_all(altered("root-alter", mark.name.root));
    let shown = format!("{}{}", mark.name.quality, mark.name.added);
    let mut harmony = el("harmony")
        .with(root)
        .with(text("kind", kind).attr("text", shown))
        .with_all(degrees.into_iter().map(degree));
    let shape = mark.shape.filter(|shape| shape.frets.iter().any(Option::is_some));
    if let Some(shape) = shape {
        harmony = harmony.with(frame(shape, known));
    }
    if offset != 0 {
        harmony = harmony.with(text("offset", offset));
    }
    harmony.with(text("staff", 1))
}

fn altered(name: &'static str, note: NoteName) -> Option<Element> {
    (note.alter != 0).then(|| text(name, note.alter))
}

fn kind(name: &ChordName) -> (&'static str, Vec<Degree>) {
    let known = KINDS.iter().find(|(quality, _, _)| *quality == name.quality);
    let (kind, plain) = known.map_or(("other", &[][..]), |(_, kind, degrees)| (*kind, *degrees));
    let brackets = name.added.split(['(', ')', ',', ' ']);
    (kind, plain.iter().copied().chain(brackets.filter_map(added)).collect())
}

/// `b9`, `#11`, `add9`: what stands in brackets. What is anything else stays in the text beside the kind.
fn added(words: &str) -> Option<Degree> {
    let plain = words.trim_start_matches("add");
    let (alter, digits) = match plain.chars().next()? {
        'b' | '♭' => (-1, plain.trim_start_matches(['b', '♭'])),
        '#' | '♯' => (1, plain.trim_start_matches(['#', '♯'])),
        _ => (0, plain),
    };
    let number = digits.parse().ok().filter(|number| (1..=13).contains(number))?;
    Some((number, alter, "add"))
}

fn degree((number, alter, how): Degree) -> Element {
    el("degree")
        .with(text("degree-value", number))
        .with(text("degree-alter", alter))
        .with(text("degree-type", how))
}

/// The shape as a chord diagram; a string that is not played has no note in it.
fn frame(shape: ChordShape, known: Option<&Chord>) -> Element {
    let frets = || shape.frets.iter().flatten().copied();
    let highest = frets().max().unwrap_or(0);
    let lowest = frets().filter(|fret| *fret > 0).min().unwrap_or(1);
    let first = if highest > 4 { lowest } else { 1 };
    let mut frame = el("frame")
        .with(text("frame-strings", 6))
        .with(text("frame-frets", (highest.saturating_sub(first) + 1).max(4)));
    if first > 1 {
        frame = frame.with(text("first-fret", first));
    }
    let notes = (1..=6).rev().filter_map(|string| {
        let fret = shape.fret(string)?;
        let fingers = known.into_iter().flat_map(|chord| &chord.fingers);
        let mut fingers =
            fingers.filter(|one| one.fret == fret && fret > 0 && covers(one.string, one.to_string, string));
        let finger = fingers.next().map(|one| text("fingering", one.finger));
        Some(
            el("frame-note")
                .with(text("string", string))
                .with(text("fret", fret))
                .with_all(finger),
        )
    });
    frame.with_all(notes)
}

fn covers(one: u8, other: u8, string: u8) -> bool {
    (one.min(other)..=one.max(other)).contains(&string)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::chord_tones::QUALITIES;

    #[test]
    fn every_quality_has_a_kind() {
        for (quality, _) in QUALITIES {
            assert!(KINDS.iter().any(|(known, _, _)| *known == quality), "{quality}");
        }
    }

    #[test]
    fn what_stands_in_brackets_becomes_a_degree() {
        let name = ChordName::parse("A(b9)").unwrap();
        assert_eq!(kind(&name), ("major", vec![(9, -1, "add")]));
        assert_eq!(added("x"), None);
    }
}
