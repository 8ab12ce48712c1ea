use super::sounding::pitch_name;
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::Chord;
use crate::music::chord_naming::against_name;
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "shape-adds-notes",
    severity: Severity::Note,
    family: Family::Chords,
    example: Example {
        trips: "[0:33] F xx3210",
        right: "[0:33] Fmaj7 xx3210",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson
        .chords
        .iter()
        .filter_map(|chord| in_chord(lesson, chord))
        .collect()
}

fn in_chord(lesson: &Lesson, chord: &Chord) -> Option<Finding> {
    let shape = chord.shape?;
    let against = against_name(&chord.name, &shape, &Guitar::of(lesson))?;
    // A shape that contradicts its name has a finding of its own.
    if against.contradicts() || against.beyond.is_empty() {
        return None;
    }
    let words = words_of(lesson);
    let added = against.beyond.iter().map(|(string, _)| {
        let case = if string.fret == 0 { "open" } else { "" };
        let note = pitch_name(string.pitch_class());
        words.say(CHECK.id, "added", case, &[("note", &note), ("string", &string.string)])
    });
    let added: Vec<String> = added.collect();
    let place = chord.shape_place.unwrap_or(chord.place);
    let holes: Holes = &[
        ("shape", &shape),
        ("added", &words.list(&added)),
        ("chord", &chord.name),
    ];
    Some(CHECK.says(words, place, "", holes))
}
