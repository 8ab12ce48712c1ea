//! What a shape sounds, and what its name asks for.

use crate::music::chord::{ChordName, ChordShape};
use crate::music::hand::{Fret, GuitarString};
use crate::music::lesson::Lesson;
use crate::music::pitch::{NoteName, STANDARD_TUNING};

/// Names for pitches that stand in no key, as guitarists write them.
const PITCHES: [&str; 12] = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"];

pub(super) fn pitch_name(class: u8) -> &'static str {
    PITCHES.get(usize::from(class % 12)).copied().unwrap_or("C")
}

/// The pitch of a string at a fret, as fingered: a capo is not reckoned.
pub(super) fn pitch(lesson: &Lesson, string: GuitarString, fret: Fret) -> Option<u8> {
    let tuning = lesson.tuning.as_ref().map_or(STANDARD_TUNING, |tuning| tuning.value);
    let open = tuning.get(usize::from(string).checked_sub(1)?)?;
    open.checked_add(fret)
}

/// The pitches of a shape from the lowest string to the highest.
pub(super) fn pitches(lesson: &Lesson, shape: ChordShape) -> Vec<u8> {
    let strings = (1..=6).rev();
    strings
        .filter_map(|string| pitch(lesson, string, shape.fret(string)?))
        .collect()
}

/// `C E G C E`.
pub(super) fn show(pitches: &[u8]) -> String {
    pitches
        .iter()
        .map(|pitch| pitch_name(*pitch))
        .collect::<Vec<_>>()
        .join(" ")
}

/// The third of a chord, or what stands in its place: semitones above the root, and the steps of its letter.
pub(super) struct Third {
    pub(super) semitones: u8,
    pub(super) letters: usize,
    /// The key of its words.
    pub(super) called: &'static str,
}

pub(super) fn third(quality: &str) -> Third {
    let third = |semitones, letters, called| Third {
        semitones,
        letters,
        called,
    };
    match quality {
        "m" | "m6" | "m7" | "m9" | "dim" | "dim7" => third(3, 2, "minor_third"),
        "sus2" => third(2, 1, "second"),
        "sus" | "sus4" => third(5, 3, "fourth"),
        _ => third(4, 2, "major_third"),
    }
}

/// The pitch classes that a name asks for beyond root and third, and those it allows: the fifth may be left out.
pub(super) fn allowed(name: &ChordName) -> Vec<u8> {
    let root = name.root.pitch_class();
    let mut steps = vec![0, third(&name.quality).semitones];
    steps.extend(match name.quality.as_str() {
        "dim" => [6].as_slice(),
        "dim7" => &[6, 9],
        "aug" => &[8],
        "6" | "m6" => &[7, 9],
        "7" | "m7" => &[7, 10],
        "maj7" => &[7, 11],
        "9" | "m9" => &[7, 10, 2],
        "maj9" => &[7, 11, 2],
        _ => &[7],
    });
    steps.extend(added_steps(&name.added));
    steps.into_iter().map(|step| (root + step) % 12).collect()
}

/// `(b9)`, `(add9)`, `(b9,#11)`: semitones above the root.
fn added_steps(added: &str) -> Vec<u8> {
    let inside = added.trim_matches(['(', ')']);
    let parts = inside.split([',', ' ', '/']).filter(|part| !part.is_empty());
    parts.filter_map(added_step).collect()
}

fn added_step(part: &str) -> Option<u8> {
    let part = part.trim_start_matches("add");
    let (shift, degree) = match part.strip_prefix(['b', '♭']) {
        Some(degree) => (11, degree),
        None => match part.strip_prefix(['#', '♯']) {
            Some(degree) => (1, degree),
            None => (0, part),
        },
    };
    let natural = match degree {
        "2" | "9" => 2,
        "4" | "11" => 5,
        "5" => 7,
        "6" | "13" => 9,
        "7" => 10,
        _ => return None,
    };
    Some((natural + shift) % 12)
}

/// The plain chord that these pitches make, if they make one: every tone of it and no other. The bass decides first.
pub(super) fn named(sounding: &[u8]) -> Option<ChordName> {
    let classes: Vec<u8> = sounding.iter().map(|pitch| pitch % 12).collect();
    let bass = classes.first().copied()?;
    let roots = (0..12).map(|step| (bass + step) % 12);
    let candidates = roots.flat_map(|root| ["", "m", "7", "m7", "maj7", "dim7"].map(|quality| (root, quality)));
    let complete = candidates.filter_map(|(root, quality)| {
        let name = ChordName::new(NoteName::parse(pitch_name(root))?, quality);
        let wanted = allowed(&name);
        let fits =
            wanted.iter().all(|class| classes.contains(class)) && classes.iter().all(|class| wanted.contains(class));
        fits.then_some(name)
    });
    let mut complete: Vec<ChordName> = complete.collect();
    complete.sort_by_key(|name| name.root.pitch_class() != bass);
    complete.into_iter().next()
}

/// The pitch so many semitones above a root, spelt so many letters above it: the third of F# is A#, not Bb.
pub(super) fn spelt(root: NoteName, semitones: u8, letters: usize) -> NoteName {
    const LETTERS: [char; 7] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
    let at = LETTERS.iter().position(|letter| *letter == root.letter).unwrap_or(0);
    let letter = LETTERS.get((at + letters) % 7).copied().unwrap_or('C');
    let natural = i16::from(NoteName::new(letter, 0).pitch_class());
    let wanted = i16::from(root.pitch_class()) + i16::from(semitones);
    let alter = (wanted - natural + 6).rem_euclid(12) - 6;
    NoteName::new(letter, alter as i8)
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
        ] {
            let name = ChordName::parse(chord).unwrap();
            let third = third(&name.quality);
            assert_eq!(
                spelt(name.root, third.semitones, third.letters).to_string(),
                expected,
                "{chord}"
            );
        }
    }

    #[test]
    fn open_strings_sound_e_a_d_g_b_e() {
        let lesson = Lesson::default();
        let open = ChordShape::parse("000000").unwrap();
        assert_eq!(show(&pitches(&lesson, open)), "E A D G B E");
        assert_eq!(
            pitches(&lesson, open),
            [40, 45, 50, 55, 59, 64],
            "MIDI numbers of standard tuning"
        );
    }
}
