//! From a chord shape to what it sounds: its pitches, the names it may go by, and whether it contradicts its name.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::chord::{ChordName, ChordShape};
use super::chord_tones::{ChordTone, Part, QUALITIES, tones};
use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString};
use super::key::Key;
use super::pitch::NoteName;
use super::spelling::{plain, spell};
use super::tone::Midi;

/// One string of a shape that sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SoundingString {
    pub string: GuitarString,
    pub fret: Fret,
    /// As fingered, without the capo.
    pub pitch: Midi,
}

impl SoundingString {
    pub fn pitch_class(self) -> u8 {
        self.pitch % 12
    }
}

/// The strings that sound, from string 6 to string 1.
pub fn sounding(shape: &ChordShape, guitar: &Guitar) -> Vec<SoundingString> {
    let string = |string: GuitarString| {
        let fret = shape.fret(string)?;
        let pitch = guitar.fingered(string, fret)?;
        Some(SoundingString { string, fret, pitch })
    };
    (1..=6).rev().filter_map(string).collect()
}

/// A name that a shape may go by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NameCandidate {
    pub name: ChordName,
    /// Asked for by the name, and not in the shape: at most the fifth.
    pub missing: Vec<NoteName>,
    /// The lowest string sounds the root.
    pub root_in_bass: bool,
}

/// The names that a shape may go by, the likeliest first.
///
/// Each has its root and its third in the shape and nothing in the shape that it does not name. Fewest added notes
/// come first, then nothing missing, then the root in the bass, then the plainer quality.
pub fn names(shape: &ChordShape, guitar: &Guitar, key: Option<Key>) -> Vec<NameCandidate> {
    let strings = sounding(shape, guitar);
    let classes: BTreeSet<u8> = strings.iter().map(|string| string.pitch_class()).collect();
    let bass = strings
        .iter()
        .min_by_key(|string| string.pitch)
        .map(|string| string.pitch_class());
    let mut ranked = Vec::new();
    for root_class in &classes {
        let root = key.map_or_else(|| plain(*root_class), |key| spell(*root_class, key));
        for (order, (quality, _)) in QUALITIES.iter().enumerate() {
            // `sus` is `sus4` written short.
            let Some(asked) = tones(&ChordName::new(root, quality)).filter(|_| *quality != "sus") else {
                continue;
            };
            let Some((added, missing)) = fit(&asked, root, &classes) else {
                continue;
            };
            let root_in_bass = bass == Some(*root_class);
            let rank = (added.len(), missing.len(), Reverse(root_in_bass), order);
            let mut name = ChordName::new(root, quality);
            if !added.is_empty() {
                name.added = format!("({})", added.join(","));
            }
            ranked.push((
                rank,
                NameCandidate {
                    name,
                    missing,
                    root_in_bass,
                },
            ));
        }
    }
    ranked.sort_by_key(|(rank, _)| *rank);
    ranked.into_iter().map(|(_, candidate)| candidate).collect()
}

/// What the classes have beyond the notes asked for, and what they lack; None when root or third is lacking.
fn fit(asked: &[ChordTone], root: NoteName, classes: &BTreeSet<u8>) -> Option<(Vec<&'static str>, Vec<NoteName>)> {
    let class = |tone: &ChordTone| tone.name.pitch_class();
    let missing: Vec<&ChordTone> = asked.iter().filter(|tone| !classes.contains(&class(tone))).collect();
    if missing
        .iter()
        .any(|tone| tone.part != Part::Fifth || tone.semitones != 7)
    {
        return None;
    }
    let beyond = classes
        .iter()
        .filter(|one| asked.iter().all(|tone| class(tone) != **one));
    let added = beyond
        .map(|one| added_word((one + 12 - root.pitch_class()) % 12, asked))
        .collect::<Option<Vec<_>>>()?;
    Some((added, missing.iter().map(|tone| tone.name).collect()))
}

/// How a note so many semitones above the root is written in brackets; None for a second third or a first seventh,
/// which make another quality.
fn added_word(semitones: u8, asked: &[ChordTone]) -> Option<&'static str> {
    let has = |part: Part| asked.iter().any(|tone| tone.part == part);
    match semitones {
        1 => Some("b9"),
        2 => Some("add9"),
        3 => Some("#9"),
        5 => Some("add11"),
        6 => Some("#11"),
        8 => Some("b13"),
        9 => Some("add13"),
        11 if has(Part::Seventh) => None,
        11 => Some("maj7"),
        _ => None,
    }
}

/// How a shape and its name stand to each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AgainstName {
    /// The shape has no root.
    pub root_missing: Option<NoteName>,
    /// The shape has no third (or what stands in for it).
    pub third_missing: Option<NoteName>,
    /// A third that is not the name's, sounding instead of it.
    pub wrong_third: Option<NoteName>,
    /// Other notes asked for and absent; no contradiction.
    pub lacking: Vec<NoteName>,
    /// Strings that sound a note beyond the name, from string 6 to string 1; no contradiction.
    pub beyond: Vec<(SoundingString, NoteName)>,
}

impl AgainstName {
    /// A shape contradicts its name only when its root or its third is missing or wrong.
    pub fn contradicts(&self) -> bool {
        self.root_missing.is_some() || self.third_missing.is_some() || self.wrong_third.is_some()
    }
}

/// Holds a shape against its name. None when the name asks for something we cannot read, or no string sounds.
pub fn against_name(name: &ChordName, shape: &ChordShape, guitar: &Guitar) -> Option<AgainstName> {
    let asked = tones(name)?;
    let strings = sounding(shape, guitar);
    if strings.is_empty() {
        return None;
    }
    let sounds = |class: u8| strings.iter().any(|string| string.pitch_class() == class);
    let absent = |part: Part| {
        let mut of_part = asked.iter().filter(move |tone| tone.part == part);
        of_part
            .find(|tone| !sounds(tone.name.pitch_class()))
            .map(|tone| tone.name)
    };
    let third = asked.iter().find(|tone| tone.part == Part::Third);
    let other_third = third.and_then(|tone| match tone.semitones {
        4 => Some(3),
        3 => Some(4),
        _ => None,
    });
    let other_class = other_third.map(|semitones: u8| (name.root.pitch_class() + semitones) % 12);
    let third_missing = absent(Part::Third);
    let wrong = other_class.filter(|class| third_missing.is_some() && sounds(*class));
    let wrong_third = wrong.map(|class| named_third(name.root, class));
    let lacking = [Part::Fifth, Part::Seventh, Part::Added]
        .into_iter()
        .filter_map(absent)
        .collect();
    let is_asked = |string: &SoundingString| asked.iter().any(|tone| tone.name.pitch_class() == string.pitch_class());
    let beyond = strings.iter().filter(|string| !is_asked(string));
    Some(AgainstName {
        root_missing: absent(Part::Root),
        third_missing,
        wrong_third,
        lacking,
        beyond: beyond
            .map(|string| (*string, from_root(name.root, string.pitch_class())))
            .collect(),
    })
}

fn named_third(root: NoteName, class: u8) -> NoteName {
    from_root(root, class)
}

/// A note spelled by its distance from a root.
fn from_root(root: NoteName, class: u8) -> NoteName {
    let key = Key {
        tonic: root,
        mode: super::key::Mode::Phrygian,
    };
    spell(class, key)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first_name(shape: &str) -> String {
        let shape = ChordShape::parse(shape).expect("a shape");
        let names = names(&shape, &Guitar::STANDARD, None);
        names
            .first()
            .map(|candidate| candidate.name.to_string())
            .unwrap_or_default()
    }

    #[test]
    fn shapes_go_by_the_names_that_players_give_them() {
        // Common practice, no source; more than 500 shapes are held against a music library in tests/chords.rs.
        let table = [
            ("x02220", "A"),
            ("x13331", "Bb"),
            ("022100", "E"),
            ("133211", "F"),
            ("320003", "G"),
            ("x02210", "Am"),
            ("xx0231", "Dm"),
            ("020100", "E7"),
            ("x21202", "B7"),
            ("320001", "G7"),
            ("x32010", "C"),
            ("xx0232", "D"),
            ("x02020", "A7"),
            ("xx3210", "Fmaj7"),
            ("x02010", "Am7"),
            ("022000", "Em"),
            // The taranta's chord at home with its two open strings (W-TAR): a seventh and an eleventh.
            ("244300", "F#7(add11)"),
            ("xxxxxx", ""),
        ];
        for (shape, name) in table {
            assert_eq!(first_name(shape), name, "{shape}");
        }
    }

    fn against(name: &str, shape: &str) -> AgainstName {
        let name = ChordName::parse(name).expect("a name");
        let shape = ChordShape::parse(shape).expect("a shape");
        against_name(&name, &shape, &Guitar::STANDARD).expect("readable")
    }

    #[test]
    fn a_shape_contradicts_its_name_by_root_or_third_only() {
        // name, shape, contradicts
        let table = [
            ("Dm", "x32010", true),
            ("E7", "x02020", true),
            ("A", "x02210", true),
            ("Am", "x02220", true),
            ("A", "x022xx", true),
            ("A", "x02220", false),
            ("F", "xx3210", false),
            ("F#", "244300", false),
            ("G", "355400", false),
            ("E7", "022100", false),
            ("A7(no3)", "x02xxx", false),
            ("Dsus4", "xx0233", false),
            ("Dsus4", "xx0232", true),
            ("E7#9", "0767xx", false),
        ];
        for (name, shape, contradicts) in table {
            assert_eq!(against(name, shape).contradicts(), contradicts, "{name} {shape}");
        }
    }

    #[test]
    fn what_is_wrong_is_named() {
        let dm = against("Dm", "x32010");
        assert_eq!(dm.root_missing.map(|note| note.to_string()).as_deref(), Some("D"));
        let e7 = against("E7", "x02020");
        assert_eq!(e7.wrong_third.map(|note| note.to_string()).as_deref(), Some("G"));
        let f = against("F", "xx3210");
        let beyond: Vec<String> = f
            .beyond
            .iter()
            .map(|(string, note)| format!("s{} {note}", string.string))
            .collect();
        assert_eq!(beyond, ["s1 E"]);
    }
}
