use crate::checks::left_hand::words;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::joins::{Join, JoinKind, joins};
use crate::music::lesson::Lesson;
use crate::text::Place;

pub(in crate::checks) const CHECK: Check = Check {
    id: "join-without-caution",
    severity: Severity::Note,
    family: Family::Joins,
    about: About {
        finds: "Where the core passes into a variation or back, or one vuelta into the next, a finger that leaves late would spoil the first sound; there is less than 150 ms at the top of the tempo, and no caution speaks of it.",
        matters: "These are the places where students stumble. A sentence of warning saves weeks.",
        trips: "[0:00] tempo 210\n[0:20] core … 2 i dn, & i up (Bb)\n[1:00] V1, replaces 3-4: 3 p s5 f0 (A)",
        right: "[0:00] tempo 210\n[0:20] core … 2 i dn, & i up (Bb)\n[1:00] V1, replaces 3-4: 3 p s5 f0 (A)\n[1:04] ! (3) the barre has to be off before",
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
    let (from, to) = (join.from.name(lesson), join.to.name(lesson));
    let message = format!(
        "from {from} to {to} at {}, {} has to be off within {millis} ms, and no caution says so",
        join.count,
        words::held(hold)
    );
    let help = format!("If students stumble there, add a line such as `! ({}) …`", join.count);
    Some(CHECK.found(place(lesson, join)?, message, help))
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
