//! The neck: which pitch a string gives at a fret, and how far apart two places are.

use super::hand::{Fret, GuitarString};
use super::lesson::Lesson;
use super::pitch::{NoteName, STANDARD_TUNING};
use super::tone::Midi;

/// From nut to bridge saddle, in millimetres: what most flamenco guitars are built to (common practice, no source).
pub const SCALE_MM: f64 = 650.0;

/// Between two neighbouring strings near the nut, in millimetres (common practice, no source: 43 mm over five gaps).
pub const STRING_GAP_MM: f64 = 8.6;

/// A guitar as tuned and clamped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Guitar {
    /// Open strings from string 1 to string 6 at sounding pitch, without capo.
    pub tuning: [Midi; 6],
    /// The fret that the capo is on; 0 without one. Frets are counted from it.
    pub capo: Fret,
}

impl Guitar {
    pub const STANDARD: Guitar = Guitar {
        tuning: STANDARD_TUNING,
        capo: 0,
    };

    /// The guitar of a lesson.
    pub fn of(lesson: &Lesson) -> Guitar {
        Guitar {
            tuning: lesson.tuning.as_ref().map_or(STANDARD_TUNING, |said| said.value),
            capo: lesson.capo.as_ref().map_or(0, |said| said.value),
        }
    }

    /// The pitch as fingered, as if there were no capo: what players call it. None for a string that is not there.
    pub fn fingered(&self, string: GuitarString, fret: Fret) -> Option<Midi> {
        let open = self.tuning.get(usize::from(string).checked_sub(1)?)?;
        open.checked_add(fret).filter(|midi| *midi <= 127)
    }

    /// The pitch that is heard.
    pub fn sounding(&self, string: GuitarString, fret: Fret) -> Option<Midi> {
        self.fingered(string, fret)?
            .checked_add(self.capo)
            .filter(|midi| *midi <= 127)
    }

    /// The lowest fret of a string that gives a note of this name as fingered: 0 to 11.
    pub fn fret_of(&self, string: GuitarString, note: NoteName) -> Option<Fret> {
        let open = self.fingered(string, 0)?;
        Some((i16::from(note.pitch_class()) - i16::from(open)).rem_euclid(12) as Fret)
    }

    /// True when the string at this fret gives a note of this name as fingered, in any octave.
    pub fn gives(&self, string: GuitarString, fret: Fret, note: NoteName) -> Option<bool> {
        Some(self.fingered(string, fret)? % 12 == note.pitch_class())
    }

    /// Along the neck from one fret to another, both counted from the capo, in millimetres.
    pub fn between_frets_mm(&self, one: Fret, other: Fret) -> f64 {
        let from_nut = |fret: Fret| nut_to_fret_mm(f64::from(self.capo) + f64::from(fret));
        (from_nut(one) - from_nut(other)).abs()
    }

    /// From one fingertip to another, each just behind its fret, in millimetres.
    pub fn apart_mm(&self, one: (GuitarString, Fret), other: (GuitarString, Fret)) -> f64 {
        let across = f64::from(one.0.abs_diff(other.0)) * STRING_GAP_MM;
        self.between_frets_mm(one.1, other.1).hypot(across)
    }
}

/// From the nut to a fret, in millimetres: scale · (1 − 2^(−fret / 12)), from equal temperament alone.
pub fn nut_to_fret_mm(fret: f64) -> f64 {
    SCALE_MM * (1.0 - 2f64.powf(-fret / 12.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frets_raise_the_string_by_semitones_and_the_capo_raises_all() {
        // Names of pitches at frets, common practice; the capo raises the sound only (UNC).
        let guitar = Guitar {
            capo: 3,
            ..Guitar::STANDARD
        };
        assert_eq!((guitar.fingered(5, 3), guitar.sounding(5, 3)), (Some(48), Some(51)));
        assert_eq!((guitar.fingered(0, 0), guitar.fingered(7, 0)), (None, None));
        assert_eq!(guitar.fingered(1, 200), None);
    }

    #[test]
    fn a_note_is_found_on_its_string() {
        let table = [
            (4, "F", 3),
            (4, "E", 2),
            (5, "Bb", 1),
            (5, "A", 0),
            (6, "G", 3),
            (3, "G#", 1),
            (1, "E", 0),
            (2, "C#", 2),
        ];
        for (string, note, fret) in table {
            let note = NoteName::parse(note).expect("a pitch name");
            assert_eq!(Guitar::STANDARD.fret_of(string, note), Some(fret), "{note} on {string}");
            assert_eq!(Guitar::STANDARD.gives(string, fret, note), Some(true));
        }
    }

    #[test]
    fn the_twelfth_fret_halves_the_string() {
        assert!((nut_to_fret_mm(12.0) - SCALE_MM / 2.0).abs() < 1e-9);
        assert!(nut_to_fret_mm(0.0).abs() < 1e-9);
    }
}
