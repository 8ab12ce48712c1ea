use crate::checks::Context;
use crate::checks::compas::tempo_implausible::is_absurd;
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, Pattern};
use crate::music::round::{Given, Pace, Pulses, Round};

/// The compás and the pulses a minute at the top of the tempo. None where the lesson says no tempo: the palo's is ours,
/// and nothing is held against it; nor against a tempo that is a slip of the pen.
pub(super) fn top(lesson: &Lesson, context: &Context) -> Option<(Round, Pulses)> {
    if is_absurd(lesson, context) {
        return None;
    }
    let round = Round::of(lesson, context.palos)?;
    let pace = Pace::of(lesson, &round, context.palos).filter(|pace| pace.given == Given::Said)?;
    let top = pace.top(&round);
    Some((round, top))
}

/// The pattern with the finger of a passage on its strokes, where one finger is said to play all of it.
pub(super) fn with_passages(pattern: &Pattern, round: &Round) -> Pattern {
    let mut pattern = pattern.clone();
    let passages = pattern.claims.iter().filter_map(|claim| match &claim.about {
        ClaimAbout::Passage { span, fingers } if fingers.len() == 1 => Some((*span, fingers.clone())),
        _ => None,
    });
    let passages: Vec<_> = passages.collect();
    for stroke in pattern.strokes.iter_mut().filter(|stroke| stroke.fingers.is_empty()) {
        let own = passages.iter().find(|(span, _)| round.holds(*span, stroke.at));
        if let Some((_, fingers)) = own {
            stroke.fingers.clone_from(fingers);
        }
    }
    pattern
}
