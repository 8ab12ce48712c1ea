//! Where a rhythm leans: palos that lie near each other, how far a variation departs from its core, and which strokes
//! lie against the accents. Descriptions for a page; none of them is ever a finding.

use num_rational::Ratio;

use super::palo::{AccentSet, Compas, Palo, PaloTable};
use super::pattern::{CountSpan, Pattern};
use super::position::Position;
use super::rhythm::{Timeline, chronotonic, directed_swap, least_over_rotations};
use super::round::{Pulses, Round};
use super::stroke::Action;

/// Finest grid that rhythms are laid on, in steps a pulse: what is finer than that is not compared.
const FINEST: i64 = 48;
/// Longest cycle that is compared, in steps.
const LONGEST: i64 = 4_096;

/// A palo whose accents lie near another's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near {
    pub slug: String,
    /// Its accents, in the order said.
    pub accents: AccentSet,
    /// Counts that those accents are counted in.
    pub counts: i64,
    /// Swaps of neighbouring pulses, in pulses, at the rotation that needs fewest.
    pub distance: Pulses,
}

/// The palos whose accents lie nearest to this one's, over all rotations: nearest first, then in the table's order.
pub fn nearest(palo: &Palo, palos: &PaloTable) -> Vec<Near> {
    let Some((compas, own)) = palo.usual().and_then(|compas| Some((compas, compas.accents.first()?))) else {
        return Vec::new();
    };
    let own = in_pulses(compas, own);
    let mut found: Vec<Near> = Vec::new();
    for other in palos.iter().filter(|other| other.slug != palo.slug) {
        let mut best: Option<Near> = None;
        for way in other.compas.iter().filter(|way| way.pulses() == compas.pulses()) {
            for set in &way.accents {
                let Some(distance) = between(&own, &in_pulses(way, set), compas.pulses()) else {
                    continue;
                };
                if best.as_ref().is_none_or(|best| distance < best.distance) {
                    best = Some(Near {
                        slug: other.slug.clone(),
                        accents: set.clone(),
                        counts: way.counts,
                        distance,
                    });
                }
            }
        }
        found.extend(best);
    }
    found.sort_by_key(|near| near.distance);
    found
}

/// Pulses from count 1 on of each accent.
fn in_pulses(compas: &Compas, set: &AccentSet) -> Vec<Pulses> {
    let before = |count: i64| -> i64 {
        compas
            .lengths
            .iter()
            .take(usize::try_from(count - 1).unwrap_or(0))
            .sum()
    };
    let length = |count: i64| {
        let index = usize::try_from(count - 1).ok();
        index.and_then(|index| compas.lengths.get(index)).copied().unwrap_or(1)
    };
    let pulse = |at: &Position| {
        let count = at.whole();
        Ratio::from_integer(before(count)) + at.fraction() * Ratio::from_integer(length(count))
    };
    set.at.iter().map(pulse).collect()
}

fn between(one: &[Pulses], other: &[Pulses], pulses: i64) -> Option<Pulses> {
    let steps = steps_a_pulse(one.iter().chain(other))?;
    let (one, other) = (on_grid(one, pulses, steps)?, on_grid(other, pulses, steps)?);
    least_over_rotations(directed_swap, &one, &other).map(|(cost, _)| in_steps(cost, steps))
}

fn in_steps(cost: u64, steps: i64) -> Pulses {
    Ratio::new(i64::try_from(cost).unwrap_or(i64::MAX), steps)
}

/// The coarsest grid that all moments stand on.
fn steps_a_pulse<'a>(moments: impl Iterator<Item = &'a Pulses>) -> Option<i64> {
    let mut steps: i64 = 1;
    for moment in moments {
        let under = *moment.denom();
        steps = steps.checked_mul(under / common_divisor(steps, under))?;
        if steps > FINEST {
            return None;
        }
    }
    Some(steps)
}

fn common_divisor(one: i64, other: i64) -> i64 {
    if other == 0 {
        one.max(1)
    } else {
        common_divisor(other, one % other)
    }
}

fn on_grid(moments: &[Pulses], pulses: i64, steps: i64) -> Option<Timeline> {
    let length = pulses
        .checked_mul(steps)
        .filter(|length| (1..=LONGEST).contains(length))?;
    let step = |moment: &Pulses| usize::try_from((moment * Ratio::from_integer(steps)).to_integer()).ok();
    let onsets: Vec<usize> = moments.iter().filter_map(step).collect();
    Some(Timeline::with_onsets(usize::try_from(length).ok()?, &onsets))
}

/// How far a pattern departs from another over the same counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Departure {
    /// Area between the two, drawn as steps, in pulses times pulses: the measure that agrees best with listeners (THUL).
    pub area: Pulses,
    /// Swaps of neighbouring pulses, in pulses. Absent when one of the two is silent.
    pub swaps: Option<Pulses>,
}

/// How far a variation departs from the core in the counts that it replaces: by when something sounds, not by what.
///
/// None when it replaces no known counts, or when the two do not fit a common grid.
pub fn departure(core: &Pattern, variation: &Pattern, round: &Round) -> Option<Departure> {
    let span = variation.span?;
    let (one, other) = (sounding(core, span, round), sounding(variation, span, round));
    let length = round.pulses_in(span);
    let steps = steps_a_pulse(one.iter().chain(&other).chain([&length]))?;
    let whole = length.ceil().to_integer();
    let (one, other) = (on_grid(&one, whole, steps)?, on_grid(&other, whole, steps)?);
    let area = chronotonic(&one, &other)?;
    Some(Departure {
        area: in_steps(area, steps) / Ratio::from_integer(steps),
        swaps: directed_swap(&one, &other).map(|cost| in_steps(cost, steps)),
    })
}

/// The moments of a span at which the pattern sounds, in pulses from the start of the span, each once.
fn sounding(pattern: &Pattern, span: CountSpan, round: &Round) -> Vec<Pulses> {
    let sounds = pattern
        .strokes
        .iter()
        .filter(|stroke| !matches!(stroke.action, Action::Rest | Action::Damp));
    let inside = sounds.filter(|stroke| round.holds(span, stroke.at));
    let mut moments: Vec<Pulses> = inside.map(|stroke| round.after(span.first, stroke.at)).collect();
    moments.sort();
    moments.dedup();
    moments
}

/// Variations from near to far, as indices into the list given; those that cannot be measured come last, in order.
pub fn near_to_far(core: &Pattern, variations: &[&Pattern], round: &Round) -> Vec<usize> {
    let mut order: Vec<(bool, Option<Departure>, usize)> = variations
        .iter()
        .enumerate()
        .map(|(index, variation)| {
            let departure = departure(core, variation, round);
            (departure.is_none(), departure, index)
        })
        .collect();
    order.sort();
    order.into_iter().map(|(_, _, index)| index).collect()
}

/// How a pattern lies on the accents of its compás.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Leaning {
    /// Accents of the compás, inside of what the pattern covers, that it strikes.
    pub with: Vec<Position>,
    /// Accents at which nothing sounds.
    pub silent: Vec<Position>,
    /// Moments that the pattern leans on (a golpe, a rasgueado, an accent asked for) and the compás does not.
    pub against: Vec<Position>,
}

/// Which beats of a pattern lie with the accents and which against. Empty where the compás has no accents.
pub fn leaning(pattern: &Pattern, round: &Round) -> Leaning {
    let span = pattern.span.unwrap_or(CountSpan {
        first: round.first,
        last: round.first + round.counts - 1,
    });
    let mut leaning = Leaning::default();
    if round.accents.is_empty() {
        return leaning;
    }
    let strikes = |at: Position| {
        let here = pattern
            .strokes
            .iter()
            .filter(move |stroke| round.after(span.first, stroke.at) == round.after(span.first, at));
        here.into_iter()
            .any(|stroke| !matches!(stroke.action, Action::Rest | Action::Damp))
    };
    for accent in round.accents.iter().filter(|accent| round.holds(span, **accent)) {
        if strikes(*accent) {
            leaning.with.push(*accent);
        } else {
            leaning.silent.push(*accent);
        }
    }
    let leans =
        |stroke: &&super::stroke::Stroke| stroke.accent || matches!(stroke.action, Action::Golpe | Action::Rasgueado);
    let mut against: Vec<Position> = pattern
        .strokes
        .iter()
        .filter(leans)
        .map(|stroke| stroke.at)
        .filter(|at| !round.is_accent(*at))
        .collect();
    against.sort();
    against.dedup();
    leaning.against = against;
    leaning
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::lesson::Lesson;
    use crate::music::lesson::Said;
    use crate::music::palo::find;
    use crate::music::pattern::Role;
    use crate::music::stroke::Stroke;
    use crate::text::Place;

    fn pattern(span: (i64, i64), strokes: &[(&str, Action)]) -> Pattern {
        let stroke = |(at, action): &(&str, Action)| {
            Stroke::new(Position::parse(at).expect("a position"), *action, Place::default())
        };
        Pattern {
            name: String::new(),
            role: Role::Core,
            span: Some(CountSpan {
                first: span.0,
                last: span.1,
            }),
            strokes: strokes.iter().map(stroke).collect(),
            changes: Vec::new(),
            left: Vec::new(),
            runs_on: None,
            claims: Vec::new(),
            place: Place::default(),
        }
    }

    fn round(palo: &str) -> Round {
        let lesson = Lesson {
            palo: Some(Said::new(palo.to_owned(), Place::default())),
            ..Lesson::default()
        };
        Round::of(&lesson, PaloTable::ours()).expect("a compás")
    }

    #[test]
    fn palos_of_one_rhythm_are_nearest() {
        let near = nearest(find("solea").expect("a palo"), PaloTable::ours());
        let distance = |slug: &str| near.iter().find(|near| near.slug == slug).map(|near| near.distance);
        // The siguiriya and the guajira are the soleá begun elsewhere (KL, BR04).
        for slug in ["siguiriya", "guajira", "alegrias"] {
            assert_eq!(distance(slug), Some(Ratio::from_integer(0)), "{slug}");
        }
        assert_eq!(distance("tangos"), None);
        assert!(nearest(find("taranta").expect("a palo"), PaloTable::ours()).is_empty());
    }

    #[test]
    fn a_variation_that_strikes_as_the_core_does_does_not_depart_from_it() {
        use Action::{Down, Pluck, Up};
        let round = round("solea");
        let core = pattern((1, 12), &[("1", Down), ("2", Down), ("2+1/2", Up), ("3", Down)]);
        let same = pattern((1, 2), &[("1", Pluck), ("2", Pluck), ("2+1/2", Pluck)]);
        let triplets = pattern(
            (1, 2),
            &[("1", Pluck), ("1+1/3", Pluck), ("1+2/3", Pluck), ("2", Pluck)],
        );
        let silent = pattern((1, 2), &[("1", Action::Rest)]);
        let zero = Ratio::from_integer(0);
        assert_eq!(
            departure(&core, &same, &round),
            Some(Departure {
                area: zero,
                swaps: Some(zero)
            })
        );
        assert!(departure(&core, &triplets, &round).is_some_and(|far| far.area > zero));
        assert_eq!(departure(&core, &silent, &round).map(|far| far.swaps), Some(None));
        assert_eq!(near_to_far(&core, &[&triplets, &same], &round), [1, 0]);
    }

    #[test]
    fn beats_against_the_accents_are_named() {
        use Action::{Down, Golpe, Rest};
        let round = round("solea");
        let core = pattern((1, 6), &[("1", Down), ("2", Golpe), ("3", Down), ("6", Rest)]);
        let leaning = leaning(&core, &round);
        let words = |at: &[Position]| at.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        assert_eq!(words(&leaning.with), "3");
        assert_eq!(words(&leaning.silent), "6");
        assert_eq!(words(&leaning.against), "2");
    }
}
