//! Mistakes told in ordinary words, English and Spanish, and the same told soundly: what is found, from the words of a
//! note to the finding. Each case is a note under a head of its own, and the rules of its errors and warnings.

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
    for (note, spoken, expected) in cases {
        assert_eq!(found(note, *spoken), *expected, "{note}");
    }
}

#[test]
fn so_many_strokes_in_a_rasgueado() {
    check(&[
        (
            "[0:00] tangos\n[0:10] On 3 a rasgueado of five, little finger, ring, middle, index.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] On 2 a rasgueado, little finger, ring, middle, index, five even strokes in the beat.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de cinco, meñique, anular, medio, índice.",
            false,
            &["too-few-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de tres golpes, meñique, anular, medio, índice.",
            true,
            &["too-many-notes@2"],
        ),
        (
            "[0:00] tangos\n[0:10] 1 four semiquavers: rasg x a m i i",
            false,
            &["too-many-notes@2"],
        ),
        // The same soundly told.
        ("[0:00] tangos\n[0:10] 1 four semiquavers: rasg x a m i", false, &[]),
        (
            "[0:00] tangos\n[0:10] On 2 a five stroke rasgueado, little, ring, middle, index down and index up.",
            true,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] En el 3 un rasgueado de cuatro golpes, meñique, anular, medio, índice.",
            true,
            &[],
        ),
        // An index behind an "and" may be the stroke after it; counts are no strokes.
        (
            "[0:00] tangos\n[0:10] On 2 a rasgueado of four, little, ring, middle, index, and the index up on the and.",
            true,
            &[],
        ),
        (
            "[0:00] tangos\n[0:10] On 3 a rasgueado of 2 counts, little finger, ring, middle, index.",
            true,
            &[],
        ),
    ]);
}
