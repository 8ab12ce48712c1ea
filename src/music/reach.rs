//! What a left hand can hold at once: how far apart its fingers can be, their order, how many a shape takes.
//!
//! Limits are common practice, no source: five frets at the nut (127 mm) are the widest that teaching asks of index and
//! little finger; a sixth (154 mm) is out of most hands' reach; a seventh (180 mm) of every hand's.

use super::chord::{Chord, ChordShape};
use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString, LeftFinger};
use super::held::{Hold, holds_of};
use super::round::Pulses;

/// One finger on one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fingertip {
    pub finger: Option<LeftFinger>,
    pub string: GuitarString,
    pub fret: Fret,
}

/// Two fingertips that a hand can hardly have down together, or not at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strain {
    pub one: Fingertip,
    pub other: Fingertip,
    pub what: StrainKind,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StrainKind {
    /// Further apart than teaching asks of these two fingers; `impossible` beyond any hand.
    Wide { mm: f64, impossible: bool },
    /// The finger nearer the thumb lies nearer the bridge.
    Crossed,
}

/// How far apart two fingers may be before it is a strain, and before it is out of reach, in millimetres.
fn limits(one: Option<LeftFinger>, other: Option<LeftFinger>) -> (f64, f64) {
    let (low, high) = match (one, other) {
        (Some(one), Some(other)) => (one.min(other), one.max(other)),
        _ => (1, 4),
    };
    match (low, high) {
        (1, 2) => (100.0, 135.0),
        (2, 3) | (3, 4) => (80.0, 110.0),
        (1, 3) | (2, 4) => (115.0, 145.0),
        _ => (130.0, 165.0),
    }
}

/// What strains the hand among fingertips that are down together, the widest first.
pub fn strains(tips: &[Fingertip], guitar: &Guitar) -> Vec<Strain> {
    let stopped: Vec<Fingertip> = tips
        .iter()
        .copied()
        .filter(|tip| tip.fret > 0 && tip.finger != Some(0))
        .collect();
    let mut found = Vec::new();
    for (index, one) in stopped.iter().enumerate() {
        for other in stopped.iter().skip(index + 1) {
            found.extend(strain(*one, *other, guitar));
        }
    }
    let width = |strain: &Strain| match strain.what {
        StrainKind::Wide { mm, .. } => mm,
        StrainKind::Crossed => 0.0,
    };
    found.sort_by(|one, other| width(other).total_cmp(&width(one)));
    found
}

fn strain(one: Fingertip, other: Fingertip, guitar: &Guitar) -> Option<Strain> {
    if one.finger.is_some() && one.finger == other.finger {
        return None;
    }
    let mm = guitar.apart_mm((one.string, one.fret), (other.string, other.fret));
    let (wide, beyond) = limits(one.finger, other.finger);
    let crossed = match (one.finger, other.finger) {
        (Some(first), Some(second)) => {
            (first < second && one.fret > other.fret) || (first > second && one.fret < other.fret)
        }
        _ => false,
    };
    let what = if mm > wide {
        StrainKind::Wide {
            mm,
            impossible: mm > beyond,
        }
    } else if crossed {
        StrainKind::Crossed
    } else {
        return None;
    };
    Some(Strain { one, other, what })
}

/// The fingertips of a chord, with fingers where they are said.
pub fn fingertips(chord: &Chord) -> Vec<Fingertip> {
    let tip = |hold: &Hold| Fingertip {
        finger: hold.finger,
        string: hold.string,
        fret: hold.fret,
    };
    holds_of(chord, Pulses::from_integer(0), chord.place)
        .iter()
        .map(tip)
        .collect()
}

/// The fewest fingers that can hold a shape, each lying over neighbouring strings where that stops no string lower
/// than it is meant to sound. More than four is no shape for a hand.
pub fn fewest_fingers(shape: &ChordShape) -> usize {
    let mut frets: Vec<Fret> = shape.frets.iter().flatten().copied().filter(|fret| *fret > 0).collect();
    frets.sort_unstable();
    frets.dedup();
    frets.iter().map(|fret| runs_at(shape, *fret)).sum()
}

/// How many fingers one fret takes: strings that it stops, without a string between that has to sound lower.
fn runs_at(shape: &ChordShape, fret: Fret) -> usize {
    let mut runs = 0;
    let mut lying = false;
    for own in &shape.frets {
        match own {
            Some(own) if *own == fret => {
                runs += usize::from(!lying);
                lying = true;
            }
            Some(own) if *own < fret => lying = false,
            Some(_) | None => {}
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tips(words: &str) -> Vec<Fingertip> {
        let tip = |word: &str| {
            let digits: Vec<u8> = word.split('.').map(|digit| digit.parse().unwrap_or(9)).collect();
            Fingertip {
                finger: Some(digits[0]).filter(|finger| *finger < 9),
                string: digits[1],
                fret: digits[2],
            }
        };
        words.split(' ').map(tip).collect()
    }

    #[test]
    fn hands_reach_so_far() {
        // finger.string.fret (9: not said), what strains
        let table = [
            ("1.2.1 2.4.2 3.5.3", "fine"),
            // The widest of the common chords, and the five frets that studies ask for.
            ("2.5.2 3.6.3 4.1.3", "fine"),
            ("1.6.1 4.1.4", "fine"),
            ("1.6.1 4.6.5", "fine"),
            ("1.6.1 4.6.6", "wide"),
            ("1.2.1 4.1.8", "impossible"),
            ("9.2.1 9.1.8", "impossible"),
            // Higher up the frets lie closer.
            ("1.1.9 4.1.15", "fine"),
            ("2.3.2 3.3.4", "fine"),
            ("3.3.2 4.3.5", "wide"),
            ("1.3.3 2.3.2", "crossed"),
            ("2.4.2 3.3.2 1.2.2", "fine"),
            ("0.6.1 4.1.8", "fine"),
        ];
        for (words, expected) in table {
            let strain = strains(&tips(words), &Guitar::STANDARD)
                .first()
                .map(|strain| strain.what);
            let told = match strain {
                None => "fine",
                Some(StrainKind::Crossed) => "crossed",
                Some(StrainKind::Wide { impossible: true, .. }) => "impossible",
                Some(StrainKind::Wide { .. }) => "wide",
            };
            assert_eq!(told, expected, "{words}");
        }
    }

    #[test]
    fn a_capo_brings_the_frets_together() {
        let capo = Guitar {
            capo: 5,
            ..Guitar::STANDARD
        };
        assert!(strains(&tips("1.6.1 4.6.6"), &Guitar::STANDARD).len() > strains(&tips("1.6.1 4.6.6"), &capo).len());
    }

    #[test]
    fn shapes_take_so_many_fingers() {
        // Common practice, no source.
        let table = [
            ("x02220", 1),
            ("022100", 2),
            ("x32010", 3),
            ("320003", 3),
            ("x13331", 2),
            ("133211", 3),
            ("xx0231", 3),
            ("244300", 3),
            ("654321", 6),
            ("x35463", 4),
            ("000000", 0),
            ("212121", 4),
        ];
        for (shape, fingers) in table {
            let shape = ChordShape::parse(shape).expect("a shape");
            assert_eq!(fewest_fingers(&shape), fingers, "{shape}");
        }
    }
}
