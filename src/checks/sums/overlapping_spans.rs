use crate::checks::check::words_of;
use crate::checks::counts::{Announced, announced, beats, show_counts};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::wording::number;
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;

pub(in crate::checks) const CHECK: Check = Check {
    id: "overlapping-spans",
    severity: Severity::Error,
    family: Family::Sums,
    example: Example {
        trips: "[0:10] 1-3 A: 1 i dn, 2 i dn, 3 i dn\n[0:18] 3-6 Bb: 3 i up, 4 i dn, 5 i dn, 6 i dn",
        right: "[0:10] 1-3 A: 1 i dn, 2 i dn, 3 i dn\n[0:18] 4-6 Bb: 4 i dn, 5 i dn, 6 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let beats = beats(lesson);
    let in_pattern = |pattern: &Pattern| {
        let all = announced(pattern, beats);
        let mut findings = Vec::new();
        for (index, second) in all.iter().enumerate() {
            let clash = all.iter().take(index).find_map(|first| {
                let counts = clashing(first, second, pattern, context.is_typed(&second.place));
                (!counts.is_empty()).then_some((first, counts))
            });
            findings.extend(clash.map(|(first, counts)| finding(words_of(lesson), first, second, &counts)));
        }
        findings
    };
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

/// The counts that two announcements both claim. One inside the other is a detail, not a clash.
fn clashing(first: &Announced, second: &Announced, pattern: &Pattern, typed: bool) -> Vec<i64> {
    let shared = first.shared(second);
    let nested = shared.len() == first.counts.len() || shared.len() == second.counts.len();
    if shared.is_empty() || nested {
        return Vec::new();
    }
    let both_strokes = first.gives_strokes() && second.gives_strokes();
    let both_chords = !first.gives_strokes() && !second.gives_strokes() && first.chord != second.chord;
    let told_twice = || {
        let tells = |announced: &Announced, count: i64| {
            let strokes = announced.strokes.iter().filter_map(|index| pattern.strokes.get(*index));
            strokes.into_iter().any(|stroke| stroke.at.whole() == count)
        };
        shared.iter().any(|count| tells(first, *count) && tells(second, *count))
    };
    // In speech "from 4 to 6" after "up to 4" shares its corner: it is a clash only when both say what to play there.
    if (both_strokes && (typed || told_twice())) || (both_chords && typed) {
        shared
    } else {
        Vec::new()
    }
}

fn finding(words: &Words, first: &Announced, second: &Announced, counts: &[i64]) -> Finding {
    let (one, two) = (first.span.to_string(), second.span.to_string());
    let shown = show_counts(words, counts);
    let (end, begin) = (second.span.first - 1, first.span.last + 1);
    let ends = first.span.last >= second.span.first && first.span.first < second.span.first;
    let help = if ends { "ends" } else { "" };
    let holes: Holes = &[
        ("counts", &shown),
        ("one", &one),
        ("two", &two),
        ("end", &end),
        ("begin", &begin),
    ];
    let finding = CHECK.tells(words, second.place, (number(counts.len()), help), holes);
    finding.see_also(first.place, "", &[("one", &one)])
}
