use super::sounding::{pitch_name, pitches, show, spelt, third};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::chord::{Chord, ChordName};
use crate::music::lesson::Lesson;

pub(in crate::checks) const CHECK: Check = Check {
    id: "shape-contradicts-name",
    severity: Severity::Error,
    family: Family::Chords,
    about: About {
        finds: "A chord's shape does not sound its name: the root or the third is missing, or the third is the wrong one.",
        matters: "The student learns a wrong chord under a right name, or a right chord under a wrong one, and hears it only when the singer comes in.",
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
    let (what, severity) = contradiction(&chord.name, &sounding)?;
    let message = format!(
        "{shape} is given for {}, but it sounds {}: {what}",
        chord.name,
        show(&sounding)
    );
    let help = match crate::checks::chords::sounding::named(&sounding) {
        Some(name) => format!(
            "It is a shape of {name}: correct the name, or give the shape of {}",
            chord.name
        ),
        None => "Correct the shape or the name".to_owned(),
    };
    let place = chord.shape_place.unwrap_or(chord.place);
    Some(CHECK.found(place, message, help).weighing(severity))
}

/// What is missing or wrong. A third that is only left out is lighter than one that is another.
fn contradiction(name: &ChordName, sounding: &[u8]) -> Option<(String, Severity)> {
    let classes: Vec<u8> = sounding.iter().map(|pitch| pitch % 12).collect();
    let root = name.root.pitch_class();
    if !classes.contains(&root) {
        return Some((format!("there is no {}, the root", name.root), Severity::Error));
    }
    let third = third(&name.quality);
    if classes.contains(&((root + third.semitones) % 12)) {
        return wrong_root(name, sounding);
    }
    let wanted = spelt(name.root, third.semitones, third.letters);
    let missing = format!("there is no {wanted}, {}", third.called);
    let other = match third.semitones {
        4 => Some(3),
        3 => Some(4),
        _ => None,
    };
    let other = other
        .map(|step| (root + step) % 12)
        .filter(|class| classes.contains(class));
    Some(match other {
        Some(class) => (format!("{missing}, but {}", pitch_name(class)), Severity::Error),
        None if sounds_another(name, sounding) => (missing, Severity::Error),
        None => (missing, Severity::Warning),
    })
}

/// Root and third are there, but as tones of another plain triad that stands on its own root, and the fifth is not: a
/// Dm called F. What a name adds makes it a chord of its own.
fn wrong_root(name: &ChordName, sounding: &[u8]) -> Option<(String, Severity)> {
    let other = super::sounding::named(sounding)?;
    let plain = |name: &ChordName| matches!(name.quality.as_str(), "" | "m") && name.added.is_empty();
    let fifth = (name.root.pitch_class() + 7) % 12;
    let bass = sounding.first().map(|pitch| pitch % 12);
    let wrong = plain(name)
        && plain(&other)
        && other.root.pitch_class() != name.root.pitch_class()
        && bass == Some(other.root.pitch_class())
        && !sounding.iter().any(|pitch| pitch % 12 == fifth);
    let spelt = spelt(name.root, 7, 4);
    wrong.then(|| {
        (
            format!("there is no {spelt}, the fifth, and the root is {}", other.root),
            Severity::Error,
        )
    })
}

/// The shape is a complete chord on another root.
fn sounds_another(name: &ChordName, sounding: &[u8]) -> bool {
    super::sounding::named(sounding).is_some_and(|other| other.root.pitch_class() != name.root.pitch_class())
}
