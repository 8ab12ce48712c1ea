use crate::checks::check::words_of;
use crate::checks::counts::{beats, counts_of, last_count};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern};
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stroke-outside-its-line",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[0:30] 5-6 F: 4 i dn, 5 i dn, & i up, 6 i dn",
        right: "[0:30] 4-6 F: 4 i dn, 5 i dn, & i up, 6 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let in_pattern = |pattern: &Pattern| {
        let spans = pattern
            .claims
            .iter()
            .filter_map(|claim| Some((claim, announced(claim)?)));
        let typed = spans.filter(|(claim, _)| context.is_typed(&claim.place));
        let found = typed.filter_map(|(claim, span)| {
            let outside = strokes_of_line(pattern, claim).find(|stroke| is_outside(stroke, span, lesson))?;
            Some(finding(words_of(lesson), claim, span, outside))
        });
        found.collect::<Vec<_>>()
    };
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

fn announced(claim: &Claim) -> Option<CountSpan> {
    match &claim.about {
        ClaimAbout::Covers { span, .. } => Some(*span),
        ClaimAbout::Divided { .. }
        | ClaimAbout::Numbered { .. }
        | ClaimAbout::Outside { .. }
        | ClaimAbout::OpenAndFretted { .. }
        | ClaimAbout::Recited { .. }
        | ClaimAbout::NamedAgain { .. }
        | ClaimAbout::Passage { .. } => None,
    }
}

/// The strokes that stand on the announcement's own line, up to the next announcement.
fn strokes_of_line<'a>(pattern: &'a Pattern, claim: &'a Claim) -> impl Iterator<Item = &'a Stroke> {
    let start = claim.place.span.start;
    let others = pattern.claims.iter().filter(|other| announced(other).is_some());
    let next = others
        .map(|other| other.place)
        .filter(|place| place.file == claim.place.file && place.span.start > start);
    let end = next.map(|place| place.span.start).min().unwrap_or(usize::MAX);
    pattern.strokes.iter().filter(move |stroke| {
        let place = &stroke.place;
        place.file == claim.place.file && place.line == claim.place.line && (start..end).contains(&place.span.start)
    })
}

fn is_outside(stroke: &Stroke, span: CountSpan, lesson: &Lesson) -> bool {
    let count = stroke.at.whole();
    let past = last_count(lesson).is_some_and(|last| count > last);
    stroke.implied.is_none() && !past && !counts_of(span, beats(lesson)).contains(&count)
}

fn finding(words: &Words, claim: &Claim, span: CountSpan, stroke: &Stroke) -> Finding {
    let span = span.to_string();
    let holes: Holes = &[("span", &span), ("at", &stroke.at)];
    let finding = CHECK.says(words, stroke.place, "", holes);
    finding.see_also(claim.place, "", holes)
}
