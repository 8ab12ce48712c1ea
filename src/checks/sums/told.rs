//! A number said beside a list: "four semiquavers: …", "5-8, two notes a beat: …", "three strokes: …".

use crate::checks::check::words_of;
use crate::findings::Words;
use crate::findings::wording::number;
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, Role};
use crate::music::remark::Remark;
use crate::music::stroke::Action;
use crate::text::Place;

/// A number that the text says, and how many things the list beside it holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Told {
    pub(super) place: Place,
    pub(super) wanted: usize,
    pub(super) given: usize,
    /// What the number is about: `count 11 is divided in four`.
    pub(super) about: String,
    /// Three in one count.
    pub(super) triplet: bool,
}

/// Every number told beside a list that holds at least one thing: nothing listed is left open, not wrong.
pub(super) fn told(lesson: &Lesson) -> Vec<Told> {
    let words = words_of(lesson);
    let claims = lesson.patterns.iter().flat_map(|pattern| &pattern.claims);
    let told = claims.filter_map(|claim| match &claim.about {
        ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        } => Some(Told {
            place: claim.place,
            wanted: usize::try_from(counts.checked_mul(*per_count)?).ok()?,
            given: *given,
            about: divided(
                words,
                &from.to_string(),
                from.whole().saturating_add(*counts).saturating_sub(1),
                *counts,
                *per_count,
            ),
            triplet: *per_count == 3 && *counts == 1,
        }),
        ClaimAbout::Numbered { at, said, given } => Some(Told {
            place: claim.place,
            wanted: *said,
            given: *given,
            about: words.phrase("numbered", &[("n", said), ("at", at)]),
            triplet: false,
        }),
        ClaimAbout::Covers { .. }
        | ClaimAbout::Outside { .. }
        | ClaimAbout::OpenAndFretted { .. }
        | ClaimAbout::Recited { .. }
        | ClaimAbout::NamedAgain { .. }
        | ClaimAbout::Passage { .. } => None,
    });
    let told = told.filter(|told| told.given > 0);
    told.chain(lesson.remarks.iter().flat_map(|said| each_count(lesson, &said.value)))
        .collect()
}

/// Counts of a pattern that fall short of what every count of it is said to have, where another one has it.
fn each_count(lesson: &Lesson, remark: &Remark) -> Vec<Told> {
    let Remark::EachCount { pattern, per_count } = remark else {
        return Vec::new();
    };
    let Some((pattern, wanted)) = lesson
        .patterns
        .iter()
        .find(|known| known.name == *pattern)
        .zip(usize::try_from(*per_count).ok())
    else {
        return Vec::new();
    };
    let Some(span) = pattern.span.filter(|_| pattern.role != Role::Core) else {
        return Vec::new();
    };
    let notes = |count: i64| {
        let here = pattern.strokes.iter().filter(move |stroke| stroke.at.whole() == count);
        here.filter(|stroke| !matches!(stroke.action, Action::Golpe | Action::Rest))
    };
    let full = (span.first..=span.last).any(|count| notes(count).count() == wanted);
    let words = words_of(lesson);
    let short = (span.first..=span.last).filter_map(|count| {
        let given = notes(count).count();
        let place = notes(count)
            .map(|stroke| stroke.place)
            .min_by_key(|place| place.span.start)?;
        let about = divided(words, &count.to_string(), count, 1, *per_count);
        (full && given >= 2 && given < wanted).then_some(Told {
            place,
            wanted,
            given,
            about,
            triplet: wanted == 3,
        })
    });
    short.collect()
}

fn divided(words: &Words, from: &str, last: i64, counts: i64, per_count: i64) -> String {
    let all = counts.saturating_mul(per_count);
    let case = if counts == 1 { "divided_one" } else { "divided_many" };
    words.phrase(
        case,
        &[("from", &from), ("last", &last), ("parts", &per_count), ("all", &all)],
    )
}

/// `1 is given`, `7 are given`.
pub(super) fn given(words: &Words, count: usize) -> String {
    words.phrase(&format!("given_{}", number(count)), &[("n", &count)])
}
