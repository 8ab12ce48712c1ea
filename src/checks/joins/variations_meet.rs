use crate::checks::check::words_of;
use crate::checks::counts::{beats, counts_of, show_counts};
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::wording::number;
use crate::findings::{Finding, Holes, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::remark::Remark;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "variations-meet",
    severity: Severity::Error,
    family: Family::Joins,
    example: Example {
        trips: "[0:00] tangos, count 4\n[0:24] 1 i dn, 2 i dn, 3 i dn, 4 p dn\n[1:00] V1 (1-2): 1 p dn, 2 p dn\n[1:20] V2 (2-3): 2 i dn, 3 i up\n[1:40] V1 and V2 in the same round",
        right: "[0:00] tangos, count 4\n[0:24] 1 i dn, 2 i dn, 3 i dn, 4 p dn\n[1:00] V1 (1-2): 1 p dn, 2 p dn\n[1:20] V2 (3-4): 3 i dn, 4 i up\n[1:40] V1 and V2 in the same round",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let asked = lesson.remarks.iter().filter_map(|told| match &told.value {
        Remark::Together { patterns } => Some((patterns, told.place)),
        _ => None,
    });
    asked
        .filter_map(|(names, place)| finding(lesson, names, place))
        .collect()
}

/// The first two of them that both want a count.
fn finding(lesson: &Lesson, names: &[String], place: Place) -> Option<Finding> {
    let pattern = |name: &String| lesson.patterns.iter().find(|pattern| pattern.name == *name);
    let patterns: Vec<&Pattern> = names.iter().filter_map(pattern).collect();
    let pairs = patterns.iter().enumerate();
    let mut pairs = pairs.flat_map(|(at, one)| patterns.iter().skip(at + 1).map(move |other| (*one, *other)));
    let (one, other, counts) = pairs.find_map(|(one, other)| {
        let counts = shared(one, other, beats(lesson));
        (!counts.is_empty()).then_some((one, other, counts))
    })?;
    let words = words_of(lesson);
    let shown = show_counts(words, &counts);
    let holes: Holes = &[("one", &one.name), ("other", &other.name), ("counts", &shown)];
    let finding = CHECK.tells(words, place, (number(counts.len()), ""), holes);
    Some(
        finding
            .see_also(one.place, "", &[("name", &one.name)])
            .see_also(other.place, "", &[("name", &other.name)]),
    )
}

fn shared(one: &Pattern, other: &Pattern, beats: Option<i64>) -> Vec<i64> {
    let (Some(first), Some(second)) = (one.span, other.span) else {
        return Vec::new();
    };
    let claimed = counts_of(second, beats);
    counts_of(first, beats)
        .into_iter()
        .filter(|count| claimed.contains(count))
        .collect()
}
