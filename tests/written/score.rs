//! How far two sets of facts agree: the counting of tests/corpus/score.py, fact by fact.

use compasario::exports::facts::{AccentFact, Facts, PatternFacts};
use compasario::music::position::Position;
use compasario::music::stroke::Action;

/// 1.0 when every fact of the one is a fact of the other.
///
/// Cautions are compared by their words: their lines are those of another text.
pub fn f1(gold: &Facts, read: &Facts) -> f64 {
    let (mut shared, mut all) = overlap(&lesson_facts(gold), &lesson_facts(read));
    for (index, pattern) in gold.patterns.iter().enumerate() {
        let other = read.patterns.get(index).map(pattern_facts).unwrap_or_default();
        let (same, both) = overlap(&pattern_facts(pattern), &other);
        shared += same;
        all += both;
    }
    for pattern in read.patterns.iter().skip(gold.patterns.len()) {
        all += pattern_facts(pattern).len();
    }
    2.0 * shared as f64 / all as f64
}

/// Facts in common, and facts in both together (each counted in each).
fn overlap(gold: &[String], read: &[String]) -> (usize, usize) {
    let mut left = read.to_vec();
    let mut shared = 0;
    for fact in gold {
        if let Some(at) = left.iter().position(|other| other == fact) {
            left.swap_remove(at);
            shared += 1;
        }
    }
    (shared, gold.len() + read.len())
}

fn lesson_facts(facts: &Facts) -> Vec<String> {
    let lesson = &facts.lesson;
    let meter = lesson.meter.clone().unwrap_or_default();
    let mut out = vec![
        format!("palo {:?}", lesson.palo),
        format!("capo {:?}", lesson.capo),
        format!("beats {:?}", meter.beats),
        format!("first {:?}", meter.first),
        format!("tempo {:?}", lesson.tempo),
        format!("key {:?}", lesson.key),
        format!("repeats {:?}", facts.repeats),
    ];
    let position = |accent: &AccentFact| match accent {
        AccentFact::Count(count) => Position::count(*count),
        AccentFact::Position(at) => *at,
    };
    out.extend(
        meter
            .accents
            .iter()
            .map(|accent| format!("accent {}", position(accent))),
    );
    for chord in &facts.chords {
        out.push(format!("chord {}", chord.name));
        out.extend(chord.frets.map(|frets| format!("frets {} {frets}", chord.name)));
    }
    out.extend(
        facts
            .cautions
            .iter()
            .map(|caution| format!("caution {}", caution.about)),
    );
    out
}

fn pattern_facts(pattern: &PatternFacts) -> Vec<String> {
    let mut out = vec![
        format!("kind {} {:?}", pattern.kind, pattern.role),
        format!("name {}", pattern.name),
        format!("span {:?}", pattern.beats),
    ];
    for stroke in &pattern.strokes {
        let here = format!("{} {:?}", stroke.at, stroke.action);
        let mut fingers = stroke.fingers.clone();
        if stroke.action != Action::Rasgueado {
            fingers.sort();
        }
        let mut strings = stroke.strings.clone();
        strings.sort_unstable();
        let details = [
            (!fingers.is_empty()).then(|| format!("with {fingers:?}")),
            (!strings.is_empty()).then(|| format!("strings {strings:?}")),
            stroke.note.map(|note| format!("note {note}")),
            stroke.fret.map(|fret| format!("fret {fret}")),
            (stroke.rest_stroke == Some(true)).then(|| "rest stroke".to_owned()),
        ];
        out.extend(details.into_iter().flatten().map(|detail| format!("{here} {detail}")));
        out.push(here);
    }
    out.extend(
        pattern
            .changes
            .iter()
            .map(|change| format!("{} to {}", change.at, change.chord)),
    );
    out
}
