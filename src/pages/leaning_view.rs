//! Where a rhythm leans, in a student's words: palos near each other, how far a variation departs from its core, which
//! strokes lie with the accents and which against. Descriptions: nothing here says that anything is wrong.

use num_rational::Ratio;
use serde::Serialize;

use super::addresses;
use super::compas::Compas;
use super::course::{Course, capital};
use super::labels::Labels;
use super::pattern_view::PatternView;
use super::pieces::{Link, Links};
use super::summary::accent_words;
use crate::music::leaning::{departure, leaning, near_to_far, nearest};
use crate::music::lesson::Lesson;
use crate::music::palo::{AccentSet, Palo};
use crate::music::pattern::{Pattern, Role};
use crate::music::position::Position;
use crate::music::rhythm::{Timeline, euclidean, has_oddity, off_beatness};
use crate::music::round::{Pulses, Round};
use crate::music::source::Source;

/// Palos shown, and how far they may lie, in pulses: ours.
const MOST: usize = 5;
const FARTHEST: i64 = 4;

/// A palo near by.
#[derive(Debug, Serialize)]
pub(super) struct NearView {
    pub link: Link,
    pub words: String,
}

/// Who measures flamenco rhythms so.
pub(super) fn source() -> Source {
    Source("BR04".to_owned())
}

/// The palos whose accents lie nearest, with how far.
pub(super) fn near(course: &Course, palo: &Palo, links: &Links) -> Vec<NearView> {
    let labels = course.labels;
    let known = course.palo_slugs();
    let own = palo
        .usual()
        .and_then(|compas| Some((compas.counts, sorted(compas.accents.first()?))));
    let near = nearest(palo, course.palos)
        .into_iter()
        .filter(|near| near.distance <= Ratio::from_integer(FARTHEST));
    near.take(MOST)
        .map(|near| {
            let name = course
                .palos
                .find(&near.slug)
                .map_or(near.slug.clone(), |other| other.name.of(labels.language).to_owned());
            let accents = in_a_row(&near.accents.at);
            let away = if own.as_ref() == Some(&(near.counts, sorted(&near.accents))) {
                labels.get("near_equal").to_owned()
            } else if near.distance == Ratio::from_integer(0) {
                labels.get("near_same").to_owned()
            } else if near.distance == Ratio::from_integer(1) {
                labels.get("near_one").to_owned()
            } else {
                labels.fill("near_many", &[("n", &in_digits(near.distance))])
            };
            NearView {
                link: if known.contains(&near.slug.as_str()) {
                    links.to(capital(&name), &addresses::palo(&addresses::slug(&near.slug)))
                } else {
                    Link::plain(capital(&name))
                },
                words: labels.fill("near_words", &[("away", &away), ("accents", &accents)]),
            }
        })
        .collect()
}

/// What the accents of a compás of even counts are like by themselves; empty where nothing is to be said.
pub(super) fn character(counts: i64, set: &AccentSet, labels: &Labels) -> Vec<String> {
    let pulses = usize::try_from(counts).unwrap_or(0);
    let whole = set.at.iter().all(|at| *at.fraction().numer() == 0);
    // Of few counts, or of more accents than not, all this is plain to see.
    if !whole || !(6..=24).contains(&pulses) || set.at.len() < 3 || set.at.len() * 2 > pulses {
        return Vec::new();
    }
    let onsets: Vec<usize> = set
        .at
        .iter()
        .filter_map(|at| usize::try_from(at.whole() - 1).ok())
        .collect();
    let timeline = Timeline::with_onsets(pulses, &onsets);
    let mut words = Vec::new();
    let most_even = euclidean(onsets.len(), pulses);
    if (0..pulses).any(|start| most_even.from_pulse(start) == timeline) {
        words.push(labels.get("rhythm_even").to_owned());
    }
    let off = off_beatness(&timeline);
    if off > 0 && pulses == 12 {
        words.push(labels.fill(
            "rhythm_off",
            &[("n", &off.to_string()), ("of", &onsets.len().to_string())],
        ));
    }
    if has_oddity(&timeline) && pulses.is_multiple_of(2) && onsets.len() > 3 {
        words.push(labels.get("rhythm_odd").to_owned());
    }
    words
}

/// What each pattern's page says of where it leans, and the variations from near to far.
pub(super) fn describe(
    lesson: &Lesson,
    course: &Course,
    compas: &Compas,
    labels: &Labels,
    views: &mut [PatternView],
) -> Vec<Link> {
    let Some(round) = Round::of(lesson, course.palos) else {
        return Vec::new();
    };
    let core = lesson.patterns.iter().find(|pattern| pattern.role == Role::Core);
    for (view, pattern) in views.iter_mut().zip(&lesson.patterns) {
        view.leaning = on_accents(pattern, &round, compas, labels);
        let away = core
            .filter(|_| pattern.role != Role::Core)
            .and_then(|core| away(core, pattern, &round, labels));
        view.departure = away.unwrap_or_default();
    }
    core.map_or(Vec::new(), |core| suggested(core, lesson, &round, views))
}

/// Variations from the one nearest to the core to the farthest, where that is another order than the page's.
fn suggested(core: &Pattern, lesson: &Lesson, round: &Round, views: &[PatternView]) -> Vec<Link> {
    let measured = |(index, pattern): &(usize, &Pattern)| {
        let _ = index;
        pattern.role != Role::Core && departure(core, pattern, round).is_some()
    };
    let variations: Vec<(usize, &Pattern)> = lesson.patterns.iter().enumerate().filter(measured).collect();
    let patterns: Vec<&Pattern> = variations.iter().map(|(_, pattern)| *pattern).collect();
    let order = near_to_far(core, &patterns, round);
    if order.is_sorted() {
        return Vec::new();
    }
    let view = |at: &usize| variations.get(*at).and_then(|(index, _)| views.get(*index));
    let named = order.iter().filter_map(view);
    named
        .map(|view| Link::to(view.name.clone(), format!("#{}", view.anchor)))
        .collect()
}

fn on_accents(pattern: &Pattern, round: &Round, compas: &Compas, labels: &Labels) -> String {
    if pattern.strokes.is_empty() {
        return String::new();
    }
    let leaning = leaning(pattern, round);
    // Past the last count stand the first ones of the next round.
    let within = |at: &Position| {
        let past = (at.whole() - 1).div_euclid(round.counts.max(1)) * round.counts;
        Position(at.0 - Ratio::from_integer(past))
    };
    let sentence = |key: &str, at: &[Position]| {
        let mut at: Vec<Position> = at.iter().map(within).collect();
        at.sort();
        at.dedup();
        let list = accent_words(&at, compas, labels);
        (!at.is_empty()).then(|| labels.fill(key, &[("counts", &list)]))
    };
    let all = leaning.silent.is_empty() && leaning.with.len() > 1;
    let with = if all {
        Some(labels.get("leaning_all").to_owned())
    } else {
        sentence("leaning_with", &leaning.with)
    };
    let sentences = [
        with,
        sentence("leaning_silent", &leaning.silent),
        sentence("leaning_against", &leaning.against),
    ];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// How far a variation's rhythm lies from the core's. The steps of near, away and far are ours: a quarter and three
/// quarters of a pulse between the two drawn as steps, on the average.
fn away(core: &Pattern, variation: &Pattern, round: &Round, labels: &Labels) -> Option<String> {
    let area = departure(core, variation, round)?.area;
    let length = round.pulses_in(variation.span?);
    if length <= Ratio::from_integer(0) {
        return None;
    }
    let mean = area / length;
    let key = if mean == Ratio::from_integer(0) {
        "departs_same"
    } else if mean <= Ratio::new(1, 4) {
        "departs_near"
    } else if mean <= Ratio::new(3, 4) {
        "departs_away"
    } else {
        "departs_far"
    };
    Some(labels.get(key).to_owned())
}

fn sorted(set: &AccentSet) -> Vec<Position> {
    let mut at = set.at.clone();
    at.sort();
    at
}

fn in_a_row(at: &[Position]) -> String {
    at.iter().map(Position::to_string).collect::<Vec<_>>().join(" ")
}

fn in_digits(distance: Pulses) -> String {
    if distance.is_integer() {
        distance.to_integer().to_string()
    } else {
        distance.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::palo::find;

    #[test]
    fn accents_are_described_as_published() {
        // Off-beatness 3, 2, 1 and 0 of soleá, bulería, siguiriya and guajira; oddity of the bulería alone; the fandango's
        // four accents are Euclidean. Source: SL, BR04 (src/data/sources.toml). Pulse 1 of the paper is count 1 here.
        let labels = Labels::of("en");
        let off = |n: &str, of: &str| labels.fill("rhythm_off", &[("n", n), ("of", of)]);
        let odd = labels.get("rhythm_odd").to_owned();
        let even = labels.get("rhythm_even").to_owned();
        let table: [(&[i64], Vec<String>); 5] = [
            (&[3, 6, 8, 10, 12], vec![off("3", "5")]),
            (&[3, 7, 8, 10, 12], vec![off("2", "5"), odd]),
            (&[1, 3, 5, 8, 11], vec![off("1", "5")]),
            (&[1, 4, 7, 9, 11], vec![]),
            (&[1, 4, 7, 10], vec![even]),
        ];
        let solea = find("solea").and_then(|palo| palo.usual()).expect("a compás");
        for (at, expected) in table {
            let set = AccentSet {
                at: at.iter().map(|count| Position::count(*count)).collect(),
                ..solea.accents[0].clone()
            };
            assert_eq!(character(12, &set, labels), expected, "{at:?}");
        }
    }
}
