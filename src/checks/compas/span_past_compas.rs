use crate::checks::counts::{beats, last_count, show_span};
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, CountSpan, Pattern};
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "span-past-compas",
    severity: Severity::Error,
    family: Family::Compas,
    about: About {
        finds: "A line announces counts that the compás does not have, and nothing says that it runs on into the next round.",
        matters: "The student counts to the last count and stands there with music left over.",
        trips: "[0:05] count 12\n[0:50] 10-13 E: 10 i dn, 11 rest, 12 i dn",
        right: "[0:05] count 12\n[0:50] 10-12 E: 10 i dn, 11 rest, 12 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let (Some(beats), Some(last)) = (beats(lesson), last_count(lesson)) else {
        return Vec::new();
    };
    lesson
        .patterns
        .iter()
        .flat_map(|pattern| in_pattern(pattern, beats, last))
        .collect()
}

fn in_pattern(pattern: &Pattern, beats: i64, last: i64) -> Vec<Finding> {
    let announced = pattern.claims.iter().filter_map(|claim| match &claim.about {
        ClaimAbout::Covers { span, .. } => Some((*span, claim.place)),
        _ => None,
    });
    let past = announced.filter(|(span, _)| is_past(*span, pattern, last));
    past.map(|(span, place)| finding(span, place, beats)).collect()
}

fn is_past(span: CountSpan, pattern: &Pattern, last: i64) -> bool {
    let end = span.first.max(span.last);
    // A pattern that covers several compases counts straight through them.
    let through = pattern
        .span
        .is_some_and(|whole| whole.last % last.max(1) == 0 && end <= whole.last);
    let runs_on = pattern.runs_on.is_some_and(|until| end <= until.whole());
    end > last && !through && !runs_on
}

fn finding(span: CountSpan, place: Place, beats: i64) -> Finding {
    let message = format!("counts {} are announced, but the compás has {beats}", show_span(span));
    let help = "Correct the counts, or say that it runs on into the next round".to_owned();
    CHECK.found(place, message, help)
}
