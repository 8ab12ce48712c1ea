use super::sounding::{called, heard, named, pitch_name, taught, third};
use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::chord::{Chord, ChordName};
use crate::music::chord_naming::{against_name, sounding};
use crate::music::chord_tones::{ChordTone, Part, tones};
use crate::music::fretboard::Guitar;
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
    let sounded = Sounded::of(lesson, chord)?;
    let fault = contradiction(&chord.name, &sounded)?;
    let words = words_of(lesson);
    let case = if sounded.named.is_some() { "named" } else { "" };
    let called = fault
        .third
        .map(|third| words.phrase(called(&third), &[]))
        .unwrap_or_default();
    let missing = fault.missing.to_string();
    let named = sounded.named.as_ref().map(ChordName::to_string).unwrap_or_default();
    let such = taught(&chord.name, &sounded.guitar);
    let such = such.map(|shape| words.say(CHECK.id, "such", "", &[("shape", &shape)]));
    let holes: Holes = &[
        ("shape", &chord.shape?),
        ("chord", &chord.name),
        ("notes", &heard(&chord.shape?, &sounded.guitar)),
        ("root", &fault.root),
        ("third", &missing),
        ("fifth", &missing),
        ("called", &called),
        ("other", &fault.other),
        ("named", &named),
        ("such", &such.unwrap_or_default()),
    ];
    let place = chord.shape_place.unwrap_or(chord.place);
    let finding = CHECK.tells(words, place, (fault.case, case), holes);
    Some(finding.weighing(fault.severity))
}

/// A shape that sounds at least three strings.
struct Sounded {
    guitar: Guitar,
    /// From the lowest string to the highest, octaves left out.
    classes: Vec<u8>,
    /// The plain chord that it is, whatever it is called.
    named: Option<ChordName>,
    root_missing: bool,
    third_missing: bool,
    wrong_third: bool,
}

impl Sounded {
    fn of(lesson: &Lesson, chord: &Chord) -> Option<Self> {
        let (shape, guitar) = (chord.shape?, Guitar::of(lesson));
        let against = against_name(&chord.name, &shape, &guitar)?;
        let strings = sounding(&shape, &guitar);
        (strings.len() >= 3).then(|| Self {
            classes: strings.iter().map(|string| string.pitch_class()).collect(),
            named: named(lesson, &shape, &guitar),
            guitar,
            root_missing: against.root_missing.is_some(),
            third_missing: against.third_missing.is_some(),
            wrong_third: against.wrong_third.is_some(),
        })
    }
}

/// What is missing or wrong.
struct Fault {
    /// The key of its words.
    case: &'static str,
    severity: Severity,
    root: NoteName,
    /// The root, the third or the fifth.
    missing: NoteName,
    third: Option<ChordTone>,
    /// What sounds in place of the third.
    other: &'static str,
}

/// A third that is only left out is lighter than one that makes another chord.
fn contradiction(name: &ChordName, sounded: &Sounded) -> Option<Fault> {
    let fault = Fault {
        case: "root",
        severity: Severity::Error,
        root: name.root,
        missing: name.root,
        third: None,
        other: "",
    };
    if sounded.root_missing {
        return Some(fault);
    }
    if !sounded.third_missing {
        return wrong_root(name, sounded, fault);
    }
    let third = third(name)?;
    let (case, severity) = match &sounded.named {
        _ if sounded.wrong_third => ("other_third", Severity::Error),
        Some(_) => ("third", Severity::Error),
        None => ("third", Severity::Warning),
    };
    let other = if third.semitones == 4 { 3 } else { 4 };
    Some(Fault {
        case,
        severity,
        missing: third.name,
        third: Some(third),
        other: pitch_name(name.root.pitch_class() + other),
        ..fault
    })
}

fn is_on_another_root(name: &ChordName, other: &ChordName) -> bool {
    name.root.pitch_class() != other.root.pitch_class()
}

/// Root and third are there, but as tones of another plain triad that stands on its own root, and the fifth is not: a
/// Dm called F. What a name adds makes it a chord of its own.
fn wrong_root(name: &ChordName, sounded: &Sounded, fault: Fault) -> Option<Fault> {
    let other = sounded.named.as_ref()?;
    let plain = |name: &ChordName| matches!(name.quality.as_str(), "" | "m") && name.added.is_empty();
    let fifth = tones(name)?.into_iter().find(|tone| tone.part == Part::Fifth)?;
    let wrong = plain(name)
        && plain(other)
        && is_on_another_root(name, other)
        && sounded.classes.first() == Some(&other.root.pitch_class())
        && !sounded.classes.contains(&fifth.name.pitch_class());
    wrong.then_some(Fault {
        case: "fifth",
        root: other.root,
        missing: fifth.name,
        ..fault
    })
}
