//! From a chord's name to shapes a hand can hold, the easiest reach first.

use super::chord::{ChordName, ChordShape};
use super::chord_tones::{ChordTone, Part, tones};
use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString};

/// A shape that sounds a chord.
#[derive(Debug, Clone, PartialEq)]
pub struct ShapeCandidate {
    pub shape: ChordShape,
    /// Along the neck from the lowest to the highest stopped fret, in millimetres.
    pub reach_mm: f64,
    /// Fingers that it takes, a barre being one.
    pub fingers: usize,
    /// The lowest stopped fret; 0 when all strings are open.
    pub position: Fret,
    /// The fifth is left out.
    pub without_fifth: bool,
}

/// Frets looked through from the nut; four of them fall under the hand at once.
const LAST_POSITION: Fret = 9;
const SPAN: Fret = 3;

/// Shapes for a chord: root in the bass, no silent string between sounding ones, at least four strings, at most four
/// fingers. Ranked by reach, then by how near the nut, then by fingers; of equals the fuller one comes first.
pub fn shapes(name: &ChordName, guitar: &Guitar, at_most: usize) -> Vec<ShapeCandidate> {
    let Some(asked) = tones(name) else {
        return Vec::new();
    };
    let mut found: Vec<ShapeCandidate> = Vec::new();
    for position in 1..=LAST_POSITION {
        let mut frets = [None; 6];
        search(&asked, guitar, position, 6, &mut frets, &mut found);
    }
    found.sort_by(|one, other| rank(one).partial_cmp(&rank(other)).unwrap_or(std::cmp::Ordering::Equal));
    found.dedup_by(|one, other| one.shape == other.shape);
    found.truncate(at_most);
    found
}

/// What candidates are ranked by, smallest first.
fn rank(candidate: &ShapeCandidate) -> (bool, f64, Fret, usize, usize, ChordShape) {
    let silent = candidate.shape.frets.iter().filter(|fret| fret.is_none()).count();
    (
        candidate.without_fifth,
        candidate.reach_mm,
        candidate.position,
        candidate.fingers,
        silent,
        candidate.shape,
    )
}

/// Tries every chord note on a string (6 first), then on the next.
fn search(
    asked: &[ChordTone],
    guitar: &Guitar,
    position: Fret,
    string: GuitarString,
    frets: &mut [Option<Fret>; 6],
    found: &mut Vec<ShapeCandidate>,
) {
    if string == 0 {
        let shape = ChordShape { frets: *frets };
        found.extend(candidate(asked, guitar, shape));
        return;
    }
    let index = usize::from(6 - string);
    let is_tone = |fret: Fret| {
        let class = guitar.fingered(string, fret).map(|pitch| pitch % 12);
        asked.iter().any(|tone| Some(tone.name.pitch_class()) == class)
    };
    let under_hand = (position..=position + SPAN)
        .chain([0])
        .filter(|fret| is_tone(*fret))
        .map(Some);
    for choice in under_hand.chain([None]) {
        if let Some(place) = frets.get_mut(index) {
            *place = choice;
        }
        search(asked, guitar, position, string - 1, frets, found);
    }
}

fn candidate(asked: &[ChordTone], guitar: &Guitar, shape: ChordShape) -> Option<ShapeCandidate> {
    let strings = super::chord_naming::sounding(&shape, guitar);
    let lowest = strings.iter().min_by_key(|string| string.pitch)?;
    let root = asked.iter().find(|tone| tone.part == Part::Root)?;
    let sounds = |tone: &ChordTone| {
        strings
            .iter()
            .any(|string| string.pitch_class() == tone.name.pitch_class())
    };
    let may_be_left_out = |tone: &ChordTone| tone.part == Part::Fifth && tone.semitones == 7;
    let unbroken = strings.windows(2).all(|pair| match pair {
        [low, high] => low.string == high.string + 1 && low.pitch < high.pitch,
        _ => true,
    });
    let fingers = fingers_needed(&shape);
    let fits = strings.len() >= 4
        && unbroken
        && lowest.pitch_class() == root.name.pitch_class()
        && asked.iter().all(|tone| sounds(tone) || may_be_left_out(tone))
        && fingers <= 4;
    let stopped = strings.iter().map(|string| string.fret).filter(|fret| *fret > 0);
    let (low, high) = (stopped.clone().min().unwrap_or(0), stopped.max().unwrap_or(0));
    fits.then(|| ShapeCandidate {
        shape,
        reach_mm: guitar.between_frets_mm(low, high),
        fingers,
        position: low,
        without_fifth: asked.iter().any(|tone| may_be_left_out(tone) && !sounds(tone)),
    })
}

/// How many fingers a shape takes at least: one for each stopped string, or one lying across the lowest fret.
pub fn fingers_needed(shape: &ChordShape) -> usize {
    let stopped: Vec<(usize, Fret)> = shape
        .frets
        .iter()
        .enumerate()
        .filter_map(|(index, fret)| fret.filter(|fret| *fret > 0).map(|fret| (index, fret)))
        .collect();
    let Some(lowest) = stopped.iter().map(|(_, fret)| *fret).min() else {
        return 0;
    };
    let across: Vec<usize> = stopped
        .iter()
        .filter(|(_, fret)| *fret == lowest)
        .map(|(index, _)| *index)
        .collect();
    let first = across.first().copied().unwrap_or(0);
    // A finger lying across stops every string from there to the first: none of them may be meant to sound open.
    let open_under = shape.frets.iter().skip(first).any(|fret| *fret == Some(0));
    if across.len() > 1 && !open_under {
        1 + stopped.len() - across.len()
    } else {
        stopped.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::chord_naming::against_name;

    #[test]
    fn the_easiest_shapes_are_the_ones_beginners_learn() {
        // Common practice, no source.
        for (name, shape) in [
            ("A", "x02220"),
            ("E", "022100"),
            ("Am", "x02210"),
            ("Em", "022000"),
            ("C", "x32010"),
            ("E7", "020100"),
        ] {
            let name = ChordName::parse(name).expect("a name");
            let shape = ChordShape::parse(shape).expect("a shape");
            let found = shapes(&name, &Guitar::STANDARD, 8);
            assert!(
                found.iter().any(|candidate| candidate.shape == shape),
                "{name}: {shape} not in {found:?}"
            );
        }
    }

    #[test]
    fn every_candidate_sounds_its_chord_and_reach_grows_down_the_list() {
        for (quality, _) in QUALITIES_HERE {
            for root in ["C", "F#", "Bb", "E"] {
                let name = ChordName::parse(&format!("{root}{quality}")).expect("a name");
                let found = shapes(&name, &Guitar::STANDARD, 50);
                assert!(!found.is_empty(), "no shape for {name}");
                for candidate in &found {
                    let against = against_name(&name, &candidate.shape, &Guitar::STANDARD).expect("readable");
                    assert!(
                        !against.contradicts() && against.beyond.is_empty(),
                        "{name} {}",
                        candidate.shape
                    );
                    assert!(candidate.fingers <= 4);
                }
                for pair in found.windows(2) {
                    assert!(rank(&pair[0]) <= rank(&pair[1]), "{name}");
                }
            }
        }
    }

    const QUALITIES_HERE: [(&str, ()); 8] = [
        ("", ()),
        ("m", ()),
        ("7", ()),
        ("m7", ()),
        ("maj7", ()),
        ("dim7", ()),
        ("sus4", ()),
        ("(b9)", ()),
    ];

    #[test]
    fn a_barre_is_one_finger() {
        for (shape, fingers) in [
            ("x13331", 4),
            ("133211", 4),
            ("x02220", 3),
            ("022100", 3),
            ("222222", 1),
            ("000000", 0),
            ("101010", 3),
        ] {
            let shape = ChordShape::parse(shape).expect("a shape");
            assert_eq!(fingers_needed(&shape), fingers, "{shape}");
        }
    }
}
