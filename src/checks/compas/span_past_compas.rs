use crate::checks::check::words_of;
use crate::checks::counts::{beats, last_count};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, CountSpan, Pattern};
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "span-past-compas",
    severity: Severity::Error,
    family: Family::Compas,
    example: Example {
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
        .flat_map(|pattern| in_pattern(words_of(lesson), pattern, beats, last))
        .collect()
}

fn in_pattern(words: &Words, pattern: &Pattern, beats: i64, last: i64) -> Vec<Finding> {
    let announced = pattern.claims.iter().filter_map(|claim| match &claim.about {
        ClaimAbout::Covers { span, .. } => Some((*span, claim.place)),
        _ => None,
    });
    let past = announced.filter(|(span, _)| is_past(*span, pattern, last));
    past.map(|(span, place)| finding(words, span, place, beats)).collect()
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

fn finding(words: &Words, span: CountSpan, place: Place, beats: i64) -> Finding {
    CHECK.says(words, place, "", &[("span", &span), ("beats", &beats)])
}
