use crate::checks::check::words_of;
use crate::checks::counts::{Announced, announced, beats, is_told, show_counts};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::wording::number;
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::stroke::Stroke;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "gap-between-spans",
    severity: Severity::Warning,
    family: Family::Sums,
    example: Example {
        trips: "[0:00] soleá, count 12\n[0:10] 4-6 G: 4 p dn, 5 i dn, 6 i dn\n[0:18] 8-9 F: 8 i dn, 9 i dn",
        right: "[0:00] soleá, count 12\n[0:10] 4-6 G: 4 p dn, 5 i dn, 6 i dn\n[0:18] 7-9 F: 7 rest, 8 i dn, 9 i dn",
    },
    run: Run::Lesson(look),
};

pub(super) fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let beats = beats(lesson);
    let in_pattern = |pattern: &Pattern| {
        let all = announced(pattern, beats);
        let groups: Vec<&Announced> = all.iter().filter(|group| group.gives_strokes()).collect();
        // A list of single counts is no row of groups: counts left out of it may be silent.
        if !groups.iter().any(|group| group.counts.len() > 1) {
            return Vec::new();
        }
        let pairs = groups.windows(2).filter_map(|pair| match pair {
            [first, second] if context.is_typed(&second.place) => Some((*first, *second)),
            _ => None,
        });
        let gaps = pairs.filter_map(|(first, second)| {
            let between = left_out(first, second, beats?);
            let silent = |count: &i64| !all.iter().any(|other| other.holds(*count)) && !is_told(pattern, *count);
            let counts: Vec<i64> = between.into_iter().filter(silent).collect();
            (!counts.is_empty()).then(|| finding(words_of(lesson), first, second, &counts, pattern))
        });
        gaps.collect::<Vec<_>>()
    };
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

/// The counts between the end of one group and the beginning of the next, going round the compás if need be.
fn left_out(first: &Announced, second: &Announced, beats: i64) -> Vec<i64> {
    let (end, start) = (first.span.last, second.span.first);
    if end < start {
        (end + 1..start).take(64).collect()
    } else if second.span.first <= second.span.last && end <= beats && start < first.span.first {
        // Told out of order, or round the end: the counts up to the end of the compás, then those before the start.
        (end + 1..=beats).chain(1..start).take(64).collect()
    } else {
        Vec::new()
    }
}

fn finding(words: &Words, first: &Announced, second: &Announced, counts: &[i64], pattern: &Pattern) -> Finding {
    let before = counts.first().map_or(first.span.last, |count| count - 1);
    let (place, after) = goes_on(first, second, counts, pattern);
    let count = counts.first().copied().unwrap_or(after);
    let shown = show_counts(words, counts);
    let holes: Holes = &[
        ("counts", &shown),
        ("before", &before),
        ("after", &after),
        ("count", &count),
    ];
    let finding = CHECK.says(words, place, number(counts.len()), holes);
    finding.see_also(first.place, "", &[("span", &first.span)])
}

/// Where the music goes on after the gap: the next group, or a single count told before it.
fn goes_on(first: &Announced, second: &Announced, counts: &[i64], pattern: &Pattern) -> (Place, i64) {
    let gap = counts.last().copied().unwrap_or(first.span.last);
    let between = |stroke: &&Stroke| {
        let told_after = stroke.place.file == first.place.file && stroke.place.line > first.place.line;
        told_after && stroke.place.line < second.place.line && stroke.at.whole() > gap
    };
    let next = pattern.strokes.iter().filter(between).min_by_key(|stroke| stroke.at);
    next.map_or((second.place, second.span.first), |stroke| {
        (stroke.place, stroke.at.whole())
    })
}
