use num_rational::Ratio;

use crate::checks::check::words_of;
use crate::checks::{Check, Context, Example, Family, Run};
use crate::findings::{Finding, Holes, Severity, Words};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "rasgueado-does-not-fill",
    severity: Severity::Warning,
    family: Family::RightHand,
    example: Example {
        trips: "[0:20] 6 rasg x a m i for 3/2\n[0:24] 7 i dn",
        right: "[0:20] 6 rasg x a m i for 1\n[0:24] 7 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    let words = words_of(lesson);
    let found = lesson.patterns.iter().flat_map(|pattern| in_pattern(words, pattern));
    found.collect()
}

fn in_pattern(words: &Words, pattern: &Pattern) -> Vec<Finding> {
    let rasgueados = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.action == Action::Rasgueado);
    rasgueados
        .filter_map(|stroke| finding(words, pattern, stroke))
        .collect()
}

fn finding(words: &Words, pattern: &Pattern, stroke: &Stroke) -> Option<Finding> {
    let end = stroke
        .arrival
        .or_else(|| stroke.length.map(|length| stroke.at.plus(length)))?;
    let later = pattern
        .strokes
        .iter()
        .filter(|other| other.at > stroke.at && other.action != Action::Rest);
    let next = later.min_by_key(|other| other.at);
    // A golpe in the middle of a rasgueado is the hand's own accent.
    let strikes = next.filter(|next| next.action != Action::Golpe);
    if let Some(next) = strikes.filter(|next| end > next.at) {
        let holes: Holes = &[("at", &stroke.at), ("end", &end), ("next", &next.at)];
        let finding = CHECK.says(words, stroke.place, "over", holes);
        return Some(finding.see_also(next.place, "", &[]));
    }
    let count_over = Position(Ratio::from_integer(stroke.at.whole() + 1));
    let goes_on = next.is_some_and(|next| next.at <= end);
    if end >= count_over || goes_on || stroke.arrival.is_some() {
        return None;
    }
    let holes: Holes = &[("at", &stroke.at), ("end", &end), ("over", &count_over)];
    let finding = CHECK.says(words, stroke.place, "short", holes);
    Some(finding.weighing(Severity::Note))
}
