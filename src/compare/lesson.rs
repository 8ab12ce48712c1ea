//! What holds for a whole lesson: compás, tempo, key, chords, cautions, what it needs.

use similar::TextDiff;

use super::words::Words;
use super::{Difference, Kind};
use crate::music::chord::{Chord, Fingered};
use crate::music::key::{Key, Mode, Tempo};
use crate::music::lesson::{Caution, Lesson, Said};
use crate::music::position::Position;

pub(super) fn differences(old: &Lesson, new: &Lesson, words: Words) -> Vec<Difference> {
    let mut found = Vec::new();
    let mut add = |kind: Kind, words: Option<String>| {
        found.extend(words.map(|words| Difference::of_lesson(kind, words)));
    };
    let plain = |value: &String| value.clone();
    let number = |value: &i64| value.to_string();
    let turned = |key, was: Option<String>, is: Option<String>| turned(words, key, was, is);
    let (was, is) = (&old.meter, &new.meter);
    add(
        Kind::Compas,
        turned("lesson-palo", said(&old.palo, plain), said(&new.palo, plain)),
    );
    add(
        Kind::Compas,
        turned("lesson-beats", said(&was.beats, number), said(&is.beats, number)),
    );
    add(
        Kind::Compas,
        turned("lesson-first", said(&was.first, number), said(&is.first, number)),
    );
    add(
        Kind::Compas,
        turned(
            "lesson-lengths",
            said(&was.lengths, |all| counts(all)),
            said(&is.lengths, |all| counts(all)),
        ),
    );
    add(
        Kind::Compas,
        turned("lesson-accents", accents(&was.accents), accents(&is.accents)),
    );
    add(Kind::Tempo, tempo(old, new, words));
    let key = |value: &Key| key(*value, words);
    add(
        Kind::Key,
        turned("lesson-key", said(&old.key, key), said(&new.key, key)),
    );
    let capo = |value: &u8| match value {
        0 => words.plain("capo-none"),
        fret => words.say("capo-at", &[("fret", &fret.to_string())]),
    };
    add(
        Kind::Key,
        turned("lesson-capo", said(&old.capo, capo), said(&new.capo, capo)),
    );
    let tuning = |value: &[u8; 6]| value.iter().rev().map(u8::to_string).collect::<Vec<_>>().join(" ");
    add(
        Kind::Key,
        turned("lesson-tuning", said(&old.tuning, tuning), said(&new.tuning, tuning)),
    );
    let times = |value: &u32| value.to_string();
    add(
        Kind::Repeats,
        turned("lesson-repeats", said(&old.repeats, times), said(&new.repeats, times)),
    );
    found.extend(chords(old, new, words));
    found.extend(cautions(old, new, words));
    found
}

fn said<T>(said: &Option<Said<T>>, show: impl Fn(&T) -> String) -> Option<String> {
    said.as_ref().map(|said| show(&said.value))
}

fn turned(words: Words, key: &str, was: Option<String>, is: Option<String>) -> Option<String> {
    if was == is {
        return None;
    }
    let shown = |value: Option<String>| value.unwrap_or_else(|| words.plain("not-said"));
    Some(words.turn(key, &shown(was), &shown(is)))
}

fn counts(values: &[i64]) -> String {
    values.iter().map(i64::to_string).collect::<Vec<_>>().join(" ")
}

/// As a set: in which order accents were said makes no difference.
fn accents(accents: &[Said<Position>]) -> Option<String> {
    let mut at: Vec<Position> = accents.iter().map(|said| said.value).collect();
    at.sort();
    at.dedup();
    let shown: Vec<String> = at.iter().map(Position::to_string).collect();
    Some(shown.join(" ")).filter(|shown| !shown.is_empty())
}

/// One figure is the goal; two are a range.
fn tempo(old: &Lesson, new: &Lesson, words: Words) -> Option<String> {
    let one = |lesson: &Lesson| {
        lesson
            .tempo
            .as_ref()
            .is_none_or(|tempo| tempo.value.low == tempo.value.high)
    };
    let key = if one(old) && one(new) {
        "lesson-goal"
    } else {
        "lesson-tempo"
    };
    let show = |tempo: &Tempo| {
        if tempo.low == tempo.high {
            tempo.high.to_string()
        } else {
            format!("{}-{}", tempo.low, tempo.high)
        }
    };
    turned(words, key, said(&old.tempo, show), said(&new.tempo, show))
}

fn key(key: Key, words: Words) -> String {
    let mode = match key.mode {
        Mode::Phrygian => "mode-phrygian",
        Mode::Major => "mode-major",
        Mode::Minor => "mode-minor",
    };
    words.say(mode, &[("tonic", &words.note(key.tonic))])
}

/// Chords by name. One that is only named has nothing to differ in: where it is played is in the patterns.
fn chords(old: &Lesson, new: &Lesson, words: Words) -> Vec<Difference> {
    let mut found = Vec::new();
    let mut add = |words: String| found.push(Difference::of_lesson(Kind::Chord, words));
    let named = |lesson: &Lesson, chord: &Chord| crate::music::held::chord_named(lesson, &chord.name).cloned();
    let mut seen = Vec::new();
    for chord in &new.chords {
        if seen.contains(&&chord.name) {
            continue;
        }
        seen.push(&chord.name);
        let name = words.chord(&chord.name);
        let Some(is) = named(new, chord) else { continue };
        let Some(was) = named(old, chord) else {
            let shape = is.shape.map(|shape| format!(" ({shape})")).unwrap_or_default();
            add(words.say("chord-new", &[("chord", &format!("{name}{shape}"))]));
            continue;
        };
        let holes = |was: &str, is: &str, key: &str| words.say(key, &[("chord", &name), ("was", was), ("is", is)]);
        match (was.shape, is.shape) {
            (Some(was), Some(is)) if was != is => add(holes(&was.to_string(), &is.to_string(), "chord-shape")),
            (None, Some(is)) => add(holes("", &is.to_string(), "chord-shape-new")),
            (Some(was), None) => add(holes(&was.to_string(), "", "chord-shape-gone")),
            (Some(_), Some(_)) | (None, None) => {}
        }
        let (was, is) = (fingering(&was.fingers, words), fingering(&is.fingers, words));
        if was != is {
            add(holes(&was, &is, "chord-fingers"));
        }
    }
    let gone = old.chords.iter().enumerate().filter(|(index, chord)| {
        let first = old.chords.iter().position(|other| other.name == chord.name);
        first == Some(*index) && !new.chords.iter().any(|other| other.name == chord.name)
    });
    for (_, chord) in gone {
        add(words.say("chord-gone", &[("chord", &words.chord(&chord.name))]));
    }
    found
}

/// `1 on string 2, fret 1`, from the sixth string to the first.
fn fingering(fingers: &[Fingered], words: Words) -> String {
    let mut fingers = fingers.to_vec();
    fingers.sort_by_key(|fingered| {
        (
            std::cmp::Reverse(fingered.string.max(fingered.to_string)),
            fingered.finger,
        )
    });
    let shown = fingers.iter().map(|fingered| {
        let strings = if fingered.string == fingered.to_string {
            fingered.string.to_string()
        } else {
            format!("{}-{}", fingered.string, fingered.to_string)
        };
        format!("{} s{strings} f{}", fingered.finger, fingered.fret)
    });
    let shown = shown.collect::<Vec<_>>().join(", ");
    if shown.is_empty() {
        words.plain("not-said")
    } else {
        shown
    }
}

/// A caution in other words is the same caution when it is about the same counts, or half of its words stayed.
fn cautions(old: &Lesson, new: &Lesson, words: Words) -> Vec<Difference> {
    let mut left: Vec<&Caution> = old.cautions.iter().collect();
    let mut fresh = Vec::new();
    let mut waiting: Vec<&Caution> = new.cautions.iter().collect();
    for at_least in [1.0, LIKE, COUNTS] {
        waiting.retain(|caution| {
            let best = left
                .iter()
                .enumerate()
                .map(|(index, other)| (index, alike(other, caution)));
            let best = best
                .filter(|(_, like)| *like >= at_least)
                .max_by(|one, two| one.1.total_cmp(&two.1));
            best.map(|(index, _)| left.remove(index)).is_none()
        });
    }
    fresh.extend(waiting);
    let difference = |key: &str, caution: &Caution| {
        Difference::of_lesson(
            Kind::Caution,
            words.say(key, &[("text", caution.about.trim_start_matches(['!', '¡', ' ']))]),
        )
    };
    let fresh = fresh.into_iter().map(|caution| difference("caution-new", caution));
    let gone = left.iter().map(|caution| difference("caution-gone", caution));
    fresh.chain(gone).collect()
}

/// Half of the words stayed.
const LIKE: f32 = 0.5;
/// The same counts are named.
const COUNTS: f32 = 0.3;

fn alike(one: &Caution, two: &Caution) -> f32 {
    let clean = |caution: &Caution| caution.about.split_whitespace().collect::<Vec<_>>().join(" ");
    let (first, second) = (clean(one), clean(two));
    let ratio = TextDiff::from_words(first.as_str(), second.as_str()).ratio();
    if !one.counts.is_empty() && one.counts == two.counts {
        ratio.max(COUNTS)
    } else {
        ratio
    }
}

/// Lessons to know first.
pub(super) fn needs(old: &Lesson, new: &Lesson, words: Words) -> Vec<String> {
    let has = |lesson: &Lesson, id: &str| lesson.needs.iter().any(|need| need.value == id);
    let difference = |key: &str, id: &str| words.say(key, &[("lesson", id)]);
    let fresh = new.needs.iter().filter(|need| !has(old, &need.value));
    let gone = old.needs.iter().filter(|need| !has(new, &need.value));
    let fresh = fresh.map(|need| difference("need-new", &need.value));
    fresh
        .chain(gone.map(|need| difference("need-gone", &need.value)))
        .collect()
}
