//! Mistakes told in ordinary words, English and Spanish, and the same told soundly: what is found, from the words of a
//! note to the finding. Each case is a note under a head of its own, and the rules of its errors and warnings.

/// Fingers, strings, strokes: what two hands can do.
mod hands;

/// Numbers against what they count.
mod numbers;

/// What is said over, and what is asked for.
mod said;

use std::fs;

use compasario::findings::Severity;
use compasario::pipeline;

/// A note, whether somebody said it aloud, and the rules of what is found, with their lines.
type Case = (&'static str, bool, &'static [&'static str]);

fn found(note: &str, spoken: bool) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let name = if spoken {
        "lesson.spoken.txt"
    } else {
        "lesson.notes.txt"
    };
    fs::write(folder.path().join(name), format!("{note}\n")).unwrap();
    let review = pipeline::review(folder.path()).unwrap();
    let serious = review
        .findings
        .iter()
        .filter(|finding| finding.severity > Severity::Note);
    serious
        .map(|finding| format!("{}@{}", finding.rule, finding.place.line))
        .collect()
}

#[track_caller]
fn check(cases: &[Case]) {
    let told = |(note, spoken, expected): &Case| {
        let found = found(note, *spoken);
        (found != **expected).then(|| format!("{note}\n  found {found:?}, not {expected:?}"))
    };
    let wrong: Vec<String> = cases.iter().filter_map(told).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// The fret of the capo that is read from a typed note.
fn capo(note: &str) -> Option<u8> {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("lesson.notes.txt"), format!("{note}\n")).unwrap();
    let review = pipeline::review(folder.path()).unwrap();
    let lesson = review.lessons.first()?;
    lesson.capo.as_ref().map(|capo| capo.value)
}
