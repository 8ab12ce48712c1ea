//! A bar as a row of moments: what is struck at each, and how long it is until the next.

use std::collections::BTreeSet;

use super::lengths::Quarters;
use crate::exports::bars::Measure;
use crate::practice::score::{Event, Kind, Pulses, Score, Sound};

/// Everything at one moment of a bar.
#[derive(Debug)]
pub(super) struct Moment<'a> {
    pub from: Quarters,
    pub to: Quarters,
    /// With their places in the score.
    pub strokes: Vec<(usize, &'a Event)>,
    pub golpe: bool,
}

/// What is written for a moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Written {
    Rest,
    /// A stroke of which the notes do not say what sounds.
    Open,
    Golpe,
    /// From the lowest string; each with the place of its event in the score.
    Notes(Vec<(usize, Sound)>),
}

/// The moments of a bar, with no gap between them; the bar's first is there even when nothing is struck.
pub(super) fn moments<'a>(score: &'a Score, measure: &Measure, pulses_in_quarter: i64) -> Vec<Moment<'a>> {
    let inside: Vec<(usize, &Event)> = score
        .events
        .iter()
        .enumerate()
        .filter(|(_, event)| event.kind != Kind::Hand && event.at >= measure.from && event.at < measure.to)
        .collect();
    let mut starts: Vec<Pulses> = inside.iter().map(|(_, event)| event.at).chain([measure.from]).collect();
    starts.sort_unstable();
    starts.dedup();
    let ends = starts.iter().skip(1).copied().chain([measure.to]);
    let quarters = |at: Pulses| (at - measure.from) / Pulses::from_integer(pulses_in_quarter);
    let moment = |(from, to): (&Pulses, Pulses)| {
        let here = || inside.iter().filter(|(_, event)| event.at == *from);
        Moment {
            from: quarters(*from),
            to: quarters(to),
            strokes: here().filter(|(_, event)| event.kind != Kind::Golpe).copied().collect(),
            golpe: here().any(|(_, event)| event.kind == Kind::Golpe),
        }
    };
    starts.iter().zip(ends).map(moment).collect()
}

impl Moment<'_> {
    pub fn written(&self) -> Written {
        let mut notes: Vec<(usize, Sound)> = Vec::new();
        for (place, event) in &self.strokes {
            for sound in &event.sounds {
                if !notes.iter().any(|(_, known)| known.string == sound.string) {
                    notes.push((*place, *sound));
                }
            }
        }
        notes.sort_by_key(|(_, sound)| std::cmp::Reverse(sound.string));
        let silent = |kind: Kind| matches!(kind, Kind::Rest | Kind::Damp);
        if !notes.is_empty() {
            Written::Notes(notes)
        } else if self.strokes.iter().any(|(_, event)| !silent(event.kind)) {
            Written::Open
        } else if self.golpe {
            Written::Golpe
        } else {
            Written::Rest
        }
    }
}

/// A ligado: the string, the event it is struck from, the event that it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Ligado {
    pub string: u8,
    pub from: usize,
    pub to: usize,
    pub pulled: bool,
}

/// Every hammer-on and pull-off that has a note on its string to begin from.
pub(super) fn ligados(score: &Score) -> BTreeSet<Ligado> {
    let mut found = BTreeSet::new();
    for (to, event) in score.events.iter().enumerate() {
        let pulled = event.kind == Kind::PullOff;
        if !pulled && event.kind != Kind::HammerOn {
            continue;
        }
        for sound in &event.sounds {
            let before = score.events.iter().take(to);
            let from = before
                .enumerate()
                .filter(|(_, other)| other.at < event.at && other.sounds.iter().any(|one| one.string == sound.string))
                .map(|(from, _)| from)
                .next_back();
            found.extend(from.map(|from| Ligado {
                string: sound.string,
                from,
                to,
                pulled,
            }));
        }
    }
    found
}
