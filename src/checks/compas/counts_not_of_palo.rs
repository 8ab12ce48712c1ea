use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::palo::{Compas, Palo};

pub(in crate::checks) const CHECK: Check = Check {
    id: "counts-not-of-palo",
    severity: Severity::Warning,
    family: Family::Compas,
    example: Example {
        trips: "[0:00] sevillanas\n[0:06] count 4",
        right: "[0:00] sevillanas\n[0:06] count 3",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    finding(lesson, context).into_iter().collect()
}

fn finding(lesson: &Lesson, context: &Context) -> Option<Finding> {
    let palo = context.palos.find(&lesson.palo.as_ref()?.value)?;
    let beats = lesson.meter.beats.as_ref().filter(|beats| beats.value > 0)?;
    if palo.compas.is_empty() || palo.compas.iter().any(|way| fits(way, beats.value)) {
        return None;
    }
    let words = words_of(lesson);
    let name = palo.name.of(&lesson.language);
    let holes: Holes = &[("beats", &beats.value), ("palo", &name), ("known", &known(words, palo))];
    Some(CHECK.says(words, beats.place, "", holes))
}

/// So many counts are one compás of this way, several, or a part of one that its groups can be cut into: twelve counts
/// in threes are also counted in 3 and in 6, but not in 4.
fn fits(way: &Compas, beats: i64) -> bool {
    way.counts > 0 && (beats % way.counts == 0 || way.counts % beats == 0 && is_cut(way, beats))
}

fn is_cut(way: &Compas, beats: i64) -> bool {
    let ends = |groups: &[i64]| -> Vec<i64> {
        let mut end = 0;
        groups
            .iter()
            .map(|group| {
                end += group;
                end
            })
            .collect()
    };
    let cut = |groups: &[i64]| {
        let ends = ends(groups);
        (1..=way.counts / beats).all(|part| ends.contains(&(part * beats)))
    };
    way.groupings.is_empty() || way.groupings.iter().any(|grouping| cut(&grouping.groups))
}

/// The ways of counting it, as a teacher would say them: `3, 6 or 12`.
fn known(words: &Words, palo: &Palo) -> String {
    let mut counts: Vec<i64> = palo.compas.iter().map(|way| way.counts).collect();
    counts.sort_unstable();
    counts.dedup();
    let counts: Vec<String> = counts.iter().map(i64::to_string).collect();
    match counts.split_last() {
        Some((last, rest)) if !rest.is_empty() => words.phrase("or", &[("list", &rest.join(", ")), ("last", last)]),
        _ => counts.concat(),
    }
}
