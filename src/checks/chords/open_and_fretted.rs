use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::{Lesson, Said};
use crate::music::pattern::{ClaimAbout, Pattern};
use crate::music::position::Position;
use crate::music::remark::Remark;
use crate::music::stroke::Stroke;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "open-and-fretted",
    severity: Severity::Error,
    family: Family::Chords,
    example: Example {
        trips: "[0:36] 5 pluck s2 w/ m: hold s2 f2 (C#) and let s2 open (B) sound under it, both notes together",
        right: "[0:36] 5 pluck s3 and s2 w/ i m: hold s3 f6 (C#) and let s2 open (B) sound above it, both notes together",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let found = lesson.patterns.iter().flat_map(|pattern| in_pattern(words, pattern));
    found
        .chain(lesson.remarks.iter().filter_map(|said| uncounted(words, said)))
        .collect()
}

/// Told outside of any compás.
fn uncounted(words: &Words, said: &Said<Remark>) -> Option<Finding> {
    let Remark::TwoFrets {
        string,
        frets: (low, high),
    } = &said.value
    else {
        return None;
    };
    let case = if *low == 0 { "uncounted_open" } else { "uncounted" };
    let holes: Holes = &[("string", string), ("low", low), ("high", high)];
    Some(CHECK.tells(words, said.place, (case, ""), holes))
}

fn in_pattern(words: &Words, pattern: &Pattern) -> Vec<Finding> {
    let claimed = pattern.claims.iter().filter_map(|claim| match &claim.about {
        ClaimAbout::OpenAndFretted { at, string, fret } => Some(finding(words, claim.place, *at, *string, (0, *fret))),
        _ => None,
    });
    let mut findings: Vec<Finding> = claimed.collect();
    let told = |line: u32| findings.iter().any(|finding| finding.place.line == line);
    let stroked: Vec<Finding> = two_at_once(words, pattern)
        .filter(|finding| !told(finding.place.line))
        .collect();
    findings.extend(stroked);
    findings
}

fn two_at_once(words: &Words, pattern: &Pattern) -> impl Iterator<Item = Finding> {
    let single = |stroke: &Stroke| match (stroke.strings.as_slice(), stroke.fret) {
        ([string], Some(fret)) => Some((*string, fret)),
        _ => None,
    };
    let with_earlier = move |(index, second): (usize, &Stroke)| {
        let (string, fret) = single(second)?;
        let earlier = pattern
            .strokes
            .iter()
            .take(index)
            .rev()
            .take_while(|first| first.at == second.at);
        let other = earlier
            .filter_map(single)
            .find(|(other, at)| *other == string && *at != fret)?;
        Some(finding(
            words,
            second.place,
            second.at,
            string,
            (other.1.min(fret), other.1.max(fret)),
        ))
    };
    pattern.strokes.iter().enumerate().filter_map(with_earlier)
}

fn finding(words: &Words, place: Place, at: Position, string: u8, (low, high): (u8, u8)) -> Finding {
    let case = if low == 0 { "open" } else { "" };
    let holes: Holes = &[("at", &at), ("string", &string), ("low", &low), ("high", &high)];
    CHECK.says(words, place, case, holes)
}
