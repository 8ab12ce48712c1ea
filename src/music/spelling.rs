//! How a pitch is written in a key, and the scales of the modes.

use super::key::{Key, Mode};
use super::pitch::NoteName;

const LETTERS: [char; 7] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/// The letter so many steps above a name, altered so that it is so many semitones above it.
///
/// None when it would take more than a double sharp or double flat.
pub fn above(name: NoteName, steps: usize, semitones: i16) -> Option<NoteName> {
    let from = LETTERS.iter().position(|letter| *letter == name.letter)?;
    let letter = *LETTERS.get((from + steps) % 7)?;
    let natural = NoteName::new(letter, 0);
    let wanted = (i16::from(name.pitch_class()) + semitones).rem_euclid(12);
    let off = (wanted - i16::from(natural.pitch_class()) + 6).rem_euclid(12) - 6;
    let alter = i8::try_from(off).ok()?;
    (-2..=2).contains(&alter).then_some(NoteName::new(letter, alter))
}

/// Semitones above the tonic of each note of a mode.
///
/// The flamenco mode is Phrygian with both thirds, the major one in the chord at home (GRA, FMO).
pub fn scale(mode: Mode) -> &'static [i16] {
    match mode {
        Mode::Major => &[0, 2, 4, 5, 7, 9, 11],
        Mode::Minor => &[0, 2, 3, 5, 7, 8, 10],
        Mode::Phrygian => &[0, 1, 3, 5, 7, 8, 10],
    }
}

/// The Phrygian scale with its third raised: the scale over the chord at home (BRI).
pub const RAISED_THIRD: [i16; 7] = [0, 1, 4, 5, 7, 8, 10];

/// The notes of a key, from the tonic up; None for a tonic so altered that they cannot be written.
pub fn notes(key: Key) -> Option<Vec<NoteName>> {
    let semitones = scale(key.mode).iter().enumerate();
    semitones
        .map(|(step, semitones)| above(key.tonic, step, *semitones))
        .collect()
}

/// How a pitch class is written in a key.
///
/// Notes of the scale have their own letters. Of the others each is the altered note that the mode uses: a raised
/// third in Phrygian (A sharp in F sharp, never B flat), a flat second in major and minor, a raised fourth.
pub fn spell(pitch_class: u8, key: Key) -> NoteName {
    let semitones = (i16::from(pitch_class) - i16::from(key.tonic.pitch_class())).rem_euclid(12);
    let steps = match (key.mode, semitones) {
        (_, 0) => 0,
        (_, 1 | 2) => 1,
        (_, 3 | 4) => 2,
        (_, 5) => 3,
        // Phrygian has a perfect fifth and sings its flat fifth; major and minor raise the fourth towards the fifth.
        (Mode::Phrygian, 6) => 4,
        (_, 6) => 3,
        (_, 7) => 4,
        (_, 8 | 9) => 5,
        _ => 6,
    };
    above(key.tonic, steps, semitones).unwrap_or_else(|| plain(pitch_class))
}

/// A pitch class without a key: flats for the two that flamenco keys mostly write so, sharps for the rest.
pub fn plain(pitch_class: u8) -> NoteName {
    match pitch_class % 12 {
        0 => NoteName::new('C', 0),
        1 => NoteName::new('C', 1),
        2 => NoteName::new('D', 0),
        3 => NoteName::new('E', -1),
        4 => NoteName::new('E', 0),
        5 => NoteName::new('F', 0),
        6 => NoteName::new('F', 1),
        7 => NoteName::new('G', 0),
        8 => NoteName::new('G', 1),
        9 => NoteName::new('A', 0),
        10 => NoteName::new('B', -1),
        _ => NoteName::new('B', 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(tonic: &str, mode: Mode) -> Key {
        let tonic = NoteName::parse(tonic).expect("a pitch name");
        Key { tonic, mode }
    }

    fn words(names: &[NoteName]) -> String {
        let words: Vec<String> = names.iter().map(ToString::to_string).collect();
        words.join(" ")
    }

    #[test]
    fn scales_are_spelled_with_seven_letters() {
        // E Phrygian and the raised third: trade facts 3.4 (BRI). Major and minor: common practice.
        let table = [
            ("E", Mode::Phrygian, "E F G A B C D"),
            ("A", Mode::Phrygian, "A Bb C D E F G"),
            ("F#", Mode::Phrygian, "F# G A B C# D E"),
            ("B", Mode::Phrygian, "B C D E F# G A"),
            ("C#", Mode::Phrygian, "C# D E F# G# A B"),
            ("G#", Mode::Phrygian, "G# A B C# D# E F#"),
            ("E", Mode::Major, "E F# G# A B C# D#"),
            ("C", Mode::Major, "C D E F G A B"),
            ("A", Mode::Minor, "A B C D E F G"),
            ("D", Mode::Minor, "D E F G A Bb C"),
        ];
        for (tonic, mode, expected) in table {
            let notes = notes(key(tonic, mode)).expect("writable");
            assert_eq!(words(&notes), expected, "{tonic} {mode:?}");
            // A pitch of the scale is written as the scale writes it.
            let spelled: Vec<NoteName> = notes
                .iter()
                .map(|note| spell(note.pitch_class(), key(tonic, mode)))
                .collect();
            assert_eq!(spelled, notes, "{tonic} {mode:?}");
        }
    }

    #[test]
    fn the_raised_third_keeps_its_letter() {
        // The spelling trap of trade facts 3.4: A#, D#, E#, B# as the leading thirds of F#, B, C#, G#.
        for (tonic, third) in [
            ("E", "G#"),
            ("A", "C#"),
            ("F#", "A#"),
            ("B", "D#"),
            ("C#", "E#"),
            ("G#", "B#"),
        ] {
            let key = key(tonic, Mode::Phrygian);
            let pitch_class = (key.tonic.pitch_class() + 4) % 12;
            assert_eq!(spell(pitch_class, key).to_string(), third, "{tonic}");
        }
    }

    #[test]
    fn every_pitch_is_spelled_as_itself_in_every_key() {
        for letter in LETTERS {
            for alter in -1..=1 {
                for mode in [Mode::Phrygian, Mode::Major, Mode::Minor] {
                    let tonic = NoteName::new(letter, alter);
                    for pitch_class in 0..12 {
                        let spelled = spell(pitch_class, Key { tonic, mode });
                        assert_eq!(spelled.pitch_class(), pitch_class, "{tonic} {mode:?}");
                    }
                }
            }
        }
    }
}
