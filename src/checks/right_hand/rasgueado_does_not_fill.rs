use num_rational::Ratio;

use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::Pattern;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};

pub(in crate::checks) const CHECK: Check = Check {
    id: "rasgueado-does-not-fill",
    severity: Severity::Warning,
    family: Family::RightHand,
    about: About {
        finds: "A rasgueado whose end is said stops before its count is over with nothing after it (a note), or runs past the next stroke (a warning).",
        matters: "A rasgueado carries the time: a hole in it limps, and what it runs over comes late.",
        trips: "[0:20] 6 rasg x a m i for 3/2\n[0:24] 7 i dn",
        right: "[0:20] 6 rasg x a m i for 1\n[0:24] 7 i dn",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, _context: &Context) -> Vec<Finding> {
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

fn in_pattern(pattern: &Pattern) -> Vec<Finding> {
    let rasgueados = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.action == Action::Rasgueado);
    rasgueados.filter_map(|stroke| finding(pattern, stroke)).collect()
}

fn finding(pattern: &Pattern, stroke: &Stroke) -> Option<Finding> {
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
        let message = format!(
            "the rasgueado from {} lasts until {end}, and {} has a stroke already",
            stroke.at, next.at
        );
        let help = format!("Let it end on {}, or move the stroke", next.at);
        return Some(
            CHECK
                .found(stroke.place, message, help)
                .see_also(next.place, "the stroke it runs over"),
        );
    }
    let count_over = Position(Ratio::from_integer(stroke.at.whole() + 1));
    let goes_on = next.is_some_and(|next| next.at <= end);
    if end >= count_over || goes_on || stroke.arrival.is_some() {
        return None;
    }
    let message = format!(
        "the rasgueado from {} ends at {end}, and nothing follows before {count_over}",
        stroke.at
    );
    let help = "Let it fill its count, or say that the rest of the count is silent".to_owned();
    Some(CHECK.found(stroke.place, message, help).weighing(Severity::Note))
}
