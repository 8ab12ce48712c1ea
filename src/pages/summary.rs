//! What stands at the head of a lesson: palo, compás, key, tempo, capo, repeats, each with where it was heard.

use serde::Serialize;

use super::compas::Compas;
use super::course::{Course, Ready};
use super::labels::{Labels, show_name};
use super::pieces::{Heard, Link, Links};
use crate::music::key::{Key, Mode, Tempo};
use crate::music::palo::{Palo, TempoUnit};
use crate::music::pitch::{NoteName, STANDARD_TUNING};
use crate::music::position::Position;

#[derive(Debug, Clone, Serialize)]
pub(super) struct Fact {
    pub name: String,
    pub value: Link,
    pub note: String,
    /// The note is what players call it, in Spanish.
    pub note_is_spanish: bool,
    pub heard: Heard,
}

pub(super) fn facts(_course: &Course, ready: &Ready, links: &Links) -> Vec<Fact> {
    let lesson = ready.lesson();
    let labels = ready.labels;
    let mut facts = Vec::new();
    let mut add = |name: &str, value: Link, note: String, heard: Heard| {
        facts.push(Fact {
            name: labels.get(name).to_owned(),
            note_is_spanish: name == "key",
            value,
            note,
            heard,
        });
    };
    if let Some(palo) = &lesson.palo {
        add(
            "palo",
            links.palo(ready, labels.language),
            String::new(),
            links.heard(ready, palo.place, true),
        );
    }
    if let Some(key) = &lesson.key {
        let toque = ready.palo.and_then(|palo| toque(palo, key.value));
        let value = Link::plain(key_words(key.value, labels));
        add(
            "key",
            value,
            toque.unwrap_or_default(),
            links.heard(ready, key.place, true),
        );
    }
    if let Some(capo) = &lesson.capo {
        let value = if capo.value == 0 {
            labels.get("capo_off").to_owned()
        } else {
            labels.fill("capo_on", &[("fret", &capo.value.to_string())])
        };
        let sounding = lesson.key.as_ref().filter(|_| capo.value > 0).map(|key| {
            let moved = Key {
                tonic: raised(key.value.tonic, capo.value),
                ..key.value
            };
            labels.fill("sounds_as", &[("key", &key_words(moved, labels))])
        });
        add(
            "capo",
            Link::plain(value),
            sounding.unwrap_or_default(),
            links.heard(ready, capo.place, true),
        );
    }
    match &lesson.tempo {
        Some(tempo) => {
            let value = tempo_words(tempo.value, per(&ready.compas), labels);
            add(
                "tempo",
                Link::plain(value),
                String::new(),
                links.heard(ready, tempo.place, true),
            );
        }
        None => {
            if let Some((value, note)) = usual_tempo(ready) {
                add("tempo", Link::plain(value), note, Heard::default());
            }
        }
    }
    if let Some(tuning) = lesson.tuning.as_ref().filter(|tuning| tuning.value != STANDARD_TUNING) {
        let value = Link::plain(tuning_words(tuning.value));
        add(
            "tuning",
            value,
            labels.get("tuning_order").to_owned(),
            links.heard(ready, tuning.place, true),
        );
    }
    if let Some(repeats) = &lesson.repeats {
        let value = Link::plain(labels.number("times", usize::try_from(repeats.value).unwrap_or(usize::MAX)));
        add("repeats", value, String::new(), links.heard(ready, repeats.place, true));
    }
    facts
}

/// The palo's own range, where the lesson says none: marked as ours.
fn usual_tempo(ready: &Ready) -> Option<(String, String)> {
    let palo = ready.palo.filter(|_| !ready.compas.free)?;
    let range = palo.tempo_counted_in(ready.compas.counts).next()?;
    let tempo = Tempo {
        low: range.low,
        high: range.high,
    };
    let per = if range.per == TempoUnit::Pulse {
        "per_pulse"
    } else {
        "per_count"
    };
    let labels = ready.labels;
    Some((tempo_words(tempo, per, labels), labels.get("usual_for_palo").to_owned()))
}

pub(super) fn per(compas: &Compas) -> &'static str {
    if compas.is_uneven() { "per_pulse" } else { "per_count" }
}

pub(super) fn tempo_words(tempo: Tempo, per: &str, labels: &Labels) -> String {
    let figure = if tempo.low == tempo.high {
        tempo.low.to_string()
    } else {
        format!("{}–{}", tempo.low, tempo.high)
    };
    labels.fill(per, &[("n", &figure)])
}

/// `A phrygian`; in Spanish `la (A) frigio`.
pub(super) fn key_words(key: Key, labels: &Labels) -> String {
    let mode = labels.get(match key.mode {
        Mode::Phrygian => "mode_phrygian",
        Mode::Major => "mode_major",
        Mode::Minor => "mode_minor",
    });
    let letter = show_name(&key.tonic.to_string());
    let tonic = match labels.language {
        "es" => format!("{} ({letter})", spanish_name(key.tonic)),
        _ => letter,
    };
    labels.fill("key_words", &[("tonic", &tonic), ("mode", mode)])
}

/// The pitch's name in the Spanish of guitarists: `si bemol`.
fn spanish_name(note: NoteName) -> String {
    let name = match note.letter {
        'C' => "do",
        'D' => "re",
        'E' => "mi",
        'F' => "fa",
        'G' => "sol",
        'A' => "la",
        _ => "si",
    };
    match note.alter {
        0 => name.to_owned(),
        alter if alter < 0 => format!("{name} bemol"),
        _ => format!("{name} sostenido"),
    }
}

/// A pitch so many semitones higher, by its commonest name (flats but for F sharp and C sharp).
pub(super) fn raised(note: NoteName, semitones: u8) -> NoteName {
    let names = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"];
    let index = usize::from((note.pitch_class() + semitones % 12) % 12);
    names.get(index).and_then(|name| NoteName::parse(name)).unwrap_or(note)
}

/// What players call the key in this palo: `por medio`.
fn toque(palo: &Palo, key: Key) -> Option<String> {
    let usual = palo
        .keys
        .iter()
        .find(|usual| usual.tonic == key.tonic && usual.mode == key.mode);
    usual.and_then(|usual| usual.toque.clone())
}

/// Open strings from the sixth to the first.
pub(super) fn tuning_words(tuning: [u8; 6]) -> String {
    let names = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];
    let name = |midi: &u8| names.get(usize::from(midi % 12)).copied().unwrap_or_default();
    tuning.iter().rev().map(name).collect::<Vec<_>>().join(" ")
}

/// The compás in words: `12 counts, from 12; accents 12 3 6 8 10`.
pub(super) fn compas_words(compas: &Compas, labels: &Labels) -> String {
    if compas.free {
        return labels.get("free_compas").to_owned();
    }
    if compas.counts == 0 {
        return String::new();
    }
    let mut words = labels.number("counts", usize::try_from(compas.counts).unwrap_or(0));
    if compas.first > 1 {
        words.push_str(", ");
        words.push_str(&labels.fill("round_from", &[("count", &compas.first.to_string())]));
    }
    if compas.is_uneven() {
        let lengths: Vec<String> = compas.lengths().iter().map(i64::to_string).collect();
        words.push_str("; ");
        words.push_str(&labels.fill("count_lengths", &[("lengths", &lengths.join(" "))]));
    }
    if !compas.accents.is_empty() {
        words.push_str("; ");
        words.push_str(&labels.fill(
            "accents_on",
            &[("accents", &accent_words(&compas.accents, compas, labels))],
        ));
        if !compas.accents_said {
            words.push_str(&format!(" ({})", labels.get("usual_for_palo")));
        }
    }
    words
}

/// Accents in the order of the round.
pub(super) fn accent_words(accents: &[Position], compas: &Compas, labels: &Labels) -> String {
    let mut ordered: Vec<Position> = accents.to_vec();
    let first = compas.first.max(1);
    ordered.sort_by_key(|at| (at.whole() < first, *at));
    let words = ordered.iter().map(|at| {
        let part = if *at.fraction().numer() == 0 {
            String::new()
        } else {
            super::drawing::part(*at, labels)
        };
        format!("{}{part}", at.whole())
    });
    words.collect::<Vec<_>>().join(" ")
}
