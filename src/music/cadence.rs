//! The toques, and the walk home that each is built on.

use super::chord::ChordName;
use super::key::{Key, Mode};
use super::spelling::above;

/// A position on the neck with its chord at home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Toque {
    /// As players say it.
    pub name: &'static str,
    pub tonic: &'static str,
    /// Keys of `src/data/sources.toml`.
    pub source: &'static str,
}

/// The six toques in the flamenco mode, with their sources.
pub const TOQUES: [Toque; 6] = [
    Toque {
        name: "por arriba",
        tonic: "E",
        source: "AND, UNC",
    },
    Toque {
        name: "por medio",
        tonic: "A",
        source: "AND, UNC",
    },
    Toque {
        name: "por taranta",
        tonic: "F#",
        source: "AND, W-TAR",
    },
    Toque {
        name: "por granaína",
        tonic: "B",
        source: "AND",
    },
    Toque {
        name: "por minera",
        tonic: "G#",
        source: "AND, DA",
    },
    Toque {
        name: "por rondeña",
        tonic: "C#",
        source: "AND",
    },
];

/// What players call a key, when it has a name of its own.
pub fn toque(key: Key) -> Option<&'static Toque> {
    let tonic = key.tonic.to_string();
    TOQUES
        .iter()
        .find(|toque| key.mode == Mode::Phrygian && toque.tonic == tonic)
}

/// The walk home of a key.
///
/// In the flamenco mode iv III II I: roots 5, 3, 1 and 0 semitones above the tonic, minor then major (AND).
/// In major and minor the plain close IV V7 I and iv V7 i (common practice, no source).
/// None for a tonic so altered that the chords cannot be written.
pub fn cadence(key: Key) -> Option<Vec<ChordName>> {
    let walk: &[(usize, i16, &str)] = match key.mode {
        Mode::Phrygian => &[(3, 5, "m"), (2, 3, ""), (1, 1, ""), (0, 0, "")],
        Mode::Major => &[(3, 5, ""), (4, 7, "7"), (0, 0, "")],
        Mode::Minor => &[(3, 5, "m"), (4, 7, "7"), (0, 0, "m")],
    };
    let chord = |(steps, semitones, quality): &(usize, i16, &str)| {
        above(key.tonic, *steps, *semitones).map(|root| ChordName::new(root, quality))
    };
    walk.iter().map(chord).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::pitch::NoteName;

    #[test]
    fn cadences_are_as_published() {
        // trade facts 3.4 (AND, UNC, W-TAR, DA); the last two rows are common practice, no source.
        let table = [
            ("E", Mode::Phrygian, "Am G F E", Some("por arriba")),
            ("A", Mode::Phrygian, "Dm C Bb A", Some("por medio")),
            ("F#", Mode::Phrygian, "Bm A G F#", Some("por taranta")),
            ("B", Mode::Phrygian, "Em D C B", Some("por granaína")),
            ("G#", Mode::Phrygian, "C#m B A G#", Some("por minera")),
            ("C#", Mode::Phrygian, "F#m E D C#", Some("por rondeña")),
            ("E", Mode::Major, "A B7 E", None),
            ("A", Mode::Minor, "Dm E7 Am", None),
        ];
        for (tonic, mode, chords, name) in table {
            let tonic = NoteName::parse(tonic).expect("a pitch name");
            let key = Key { tonic, mode };
            let walk: Vec<String> = cadence(key)
                .into_iter()
                .flatten()
                .map(|chord| chord.to_string())
                .collect();
            assert_eq!(walk.join(" "), chords);
            assert_eq!(toque(key).map(|toque| toque.name), name);
        }
    }
}
