use super::Discourse;
use crate::music::fretboard::Guitar;
use crate::music::hand::{Fret, GuitarString};
use crate::music::pitch::NoteName;
use crate::reading::statement::{ChordSaid, Told};

impl Discourse {
    /// "five is G, sixth string third fret", `3: mi, c4 t2`: a bare name beside the one place where it sounds is the
    /// name of that note.
    pub(super) fn note_and_no_chord(&self, told: &Told) -> Option<Told> {
        let name = bare_name(told).filter(|_| told.notes.is_empty() && !told.is_one_strum())?;
        let (string, fret) = self.place_of(told)?;
        let sounds = Guitar::of(&self.lesson).gives(string, fret, name) == Some(true);
        sounds.then(|| Told {
            notes: vec![name],
            chord: None,
            chord_cued: false,
            ..told.clone()
        })
    }

    /// The one string and fret of a clause; a string that was told before is meant where only the fret is told.
    fn place_of(&self, told: &Told) -> Option<(GuitarString, Fret)> {
        let told_before = || match (told.strings.as_slice(), told.frets.as_slice()) {
            ([], [fret]) => Some((self.string.or_else(|| self.string_of_the_passage())?, *fret)),
            _ => None,
        };
        told.one_place().or_else(told_before)
    }

    /// "all of it on the sixth string"
    fn string_of_the_passage(&self) -> Option<GuitarString> {
        let pattern = self.pattern()?;
        pattern.passages.iter().rev().find_map(|passage| passage.string)
    }
}

/// The name of a chord of which no quality is told: it may be that of a note.
fn bare_name(told: &Told) -> Option<NoteName> {
    match &told.chord {
        Some(ChordSaid::Named(chord)) if chord.quality.is_empty() && chord.added.is_empty() => Some(chord.root),
        _ => None,
    }
}
