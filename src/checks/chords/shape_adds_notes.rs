use super::sounding::{allowed, pitch, pitch_name, third};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::Chord;
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "shape-adds-notes",
    severity: Severity::Note,
    family: Family::Chords,
    about: About {
        finds: "A chord's shape sounds notes beside those of its name, as open strings left in do.",
        matters: "In flamenco they are often meant; naming them tells the student that they are no slip.",
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
    let added: Vec<String> = sounding
        .iter()
        .filter(|(_, _, class)| !allowed.contains(class))
        .map(|(string, fret, class)| {
            let how = if *fret == 0 { "open ".to_owned() } else { String::new() };
            format!("{} ({how}string {string})", pitch_name(*class))
        })
        .collect();
    if added.is_empty() {
        return None;
    }
    let added = crate::checks::counts::show_list(&added);
    let message = format!("{shape} sounds {added} beside the notes of {}", chord.name);
    let place = chord.shape_place.unwrap_or(chord.place);
    Some(CHECK.found(place, message, "Nothing to put right if it is meant".to_owned()))
}
