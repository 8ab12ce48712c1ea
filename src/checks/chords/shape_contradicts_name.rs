use super::sounding::{Third, pitch_name, pitches, show, spelt, third};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::{Chord, ChordName};
use crate::music::lesson::Lesson;
use crate::music::pitch::NoteName;

pub(in crate::checks) const CHECK: Check = Check {
    id: "shape-contradicts-name",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:20] Dm x32010",
        right: "[0:20] Dm xx0231",
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
    let sounding = pitches(lesson, shape);
    if sounding.len() < 3 {
        return None;
    }
    let fault = contradiction(&chord.name, &sounding)?;
    let words = words_of(lesson);
    let named = super::sounding::named(&sounding);
    let case = if named.is_some() { "named" } else { "" };
    let called = fault
        .third
        .map(|third| words.phrase(third.called, &[]))
        .unwrap_or_default();
    let named = named.map(|name| name.to_string()).unwrap_or_default();
    let holes: Holes = &[
        ("shape", &shape),
        ("chord", &chord.name),
        ("notes", &show(&sounding)),
        ("root", &fault.root),
        ("third", &fault.missing),
        ("fifth", &fault.missing),
        ("called", &called),
        ("other", &fault.other),
        ("named", &named),
    ];
    let place = chord.shape_place.unwrap_or(chord.place);
    let finding = CHECK.tells(words, place, (fault.case, case), holes);
    Some(finding.weighing(fault.severity))
}

/// What is missing or wrong.
struct Fault {
    /// The key of its words.
    case: &'static str,
    severity: Severity,
    root: NoteName,
    /// The third, or the fifth.
    missing: String,
    third: Option<Third>,
    /// What sounds in its place.
    other: &'static str,
}

/// A third that is only left out is lighter than one that is another.
fn contradiction(name: &ChordName, sounding: &[u8]) -> Option<Fault> {
    let classes: Vec<u8> = sounding.iter().map(|pitch| pitch % 12).collect();
    let root = name.root.pitch_class();
    let fault = Fault {
        case: "root",
        severity: Severity::Error,
        root: name.root,
        missing: String::new(),
        third: None,
        other: "",
    };
    if !classes.contains(&root) {
        return Some(fault);
    }
    let third = third(&name.quality);
    if classes.contains(&((root + third.semitones) % 12)) {
        return wrong_root(name, sounding, fault);
    }
    let missing = spelt(name.root, third.semitones, third.letters).to_string();
    let other = match third.semitones {
        4 => Some(3),
        3 => Some(4),
        _ => None,
    };
    let other = other
        .map(|step| (root + step) % 12)
        .filter(|class| classes.contains(class));
    let severity = match other {
        None if !sounds_another(name, sounding) => Severity::Warning,
        _ => Severity::Error,
    };
    Some(Fault {
        case: if other.is_some() { "other_third" } else { "third" },
        severity,
        missing,
        third: Some(third),
        other: other.map_or("", pitch_name),
        ..fault
    })
}

/// Root and third are there, but as tones of another plain triad that stands on its own root, and the fifth is not: a
/// Dm called F. What a name adds makes it a chord of its own.
fn wrong_root(name: &ChordName, sounding: &[u8], fault: Fault) -> Option<Fault> {
    let other = super::sounding::named(sounding)?;
    let plain = |name: &ChordName| matches!(name.quality.as_str(), "" | "m") && name.added.is_empty();
    let fifth = (name.root.pitch_class() + 7) % 12;
    let bass = sounding.first().map(|pitch| pitch % 12);
    let wrong = plain(name)
        && plain(&other)
        && other.root.pitch_class() != name.root.pitch_class()
        && bass == Some(other.root.pitch_class())
        && !sounding.iter().any(|pitch| pitch % 12 == fifth);
    wrong.then(|| Fault {
        case: "fifth",
        root: other.root,
        missing: spelt(name.root, 7, 4).to_string(),
        ..fault
    })
}

/// The shape is a complete chord on another root.
fn sounds_another(name: &ChordName, sounding: &[u8]) -> bool {
    super::sounding::named(sounding).is_some_and(|other| other.root.pitch_class() != name.root.pitch_class())
}
