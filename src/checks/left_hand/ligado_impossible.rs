use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::{Lesson, Said};
use crate::music::ligado::{Fault, FaultKind, faults};
use crate::music::remark::Remark;
use crate::music::stroke::Action;

pub(in crate::checks) const CHECK: Check = Check {
    id: "ligado-impossible",
    severity: Severity::Error,
    family: Family::LeftHand,
    example: Example {
        trips: "[0:20] 3: p s5 f1 (Bb), & pull-off s5 f3 (C)",
        right: "[0:20] 3: p s5 f3 (C), & pull-off s5 f1 (Bb)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let of_patterns = lesson.patterns.iter().flat_map(|pattern| faults(lesson, pattern));
    let words = words_of(lesson);
    let uncounted = lesson.remarks.iter().filter_map(|said| uncounted(words, said));
    of_patterns
        .map(|fault| finding(words, &fault))
        .chain(uncounted)
        .collect()
}

/// Told outside of any compás: what falls has to fall higher, what pulls has to come lower.
fn uncounted(words: &Words, said: &Said<Remark>) -> Option<Finding> {
    let Remark::Slurred { hammer, string, frets } = &said.value else {
        return None;
    };
    let sounds = if *hammer { frets.1 > frets.0 } else { frets.1 < frets.0 };
    if sounds {
        return None;
    }
    let help = if *hammer { "hammer" } else { "pull" };
    let case = match string {
        Some(_) => help.to_owned(),
        None => format!("{help}_somewhere"),
    };
    let (before, after) = (shown(words, frets.0), shown(words, frets.1));
    let holes: Holes = &[("string", &string.unwrap_or(0)), ("before", &before), ("after", &after)];
    Some(CHECK.tells(words, said.place, (&case, help), holes))
}

fn shown(words: &Words, fret: u8) -> String {
    let key = if fret == 0 { "open_string" } else { "fret" };
    words.phrase(key, &[("fret", &fret)])
}

fn finding(words: &Words, fault: &Fault) -> Finding {
    let (before, after) = (shown(words, fault.frets.0), shown(words, fault.frets.1));
    let ligado = match fault.stroke.action {
        Action::PullOff => "pull",
        _ => "hammer",
    };
    let (case, help, mm, severity) = match fault.what {
        FaultKind::PullsUp => ("pull".to_owned(), "pull", 0.0, Severity::Error),
        FaultKind::HammersDown => ("hammer".to_owned(), "hammer", 0.0, Severity::Error),
        FaultKind::SameFinger => (format!("{ligado}_finger"), "finger", 0.0, Severity::Warning),
        FaultKind::NothingToPull => ("across".to_owned(), "across", 0.0, Severity::Warning),
        FaultKind::FromOpen => ("open".to_owned(), "pull", 0.0, Severity::Warning),
        FaultKind::TooWide(mm) => (format!("{ligado}_wide"), "wide", mm, Severity::Error),
    };
    let (finger, mm) = (fault.stroke.left.unwrap_or(0), format!("{mm:.0}"));
    let on = fault.before.strings.first().copied().unwrap_or(0);
    let holes: Holes = &[
        ("on", &on),
        ("string", &fault.string),
        ("before", &before),
        ("after", &after),
        ("finger", &finger),
        ("mm", &mm),
    ];
    let finding = CHECK.tells(words, fault.stroke.place, (&case, help), holes);
    finding.weighing(severity).see_also(fault.before.place, &case, &[])
}
