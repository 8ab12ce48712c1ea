use crate::checks::counts::show_span;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, Pattern};
use crate::music::position::Position;
use crate::music::stroke::Action;

pub(in crate::checks) const CHECK: Check = Check {
    id: "recited-row-differs",
    severity: Severity::Warning,
    family: Family::Sums,
    about: About {
        finds: "A row recited along with the playing (\"one down, two down up\") does not agree with the strokes given for those counts.",
        matters: "The ear learns the recited row and the eye the written one; a student has to hear and read the same.",
        trips: "[0:20] 1 i dn, 2 i dn, & i up\n[0:30] so: 1 down, 2 up",
        right: "[0:20] 1 i dn, 2 i dn, & i up\n[0:30] so: 1 down, 2 down, up",
    },
    run: Run::Lesson(look),
};

fn look(lesson: &Lesson, context: &Context) -> Vec<Finding> {
    let in_pattern = |pattern: &Pattern| {
        let recited = pattern.claims.iter().filter_map(|claim| match &claim.about {
            ClaimAbout::Recited { span, row } => Some((claim.place, *span, row)),
            _ => None,
        });
        let differing = recited.filter_map(|(place, span, row)| {
            let (at, said, given) = row
                .iter()
                .find_map(|(at, action)| differs(pattern, (*at)?, (*action)?))?;
            let message = format!(
                "the recited row has {} at {at}, but the strokes of {} have {}",
                word(said),
                show_span(span),
                word(given)
            );
            let finding = CHECK.found(place, message, "Correct the one that is wrong".to_owned());
            Some(if context.is_typed(&place) {
                finding
            } else {
                finding.weighing(Severity::Note)
            })
        });
        differing.collect::<Vec<_>>()
    };
    lesson.patterns.iter().flat_map(in_pattern).collect()
}

/// A strum said one way and given the other way at one moment. A moment without strokes is open, not different.
fn differs(pattern: &Pattern, at: Position, said: Action) -> Option<(Position, Action, Action)> {
    let opposite = match said {
        Action::Down => Action::Up,
        Action::Up => Action::Down,
        _ => return None,
    };
    let given: Vec<Action> = pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.at == at)
        .map(|stroke| stroke.action)
        .collect();
    (given.contains(&opposite) && !given.contains(&said)).then_some((at, said, opposite))
}

fn word(action: Action) -> &'static str {
    if action == Action::Up { "up" } else { "down" }
}
