//! Counts in the order of the round, and which announcements stand side by side.
//!
//! A note announces counts on two layers: lines that give strokes ("4-6 G: 4 i dn, …") and lists that only give
//! chords ("Am on 1-3, G on 4-6"). Only announcements of one layer can be held against each other.

use crate::findings::Words;
use crate::findings::wording::number;
use crate::music::chord::ChordName;
use crate::music::lesson::Lesson;
use crate::music::pattern::{ClaimAbout, CountSpan, Pattern, Role};
use crate::text::Place;

/// The counts of a span in the order they are played; a span such as `[12, 2]` goes round the end of the compás.
pub(super) fn counts_of(span: CountSpan, beats: Option<i64>) -> Vec<i64> {
    const LONGEST: i64 = 512;
    if span.first <= span.last {
        return (span.first..=span.last.min(span.first.saturating_add(LONGEST))).collect();
    }
    match beats {
        Some(beats) if span.first <= beats => (span.first..=beats).chain(1..=span.last.min(beats)).collect(),
        _ => vec![span.first, span.last],
    }
}

/// Something is said to happen in the count, silence too, or a rasgueado or a long note goes through it.
pub(super) fn is_told(pattern: &Pattern, count: i64) -> bool {
    pattern.strokes.iter().any(|stroke| {
        let begins = stroke.at.whole();
        let ends = stroke.ends().map_or(begins, |end| end.whole());
        (begins..=ends.max(begins)).contains(&count)
    })
}

/// `count 6`, `counts 5 and 6`.
pub(super) fn show_counts(words: &Words, counts: &[i64]) -> String {
    words.phrase(
        &format!("counts_{}", number(counts.len())),
        &[("list", &words.list(counts))],
    )
}

/// Counts in one compás, where the lesson or a round that runs once through it says so.
pub(super) fn beats(lesson: &Lesson) -> Option<i64> {
    lesson
        .meter
        .beats
        .as_ref()
        .map(|beats| beats.value)
        .filter(|beats| (1..=64).contains(beats))
}

/// The count after which nothing more belongs to the lesson's round: a core may go straight through two compases.
pub(super) fn last_count(lesson: &Lesson) -> Option<i64> {
    let beats = beats(lesson)?;
    let through = lesson.patterns.iter().filter(|pattern| pattern.role == Role::Core);
    let through = through.filter_map(|pattern| pattern.span).map(|span| span.last);
    Some(
        through
            .filter(|last| *last > beats && last % beats == 0)
            .max()
            .unwrap_or(beats),
    )
}

/// Counts that a line announces.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Announced {
    pub(super) span: CountSpan,
    pub(super) counts: Vec<i64>,
    pub(super) chord: Option<ChordName>,
    pub(super) place: Place,
    /// The strokes said in it, by their place in the pattern.
    pub(super) strokes: Vec<usize>,
}

/// What a pattern announces, in the order of the text, with the strokes that stand after each announcement.
pub(super) fn announced(pattern: &Pattern, beats: Option<i64>) -> Vec<Announced> {
    let mut all: Vec<Announced> = Vec::new();
    for claim in &pattern.claims {
        if let ClaimAbout::Covers { span, chord } = &claim.about {
            all.push(Announced {
                span: *span,
                counts: counts_of(*span, beats),
                chord: chord.clone(),
                place: claim.place,
                strokes: Vec::new(),
            });
        }
    }
    all.sort_by_key(|announced| (announced.place.file, announced.place.span));
    for (index, stroke) in pattern.strokes.iter().enumerate() {
        let before = |announced: &&mut Announced| {
            announced.place.file == stroke.place.file && announced.place.span.start <= stroke.place.span.start
        };
        if let Some(announced) = all.iter_mut().rfind(before) {
            announced.strokes.push(index);
        }
    }
    for announced in &mut all {
        keep_its_own(announced, pattern);
    }
    all
}

/// Strokes that follow a list of chords are not its own: they begin at another count.
fn keep_its_own(announced: &mut Announced, pattern: &Pattern) {
    let at = |index: &usize| pattern.strokes.get(*index);
    let first = announced
        .strokes
        .iter()
        .filter_map(at)
        .min_by_key(|stroke| stroke.place.span.start);
    let near = |line: u32| line <= announced.place.line + 1;
    let own = first.is_some_and(|stroke| near(stroke.place.line) && announced.counts.contains(&stroke.at.whole()));
    if !own {
        announced.strokes.clear();
    }
}

impl Announced {
    pub(super) fn gives_strokes(&self) -> bool {
        !self.strokes.is_empty()
    }

    pub(super) fn holds(&self, count: i64) -> bool {
        self.counts.contains(&count)
    }

    /// The counts that both hold, in the order of the first.
    pub(super) fn shared(&self, other: &Announced) -> Vec<i64> {
        self.counts
            .iter()
            .copied()
            .filter(|count| other.holds(*count))
            .collect()
    }
}
