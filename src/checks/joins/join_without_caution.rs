use crate::checks::check::words_of;
use crate::checks::left_hand::words;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity};
use crate::music::joins::{Join, JoinKind, joins};
use crate::music::lesson::Lesson;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "join-without-caution",
    severity: Severity::Note,
    family: Family::Joins,
    example: Example {
        trips: "[0:00] bulería, count 12, tempo 210\n[0:14] Bb x13331\n[0:24] 1 i dn (Bb), 2 i dn, & i up, 3 i dn, 4 i dn\n[1:00] V1 (3-4): 3 p s5 f0 (A), 4 p s5 f3 (C)",
        right: "[0:00] bulería, count 12, tempo 210\n[0:14] Bb x13331\n[0:24] 1 i dn (Bb), 2 i dn, & i up, 3 i dn, 4 i dn\n[1:00] V1 (3-4): 3 p s5 f0 (A), 4 p s5 f3 (C)\n[1:04] ! (3) the barre has to be off before",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    // The palo's tempo is ours, not the teacher's.
    if lesson.tempo.is_none() {
        return Vec::new();
    }
    let all = joins(lesson, context.palos);
    let mut findings: Vec<Finding> = all.iter().filter_map(|join| finding(lesson, join)).collect();
    findings.sort();
    findings.dedup_by(|one, other| (one.place, &one.message) == (other.place, &other.message));
    findings
}

fn finding(lesson: &Lesson, join: &Join) -> Option<Finding> {
    // Between vueltas only joins with the core are named: those of variations among each other follow from them.
    let with_core = join.from.variations.is_empty() || join.to.variations.is_empty();
    if !join.wants_caution() || !with_core {
        return None;
    }
    let hold = join.left.in_the_way.first()?;
    let millis = join.left.millis?.round().to_integer();
    let words = words_of(lesson);
    let (from, to) = (join.from.name(lesson), join.to.name(lesson));
    let held = words::held(words, hold);
    let holes: Holes = &[
        ("from", &from),
        ("to", &to),
        ("count", &join.count),
        ("held", &held),
        ("ms", &millis),
    ];
    Some(CHECK.says(words, place(lesson, join)?, "", holes))
}

/// The variation that the join leads into or out of; the core for the seam of the core with itself.
fn place(lesson: &Lesson, join: &Join) -> Option<Place> {
    let variation = match join.kind {
        JoinKind::Exit => join.from.variations.last(),
        JoinKind::Entry => join.to.variations.first(),
        JoinKind::Vueltas => join.from.variations.last().or(join.to.variations.first()),
    };
    let core = lesson
        .patterns
        .iter()
        .position(|pattern| pattern.role == crate::music::pattern::Role::Core);
    let index = variation.copied().or(core)?;
    Some(lesson.patterns.get(index)?.place)
}
