use crate::checks::counts::{beats, counts_of, last_count, show_span};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern};
use crate::music::stroke::Stroke;

pub(in crate::checks) const CHECK: Check = Check {
    id: "stroke-outside-its-line",
    severity: Severity::Warning,
    family: Family::Sums,
    about: About {
        finds: "A line says which counts it is about, and gives a stroke for another count.",
        matters: "Either the counts in front or the count of the stroke is wrong, and the student cannot know which.",
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
            Some(finding(claim, span, outside))
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

fn finding(claim: &Claim, span: CountSpan, stroke: &Stroke) -> Finding {
    let announced = show_span(span);
    let message = format!("the line is about {announced}, but gives a stroke for {}", stroke.at);
    let help = format!("Correct {announced} or the count of the stroke");
    CHECK
        .found(stroke.place, message, help)
        .see_also(claim.place, format!("{announced} is announced here"))
}
