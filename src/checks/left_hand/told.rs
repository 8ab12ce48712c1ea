use crate::music::held::{Told, follow};
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::round::Round;
use crate::music::version::{Cycle, happenings, of_pattern, versions};

/// The left hand through each version of a lesson; in a free palo, and where a pattern has no place in the compás,
/// through each pattern by itself.
pub(in crate::checks) fn stories(lesson: &Lesson, palos: &PaloTable) -> Vec<Told> {
    let round = Round::of(lesson, palos);
    let placed = round.as_ref().map(|round| versions(lesson, round)).unwrap_or_default();
    let mut stories: Vec<Told> = Vec::new();
    if let Some(round) = &round {
        let told = placed.iter().map(|version| happenings(lesson, round, version, None));
        stories.extend(told.map(|all| follow(lesson, &all, &[])));
    }
    let plain = round.unwrap_or_else(|| Round::uncounted(lesson));
    let cycle = Cycle::of(lesson, &plain);
    for (index, pattern) in lesson.patterns.iter().enumerate() {
        let in_version = placed.iter().any(|version| version.variations.contains(&index));
        if !in_version && cycle.core != Some(index) || placed.is_empty() {
            stories.push(follow(lesson, &of_pattern(&cycle, &plain, index, pattern), &[]));
        }
    }
    stories
}
