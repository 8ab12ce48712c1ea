use crate::checks::check::words_of;
use crate::checks::counts::{beats, counts_of};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "variation-past-its-span",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
        trips: "[1:18] v1, replaces 7-9:\n[1:23] 7 p s6; 8 m s2; 9 m s2; 10 p s6",
        right: "[1:18] v1, replaces 7-10:\n[1:23] 7 p s6; 8 m s2; 9 m s2; 10 p s6",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    lesson
        .patterns
        .iter()
        .filter_map(|pattern| in_pattern(pattern, lesson))
        .map(|finding| {
            // A count said in passing may be another's.
            if context.is_typed(&finding.place) {
                finding
            } else {
                finding.weighing(Severity::Warning)
            }
        })
        .collect()
}

/// One finding a variation: it is one slip, however many strokes it shows in.
fn in_pattern(pattern: &Pattern, lesson: &Lesson) -> Option<Finding> {
    let told = pattern.claims.iter().filter_map(|claim| match &claim.about {
        ClaimAbout::Outside { at, span } => Some((*at, *span, claim.place)),
        _ => None,
    });
    let mut outside: Vec<(Position, CountSpan, Place)> = told.collect();
    if pattern.role != Role::Core {
        outside.extend(strokes_outside(pattern, lesson));
    }
    outside.retain(|(at, _, _)| !runs_on_to(pattern, *at, beats(lesson)));
    outside.sort_by_key(|(at, _, place)| (place.file, place.span.start, *at));
    let (_, span, place) = *outside.first()?;
    let mut counts: Vec<i64> = outside.iter().map(|(at, _, _)| at.whole()).collect();
    counts.sort_unstable();
    counts.dedup();
    Some(finding(words_of(lesson), pattern, span, place, &counts))
}

/// The variation is said to run on as far as this moment: 13 of 12, also when it is told as the next 1.
fn runs_on_to(pattern: &Pattern, at: Position, beats: Option<i64>) -> bool {
    pattern.runs_on.is_some_and(|end| {
        let round = beats.filter(|beats| end.whole() > *beats).unwrap_or(0);
        at <= end && (at.whole() > round || at.plus(round.into()) <= end)
    })
}

fn strokes_outside(pattern: &Pattern, lesson: &Lesson) -> Vec<(Position, CountSpan, Place)> {
    let Some(span) = pattern.span else {
        return Vec::new();
    };
    let counts = counts_of(span, beats(lesson));
    let strokes = pattern.strokes.iter().filter(|stroke| stroke.implied.is_none());
    let outside = strokes.filter(|stroke| !counts.contains(&stroke.at.whole()));
    outside.map(|stroke| (stroke.at, span, stroke.place)).collect()
}

fn finding(words: &Words, pattern: &Pattern, span: CountSpan, place: Place, counts: &[i64]) -> Finding {
    let (replaced, listed) = (span.to_string(), words.list(counts));
    let last = counts.last().copied().unwrap_or(span.last);
    let case = if last > span.last && span.first <= span.last {
        "longer"
    } else {
        ""
    };
    let holes: Holes = &[
        ("span", &replaced),
        ("counts", &listed),
        ("first", &span.first),
        ("last", &last),
    ];
    let finding = CHECK.says(words, place, case, holes);
    finding.see_also(pattern.place, "", holes)
}
