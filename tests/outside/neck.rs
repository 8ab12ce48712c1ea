//! Pitches and frequencies on the neck against music21 10.5.1; fret distances against the luthiers' rule.

use compasario::music::fretboard::{Guitar, SCALE_MM, nut_to_fret_mm};
use compasario::music::pitch::NoteName;
use compasario::music::tone::{frequency, octave};

use crate::rows;

#[test]
fn every_fret_of_every_string_gives_the_pitch_of_the_music_library() {
    let rows = rows(include_str!("data/neck.tsv"));
    assert_eq!(rows.len(), 6 * 20);
    for row in rows {
        let (string, fret) = (row[0].parse().unwrap(), row[1].parse().unwrap());
        let midi: u8 = row[2].parse().unwrap();
        assert_eq!(
            Guitar::STANDARD.sounding(string, fret),
            Some(midi),
            "string {string} fret {fret}"
        );
        let hertz: f64 = row[4].parse().unwrap();
        assert!(
            (frequency(midi) - hertz).abs() < 1e-3,
            "{midi}: {} against {hertz}",
            frequency(midi)
        );
        let split = row[3].len() - 1;
        let (name, register) = row[3].split_at(split);
        let name = NoteName::parse(name).unwrap();
        assert_eq!(octave(midi, name), register.parse::<i8>().unwrap(), "{}", row[3]);
        assert_eq!(Guitar::STANDARD.gives(string, fret, name), Some(true));
    }
}

/// Guitar makers lay out each fret at 1/17.817 of what is left of the string (from memory; common practice).
#[test]
fn frets_stand_where_the_luthiers_rule_puts_them() {
    let mut from_nut = 0.0;
    for fret in 1..=19 {
        from_nut += (SCALE_MM - from_nut) / 17.817;
        let ours = nut_to_fret_mm(f64::from(fret));
        assert!((ours - from_nut).abs() < 0.01, "fret {fret}: {ours} against {from_nut}");
    }
    // Fret 12 halves the string (trade facts 3.1).
    assert!((nut_to_fret_mm(12.0) - 325.0).abs() < 1e-9);
}
