//! Pitches as numbers: MIDI, frequency, written against sounding.

use super::pitch::NoteName;

/// A pitch as a MIDI number: 60 is middle C, 69 the A of 440 Hz.
pub type Midi = u8;

/// The A that orchestras tune to, in hertz (ISO 16; attested by TUN).
pub const A4: f64 = 440.0;

/// In hertz, equal temperament: 440 · 2^((n − 69) / 12) (MTS).
pub fn frequency(midi: Midi) -> f64 {
    A4 * 2f64.powf((f64::from(midi) - 69.0) / 12.0)
}

/// Where a sounding pitch is written: guitar music stands an octave above its sound (TUN).
pub fn written(sounding: Midi) -> Midi {
    sounding.saturating_add(12)
}

/// The octave of a pitch spelled with this name: middle C is C4, and the B sharp that sounds like it is B sharp 3.
pub fn octave(midi: Midi, name: NoteName) -> i8 {
    let natural = i16::from(midi) - i16::from(name.alter);
    i8::try_from(natural.div_euclid(12) - 1).unwrap_or(i8::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::pitch::STANDARD_TUNING;

    #[test]
    fn open_strings_sound_as_published() {
        // trade facts 3.1: strings 6 to 1; hertz computed there from the formula of MTS.
        let table = [
            (40, 82.4069),
            (45, 110.0),
            (50, 146.8324),
            (55, 195.9977),
            (59, 246.9417),
            (64, 329.6276),
        ];
        for ((midi, hertz), string) in table.into_iter().zip(STANDARD_TUNING.iter().rev()) {
            assert_eq!(midi, *string);
            assert!(
                (frequency(midi) - hertz).abs() < 0.000_05,
                "{midi}: {}",
                frequency(midi)
            );
        }
        assert!((frequency(69) - 440.0).abs() < 1e-9);
    }

    #[test]
    fn an_octave_doubles_the_frequency() {
        for midi in 0..=115 {
            assert!((frequency(midi + 12) / frequency(midi) - 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn guitar_music_is_written_an_octave_up() {
        // trade facts 3.1: written 52 57 62 67 71 76 for strings 6 to 1 (TUN).
        let written: Vec<Midi> = STANDARD_TUNING
            .iter()
            .rev()
            .map(|string| super::written(*string))
            .collect();
        assert_eq!(written, [52, 57, 62, 67, 71, 76]);
    }

    #[test]
    fn octaves_follow_the_letter() {
        let table = [
            (60, "C", 4),
            (59, "B", 3),
            (60, "B#", 3),
            (59, "Cb", 4),
            (40, "E", 2),
            (69, "A", 4),
            (0, "C", -1),
        ];
        for (midi, name, expected) in table {
            let name = NoteName::parse(name).expect("a pitch name");
            assert_eq!(octave(midi, name), expected, "{midi} {name}");
        }
    }
}
