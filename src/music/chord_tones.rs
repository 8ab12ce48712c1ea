//! Which notes a chord's name asks for, spelled from its root.

use super::chord::ChordName;
use super::pitch::NoteName;
use super::spelling::{above, plain};

/// What a note is in its chord.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    Root,
    /// The third, or the second or fourth that stands in for it.
    Third,
    Fifth,
    /// Sixth or seventh.
    Seventh,
    /// Ninth and beyond, and what stands in brackets.
    Added,
}

/// One note of a chord.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChordTone {
    pub part: Part,
    pub name: NoteName,
    /// Above the root, 0 to 11.
    pub semitones: u8,
}

/// A note above the root: letters up, semitones up, what it is.
type Degree = (usize, i16, Part);

const ROOT: Degree = (0, 0, Part::Root);
const MAJOR: Degree = (2, 4, Part::Third);
const MINOR: Degree = (2, 3, Part::Third);
const SECOND: Degree = (1, 2, Part::Third);
const FOURTH: Degree = (3, 5, Part::Third);
const FIFTH: Degree = (4, 7, Part::Fifth);
const FLAT_FIFTH: Degree = (4, 6, Part::Fifth);
const SHARP_FIFTH: Degree = (4, 8, Part::Fifth);
const SIXTH: Degree = (5, 9, Part::Seventh);
const SEVENTH: Degree = (6, 10, Part::Seventh);
const GREAT_SEVENTH: Degree = (6, 11, Part::Seventh);
const SMALL_SEVENTH: Degree = (6, 9, Part::Seventh);
const NINTH: Degree = (1, 2, Part::Added);
const FLAT_NINTH: Degree = (1, 1, Part::Added);
const SHARP_NINTH: Degree = (1, 3, Part::Added);

/// The qualities that a chord name may have, plain ones first, with the notes that each asks for (common practice).
pub const QUALITIES: [(&str, &[Degree]); 25] = [
    ("", &[ROOT, MAJOR, FIFTH]),
    ("m", &[ROOT, MINOR, FIFTH]),
    ("7", &[ROOT, MAJOR, FIFTH, SEVENTH]),
    ("m7", &[ROOT, MINOR, FIFTH, SEVENTH]),
    ("maj7", &[ROOT, MAJOR, FIFTH, GREAT_SEVENTH]),
    ("6", &[ROOT, MAJOR, FIFTH, SIXTH]),
    ("m6", &[ROOT, MINOR, FIFTH, SIXTH]),
    ("sus4", &[ROOT, FOURTH, FIFTH]),
    ("sus", &[ROOT, FOURTH, FIFTH]),
    ("sus2", &[ROOT, SECOND, FIFTH]),
    ("7sus4", &[ROOT, FOURTH, FIFTH, SEVENTH]),
    ("dim", &[ROOT, MINOR, FLAT_FIFTH]),
    ("dim7", &[ROOT, MINOR, FLAT_FIFTH, SMALL_SEVENTH]),
    ("m7b5", &[ROOT, MINOR, FLAT_FIFTH, SEVENTH]),
    ("aug", &[ROOT, MAJOR, SHARP_FIFTH]),
    ("9", &[ROOT, MAJOR, FIFTH, SEVENTH, NINTH]),
    ("m9", &[ROOT, MINOR, FIFTH, SEVENTH, NINTH]),
    ("maj9", &[ROOT, MAJOR, FIFTH, GREAT_SEVENTH, NINTH]),
    ("7b9", &[ROOT, MAJOR, FIFTH, SEVENTH, FLAT_NINTH]),
    ("7#9", &[ROOT, MAJOR, FIFTH, SEVENTH, SHARP_NINTH]),
    ("7b5", &[ROOT, MAJOR, FLAT_FIFTH, SEVENTH]),
    ("7#5", &[ROOT, MAJOR, SHARP_FIFTH, SEVENTH]),
    ("mmaj7", &[ROOT, MINOR, FIFTH, GREAT_SEVENTH]),
    ("add9", &[ROOT, MAJOR, FIFTH, NINTH]),
    ("madd9", &[ROOT, MINOR, FIFTH, NINTH]),
];

/// The notes that a chord name asks for, root first. None when its brackets say something that we cannot read.
pub fn tones(name: &ChordName) -> Option<Vec<ChordTone>> {
    let (_, plain_degrees) = QUALITIES.iter().find(|(quality, _)| *quality == name.quality)?;
    let mut degrees = plain_degrees.to_vec();
    for word in in_brackets(&name.added) {
        add(&mut degrees, word)?;
    }
    let tone = |(steps, semitones, part): &Degree| ChordTone {
        part: *part,
        name: spelled(name.root, *steps, *semitones),
        semitones: semitones.rem_euclid(12) as u8,
    };
    Some(degrees.iter().map(tone).collect())
}

fn spelled(root: NoteName, steps: usize, semitones: i16) -> NoteName {
    let pitch_class = (i16::from(root.pitch_class()) + semitones).rem_euclid(12) as u8;
    above(root, steps, semitones).unwrap_or_else(|| plain(pitch_class))
}

/// `(b9,11)` and `(b9)(11)` are two words each.
fn in_brackets(added: &str) -> impl Iterator<Item = &str> {
    added.split(['(', ')', ',', '/', ' ']).filter(|word| !word.is_empty())
}

/// Adds what one word in brackets says: `b9`, `add9`, `#11`, `no3`, `maj7`.
fn add(degrees: &mut Vec<Degree>, word: &str) -> Option<()> {
    let word = word.strip_prefix("add").or(word.strip_prefix('+')).unwrap_or(word);
    if let Some(left_out) = word.strip_prefix("no").or(word.strip_prefix("omit")) {
        let part = match left_out {
            "3" => Part::Third,
            "5" => Part::Fifth,
            _ => return None,
        };
        degrees.retain(|(_, _, own)| *own != part);
        return Some(());
    }
    if word == "maj7" {
        degrees.push(GREAT_SEVENTH);
        return Some(());
    }
    let number = word.trim_start_matches(['b', '#', '♭', '♯']);
    let marks = word.strip_suffix(number)?;
    let alter: i16 = marks
        .chars()
        .map(|mark| if matches!(mark, 'b' | '♭') { -1 } else { 1 })
        .sum();
    let number: usize = number.parse().ok().filter(|number| (2..=13).contains(number))?;
    let steps = (number - 1) % 7;
    let natural = *[0, 2, 4, 5, 7, 9, 10].get(steps)?;
    let part = match number {
        5 => Part::Fifth,
        6 | 7 => Part::Seventh,
        _ => Part::Added,
    };
    if part == Part::Fifth {
        degrees.retain(|(_, _, own)| *own != Part::Fifth);
    }
    degrees.push((steps, natural + alter, part));
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flamenco_chords_ask_for_these_notes() {
        // Common practice, no source; all roots and qualities are held against a music library in tests/chords.rs.
        let table = [
            ("A", "A C# E"),
            ("Bb", "Bb D F"),
            ("Dm", "D F A"),
            ("E7", "E G# B D"),
            ("F#", "F# A# C#"),
            ("G#", "G# B# D#"),
            ("Fmaj7", "F A C E"),
            ("A(b9)", "A C# E Bb"),
            ("F#7(b9,11)", "F# A# C# E G B"),
            ("E(add9)", "E G# B F#"),
            ("Bdim", "B D F"),
            ("Am6", "A C E F#"),
            ("Dsus4", "D G A"),
            ("A7(no5)", "A C# G"),
            ("C(b5)", "C E Gb"),
        ];
        for (name, expected) in table {
            let name = ChordName::parse(name).expect(name);
            let words: Vec<String> = tones(&name)
                .into_iter()
                .flatten()
                .map(|tone| tone.name.to_string())
                .collect();
            assert_eq!(words.join(" "), expected, "{name}");
        }
    }

    #[test]
    fn brackets_that_say_nothing_known_give_no_notes() {
        for name in ["A(blue)", "A(b99)", "A(no7)"] {
            assert_eq!(ChordName::parse(name).as_ref().and_then(tones), None, "{name}");
        }
    }
}
