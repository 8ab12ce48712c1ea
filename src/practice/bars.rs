//! Bars: one vuelta of a version, laid out stroke by stroke as it is played after the version before it.
//!
//! A bar holds, in this order of right: what the version before runs on with; the version's own strokes; the core's
//! strokes outside the span that the version replaces. The left hand follows the chords in the same order.

use super::hands::{self, Held, LeftHand};
use super::score::{Bar, ChordMark, Event, Pulses};
use super::versions::Placed;
use super::voice::{Change, Laid, Voice};
use super::words::Words;
use crate::music::left_hand::LeftEvent;
use crate::music::lesson::Lesson;
use crate::music::pattern::Role;
use crate::music::stroke::Action;

/// What bars are laid out from.
pub struct Workshop<'a> {
    pub lessons: &'a [&'a Lesson],
    pub placed: &'a [Placed],
    /// String 1 to string 6 as MIDI numbers.
    pub tuning: [u8; 6],
    pub words: Words,
}

/// Everything that happens in a bar.
#[derive(Default)]
struct Material<'a> {
    strokes: Vec<Laid<'a>>,
    changes: Vec<Change>,
    lefts: Vec<(Pulses, &'a LeftEvent)>,
}

const ZERO: Pulses = Pulses::new_raw(0, 1);
const LEVEL_PLAIN: u8 = 60;
const LEVEL_ACCENT: u8 = 80;
const LEVEL_ASKED: u8 = 90;

impl<'a> Workshop<'a> {
    /// The bar of a version: on its own, or after a version that runs on into it. None when there is no such version.
    pub fn bar(&self, ground: usize, version: usize, after: Option<usize>) -> Option<Bar> {
        let here = self.placed.get(version)?;
        let before = after.and_then(|after| self.placed.get(after));
        let before = before.filter(|before| before.version.runs_on.is_some());
        let mut material = self.own(here);
        if let Some((before, taken)) = before.and_then(|before| Some((before, before.version.runs_on?))) {
            give_way(&mut material, self.running_on(before), taken);
        }
        let (events, hand) = self.sounded(&material, here.version.length);
        let chords = material.changes.iter().map(|change| ChordMark {
            at: change.at,
            name: change.to.name.clone(),
            shape: change.to.shape,
            because: change.to.because.clone(),
        });
        Some(Bar {
            ground,
            version,
            after: before.and(after),
            events,
            chords: last_said(chords.collect()),
            hand,
        })
    }

    /// A version by itself: its own, and its core's outside of what it replaces.
    fn own(&self, here: &'a Placed) -> Material<'a> {
        let version = &here.version;
        let own = self.all(here, version.pattern);
        let mut material = match version.core {
            Some(core) => {
                let core = self.all(here, core);
                let changes = self.chords_over_core(here, &core.changes, &own.changes);
                let outside = |at: &Pulses| *at < version.from || *at >= version.to;
                let mut material = own;
                material
                    .strokes
                    .extend(core.strokes.into_iter().filter(|laid| outside(&laid.at)));
                material
                    .lefts
                    .extend(core.lefts.into_iter().filter(|(at, _)| outside(at)));
                material.changes = changes;
                material
            }
            None => {
                let mut material = own;
                let early = material.changes.first().is_none_or(|change| change.at > ZERO);
                let last = material.changes.iter().rfind(|change| change.at < version.length);
                let around = last.filter(|_| early && version.role == Role::Core);
                let around = around.map(|last| last.carried(ZERO, self.words, "from-before"));
                material.changes.extend(around);
                material
            }
        };
        material.keep(|at| at < version.length);
        material
    }

    fn all(&self, here: &'a Placed, pattern: usize) -> Material<'a> {
        let voice = Voice::of(self.lessons, here, pattern);
        voice.map_or_else(Material::default, |voice| Material {
            strokes: voice.strokes(),
            changes: voice.changes(),
            lefts: voice.lefts(),
        })
    }

    /// The chords of a variation over its core: where the variation says none, the core's go on; after it, they return.
    fn chords_over_core(&self, here: &Placed, core: &[Change], own: &[Change]) -> Vec<Change> {
        let version = &here.version;
        let replaced = |at: Pulses| at >= version.from && at < version.to;
        let in_force = |moment: Pulses| {
            let said = core.iter().rfind(|change| change.at <= moment);
            said.map(|change| (change, "from-core"))
                .or_else(|| core.last().map(|change| (change, "from-before")))
        };
        let first_own = own.first().map(|change| change.at);
        let mut changes = Vec::new();
        for moment in [ZERO, version.from, version.to] {
            let said = core.iter().any(|change| change.at == moment && !replaced(moment));
            if let Some((change, why)) = in_force(moment).filter(|_| !said) {
                changes.push(change.carried(moment, self.words, why));
            }
        }
        for change in core {
            if !replaced(change.at) {
                changes.push(change.clone());
            } else if first_own.is_none_or(|first| change.at < first) && change.at > version.from {
                changes.push(change.carried(change.at, self.words, "from-core"));
            }
        }
        changes.extend(own.iter().cloned());
        changes
    }

    /// What a version goes on with in the vuelta after it.
    fn running_on(&self, before: &'a Placed) -> Material<'a> {
        let length = before.version.length;
        let mut material = self.all(before, before.version.pattern);
        material.keep(|at| at >= length);
        material.strokes.iter_mut().for_each(|laid| laid.at -= length);
        material.changes.iter_mut().for_each(|change| change.at -= length);
        material.lefts.iter_mut().for_each(|(at, _)| *at -= length);
        material
    }

    /// Strokes, chords and left-hand events become what sounds, and what the hand holds at the start.
    fn sounded(&self, material: &Material<'a>, end: Pulses) -> (Vec<Event>, Held) {
        let mut hand = LeftHand::new(self.tuning, self.words);
        let mut moments = material.moments();
        moments.push(ZERO);
        moments.sort_unstable();
        moments.dedup();
        let mut events = Vec::new();
        let mut at_start = None;
        for moment in moments {
            let before = hand.held;
            for change in material.changes.iter().filter(|change| change.at == moment) {
                hand.go_to(change.to.clone());
            }
            for (_, event) in material.lefts.iter().filter(|(at, _)| *at == moment) {
                hand.obey(event);
            }
            let mut now = Vec::new();
            for laid in material.strokes.iter().filter(|laid| laid.at == moment) {
                now.push(self.event(&mut hand, laid, material.until_next(laid, end)));
            }
            at_start = at_start.or(Some(hand.held));
            if hand.held != before {
                events.push(Event::hand_only(moment, hand.held));
            }
            events.extend(now);
        }
        (events, at_start.unwrap_or([None; 6]))
    }

    fn event(&self, hand: &mut LeftHand, laid: &Laid, until_next: Pulses) -> Event {
        let stroke = laid.stroke;
        let heard = hand.hear(stroke);
        let said = stroke.length.map(|length| length * laid.count).or(laid.arrival);
        let length = if hands::takes_no_time(stroke.action) {
            ZERO
        } else {
            said.filter(|length| *length > ZERO).unwrap_or(until_next)
        };
        let level = match (stroke.accent, laid.accent) {
            _ if stroke.action == Action::Rest => 0,
            (true, _) => LEVEL_ASKED,
            (false, true) => LEVEL_ACCENT,
            (false, false) => LEVEL_PLAIN,
        };
        Event {
            length,
            fingers: stroke.fingers.clone(),
            strikes: hands::strikes(stroke, length, laid.count, laid.arrival),
            worked_out: heard.worked_out.or_else(|| self.undivided(stroke.action)),
            sounds: heard.sounds,
            level,
            accent: stroke.accent || laid.accent,
            rest_stroke: stroke.rest_stroke,
            open: heard.open,
            drawn: Some(laid.drawn),
            ..Event::new(laid.at, hands::kind(stroke.action))
        }
    }

    fn undivided(&self, action: Action) -> Option<String> {
        let key = match action {
            Action::Rasgueado => "rasgueado-even",
            Action::Alzapua | Action::Tremolo => "one-stroke",
            _ => return None,
        };
        Some(self.words.say(key, &[]))
    }
}

impl Material<'_> {
    fn keep(&mut self, inside: impl Fn(Pulses) -> bool) {
        self.strokes.retain(|laid| inside(laid.at));
        self.changes.retain(|change| inside(change.at));
        self.lefts.retain(|(at, _)| inside(*at));
        self.sort();
    }

    /// Stable: at one moment what was put in first stays first.
    fn sort(&mut self) {
        self.strokes
            .sort_by_key(|laid| (laid.at, laid.stroke.action == Action::Golpe));
        self.changes.sort_by_key(|change| change.at);
        self.lefts.sort_by_key(|(at, _)| *at);
    }

    fn moments(&self) -> Vec<Pulses> {
        let strokes = self.strokes.iter().map(|laid| laid.at);
        let changes = self.changes.iter().map(|change| change.at);
        strokes
            .chain(changes)
            .chain(self.lefts.iter().map(|(at, _)| *at))
            .collect()
    }

    /// Pulses from a stroke to the next that takes time, or to the bar's end.
    fn until_next(&self, laid: &Laid, end: Pulses) -> Pulses {
        let later = |other: &&Laid| other.at > laid.at && other.stroke.action != Action::Golpe;
        let next = self.strokes.iter().find(later).map_or(end, |other| other.at);
        next - laid.at
    }
}

/// Of several chords at one moment the last holds, and the same chord again is no change.
fn last_said(chords: Vec<ChordMark>) -> Vec<ChordMark> {
    let mut marks: Vec<ChordMark> = Vec::new();
    for chord in chords {
        if marks.last().is_some_and(|last| last.at == chord.at) {
            marks.pop();
        }
        if marks
            .last()
            .is_none_or(|last| (&last.name, last.shape) != (&chord.name, chord.shape))
        {
            marks.push(chord);
        }
    }
    marks
}

/// The vuelta gives up its first counts to what runs on into it.
fn give_way<'a>(material: &mut Material<'a>, running_on: Material<'a>, taken: Pulses) {
    material.strokes.retain(|laid| laid.at >= taken);
    material.lefts.retain(|(at, _)| *at >= taken);
    if !running_on.changes.is_empty() {
        // What the hand comes back to is the chord in force here once the run is over.
        let here = material.changes.iter().rfind(|change| change.at <= taken).cloned();
        material.changes.retain(|change| change.at >= taken);
        let next = material.strokes.first().map(|laid| laid.at);
        let back = here
            .zip(next)
            .filter(|(_, next)| material.changes.iter().all(|change| change.at > *next));
        material
            .changes
            .extend(back.map(|(here, next)| Change { at: next, ..here }));
    }
    material.strokes.extend(running_on.strokes);
    material.changes.extend(running_on.changes);
    material.lefts.extend(running_on.lefts);
    material.sort();
}

#[cfg(test)]
mod tests;
