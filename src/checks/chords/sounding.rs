//! What a shape sounds, and what its name asks for.

use crate::music::chord::{ChordName, ChordShape};
use crate::music::chord_naming::{names, sounding};
use crate::music::chord_shaping::shapes;
use crate::music::chord_tones::{ChordTone, Part, tones};
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;

/// Names for pitches that stand in no key, as guitarists write them.
const PITCHES: [&str; 12] = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"];

pub(super) fn pitch_name(class: u8) -> &'static str {
    PITCHES.get(usize::from(class % 12)).copied().unwrap_or("C")
}

/// What a shape sounds as fingered, from the lowest string to the highest: `C E G C E`. A capo is not reckoned.
pub(super) fn heard(shape: &ChordShape, guitar: &Guitar) -> String {
    let strings = sounding(shape, guitar);
    let heard: Vec<&str> = strings.iter().map(|string| pitch_name(string.pitch_class())).collect();
    heard.join(" ")
}

/// The third of a chord, or what stands in for it. None where its brackets take it out, or cannot be read.
pub(super) fn third(name: &ChordName) -> Option<ChordTone> {
    tones(name)?.into_iter().find(|tone| tone.part == Part::Third)
}

/// The key of the words for a third, or for what stands in for it.
pub(super) fn called(third: &ChordTone) -> &'static str {
    match third.semitones {
        2 => "second",
        3 => "minor_third",
        5 => "fourth",
        _ => "major_third",
    }
}

/// Chords that a shape is called by when its own name is wrong: plain ones, that a beginner knows.
const PLAIN: [&str; 8] = ["", "m", "7", "m7", "maj7", "dim", "dim7", "m7b5"];

/// The plain chord that a shape sounds, if it sounds one: every tone of it and no other. The bass decides first.
pub(super) fn named(lesson: &Lesson, shape: &ChordShape, guitar: &Guitar) -> Option<ChordName> {
    let key = lesson.key.as_ref().map(|key| key.value);
    let whole = names(shape, guitar, key).into_iter().find(|candidate| {
        let name = &candidate.name;
        candidate.missing.is_empty() && name.added.is_empty() && PLAIN.contains(&name.quality.as_str())
    });
    whole.map(|candidate| candidate.name)
}

/// Shapes among which the one to show is chosen, the easiest reach first.
const SHAPES: usize = 40;

/// Frets that a beginner's shapes lie on.
const FIRST_FRETS: u8 = 4;

/// A shape of a chord as it would be taught: near the nut, with as many strings as it has.
pub(super) fn taught(name: &ChordName, guitar: &Guitar) -> Option<ChordShape> {
    let far = |shape: &ChordShape| shape.frets.iter().flatten().any(|fret| *fret > FIRST_FRETS);
    let silent = |shape: &ChordShape| shape.frets.iter().filter(|fret| fret.is_none()).count();
    let shapes = shapes(name, guitar, SHAPES)
        .into_iter()
        .map(|candidate| candidate.shape);
    shapes.min_by_key(|shape| (far(shape), silent(shape)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice: thirds of the chords that flamenco keys need (trade facts, "spelling trap").
    #[test]
    fn thirds_are_spelt_in_their_key() {
        for (chord, expected) in [
            ("C", "E"),
            ("E", "G#"),
            ("F#", "A#"),
            ("B", "D#"),
            ("C#", "E#"),
            ("G#", "B#"),
            ("Bb", "D"),
            ("Dm", "F"),
            ("Ebm", "Gb"),
            ("F", "A"),
            ("Bm7b5", "D"),
            ("Esus4", "A"),
        ] {
            let name = ChordName::parse(chord).unwrap();
            assert_eq!(third(&name).unwrap().name.to_string(), expected, "{chord}");
        }
        assert_eq!(third(&ChordName::parse("A(no3)").unwrap()), None);
    }

    #[test]
    fn open_strings_sound_e_a_d_g_b_e() {
        let open = ChordShape::parse("000000").unwrap();
        assert_eq!(heard(&open, &Guitar::STANDARD), "E A D G B E");
    }

    /// Common practice, no source.
    #[test]
    fn chords_are_taught_near_the_nut() {
        for (chord, expected) in [
            ("A", "x02220"),
            ("Am", "x02210"),
            ("E", "022100"),
            ("Dm", "xx0231"),
            ("F", "133211"),
            ("G", "320003"),
        ] {
            let shape = taught(&ChordName::parse(chord).unwrap(), &Guitar::STANDARD).unwrap();
            assert_eq!(shape.to_string(), expected, "{chord}");
        }
    }
}
