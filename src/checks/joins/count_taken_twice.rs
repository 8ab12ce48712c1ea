use crate::checks::check::words_of;
use crate::checks::counts::show_counts;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::joins::{Join, JoinKind, Obstacle, joins};
use crate::music::lesson::Lesson;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "count-taken-twice",
    severity: Severity::Note,
    family: Family::Joins,
    example: Example {
        trips: "[0:00] soleá, count 12\n[0:24] 1 i dn (E), 2 i dn, 3 i dn, 4 p dn\n[1:00] V1 (1-2): 1 p dn, 2 p dn\n[1:20] V2 (10-12), runs on to 13: 10 p s6 f0, 11 p s6 f2, 12 p s6 f4, 13 p dn (E)",
        right: "[0:00] soleá, count 12\n[0:24] 1 i dn (E), 2 i dn, 3 i dn, 4 p dn\n[1:00] V1 (3-4): 3 p dn, 4 p dn\n[1:20] V2 (10-12), runs on to 13: 10 p s6 f0, 11 p s6 f2, 12 p s6 f4, 13 p dn (E)",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let all = joins(lesson, context.palos);
    let found = all.iter().filter(|join| join.kind == JoinKind::Vueltas);
    found.filter_map(|join| finding(lesson, join)).collect()
}

fn finding(lesson: &Lesson, join: &Join) -> Option<Finding> {
    let (first, last) = join.obstacles.iter().find_map(|obstacle| match obstacle {
        Obstacle::CountsTakenTwice { first, last } => Some((*first, *last)),
        Obstacle::Held(_) => None,
    })?;
    let place = |index: Option<&usize>| -> Option<Place> { Some(lesson.patterns.get(*index?)?.place) };
    let counts: Vec<i64> = if first <= last {
        (first..=last).collect()
    } else {
        vec![first, last]
    };
    let words = words_of(lesson);
    let (from, to) = (join.from.name(lesson), join.to.name(lesson));
    let case = if join.from == join.to { "itself" } else { "" };
    let counts = show_counts(words, &counts);
    let holes: Holes = &[("from", &from), ("to", &to), ("counts", &counts)];
    let finding = CHECK.says(words, place(join.from.variations.last())?, case, holes);
    let other = place(join.to.variations.first()).filter(|_| join.from != join.to);
    Some(match other {
        Some(other) => finding.see_also(other, "", &[]),
        None => finding,
    })
}
