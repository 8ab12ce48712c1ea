use super::sounding::{allowed, pitch, pitch_name, third};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::Chord;
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
    let allowed = allowed(&chord.name);
    let played = (1..=6).rev().filter_map(|string| Some((string, shape.fret(string)?)));
    let sounding: Vec<(u8, u8, u8)> = played
        .filter_map(|(string, fret)| Some((string, fret, pitch(lesson, string, fret)? % 12)))
        .collect();
    let has = |class: u8| sounding.iter().any(|(_, _, sounded)| *sounded == class);
    let root = chord.name.root.pitch_class();
    // A shape that contradicts its name has a finding of its own.
    if !has(root) || !has((root + third(&chord.name.quality).semitones) % 12) {
        return None;
    }
    let words = words_of(lesson);
    let added: Vec<String> = sounding
        .iter()
        .filter(|(_, _, class)| !allowed.contains(class))
        .map(|(string, fret, class)| {
            let case = if *fret == 0 { "open" } else { "" };
            words.say(
                CHECK.id,
                "added",
                case,
                &[("note", &pitch_name(*class)), ("string", string)],
            )
        })
        .collect();
    if added.is_empty() {
        return None;
    }
    let place = chord.shape_place.unwrap_or(chord.place);
    let holes: Holes = &[
        ("shape", &shape),
        ("added", &words.list(&added)),
        ("chord", &chord.name),
    ];
    Some(CHECK.says(words, place, "", holes))
}
