use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::fretboard::Guitar;
use crate::music::lesson::Lesson;
use crate::music::ligado::{Fault, FaultKind, faults};
use crate::music::stroke::Action;

pub(in crate::checks) const CHECK: Check = Check {
    id: "ligado-impossible",
    severity: Severity::Error,
    family: Family::LeftHand,
    about: About {
        finds: "A pull-off to a fret that is not below the note before it on the string, a hammer-on to one that is not above it, or both notes with one finger.",
        matters: "A pull-off comes back to a finger behind or to the open string; a hammer-on falls in front. Anything else gives no note.",
        trips: "[0:20] 3: p s5 f1 (Bb), & pull-off s5 f3 (C)",
        right: "[0:20] 3: p s5 f3 (C), & pull-off s5 f1 (Bb)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let guitar = Guitar::of(lesson);
    let of_patterns = lesson.patterns.iter().flat_map(|pattern| faults(pattern, &guitar));
    of_patterns.map(|fault| finding(&fault)).collect()
}

fn finding(fault: &Fault) -> Finding {
    let ligado = match fault.stroke.action {
        Action::PullOff => "a pull-off",
        _ => "a hammer-on",
    };
    let fret = |fret: u8| {
        if fret == 0 {
            "the open string".to_owned()
        } else {
            format!("fret {fret}")
        }
    };
    let (before, after) = (fret(fault.frets.0), fret(fault.frets.1));
    let from_to = format!("{ligado} on string {} from {before} to {after}", fault.string);
    let (message, help, severity) = match fault.what {
        FaultKind::PullsUp => (
            format!("{from_to}: it can only come to a lower note"),
            "Make it a hammer-on, pluck the note, or correct a fret",
            Severity::Error,
        ),
        FaultKind::HammersDown => (
            format!("{from_to}: it can only go to a higher note"),
            "Make it a pull-off, pluck the note, or correct a fret",
            Severity::Error,
        ),
        FaultKind::SameFinger => (
            format!(
                "{from_to}, both with finger {}: the lower note needs another finger",
                fault.stroke.left.unwrap_or(0)
            ),
            "Give one of the two notes to another finger",
            Severity::Warning,
        ),
        FaultKind::TooWide(mm) => (
            format!("{from_to} is {mm:.0} mm wide: no two fingers reach that"),
            "Correct a fret, or take the lower note as an open string",
            Severity::Error,
        ),
    };
    let finding = CHECK
        .found(fault.stroke.place, message, help.to_owned())
        .weighing(severity);
    finding.see_also(fault.before.place, "the note before it on the string")
}
