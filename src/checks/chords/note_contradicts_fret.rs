use super::sounding::pitch_name;
use crate::checks::check::words_of;
use crate::checks::left_hand::words;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;
use crate::music::pitch::NoteName;
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "note-contradicts-fret",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[1:19] 9 string 5 fret 1 (C)",
        right: "[1:19] 9 string 5 fret 3 (C)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let strokes: Vec<&Stroke> = lesson.patterns.iter().flat_map(|pattern| &pattern.strokes).collect();
    let named: Vec<Named> = strokes.into_iter().filter_map(|stroke| named(lesson, stroke)).collect();
    if named_as_sounding(lesson, &named) {
        return Vec::new();
    }
    named
        .iter()
        .filter(|named| named.apart() != 0)
        .map(|named| finding(lesson, named))
        .collect()
}

/// A single note with its name, string and fret all said.
struct Named<'a> {
    stroke: &'a Stroke,
    note: NoteName,
    string: u8,
    fret: u8,
    sounds: u8,
}

impl Named<'_> {
    /// Semitones from what the fret sounds up to what the name says.
    fn apart(&self) -> u8 {
        (self.note.pitch_class() + 12 - self.sounds % 12) % 12
    }
}

fn named<'a>(lesson: &Lesson, stroke: &'a Stroke) -> Option<Named<'a>> {
    let (note, fret) = (stroke.note?, stroke.fret?);
    let [string] = stroke.strings.as_slice() else {
        return None;
    };
    let sounds = Guitar::of(lesson).fingered(*string, fret)?;
    Some(Named {
        stroke,
        note,
        string: *string,
        fret,
        sounds,
    })
}

/// With a capo some teachers name what sounds: then every name is the capo's fret above.
fn named_as_sounding(lesson: &Lesson, named: &[Named]) -> bool {
    let capo = lesson.capo.as_ref().map_or(0, |capo| capo.value % 12);
    capo != 0 && !named.is_empty() && named.iter().all(|named| named.apart() == capo)
}

fn finding(lesson: &Lesson, named: &Named) -> Finding {
    let Named { note, string, fret, .. } = named;
    let words = words_of(lesson);
    let sounds = pitch_name(named.sounds);
    let guitar = Guitar::of(lesson);
    let frets = (0..=12).filter(|fret| guitar.gives(*string, *fret, *note) == Some(true));
    let near = frets.min_by_key(|near| near.abs_diff(*fret));
    let case = if near.is_some() { "near" } else { "" };
    let (place, near) = (
        words::place(words, *string, *fret),
        words::place(words, *string, near.unwrap_or(0)),
    );
    let holes: Holes = &[("place", &place), ("note", note), ("sounds", &sounds), ("near", &near)];
    CHECK.says(words, named.stroke.place, case, holes)
}
