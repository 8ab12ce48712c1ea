use num_rational::Ratio;

use super::choice::Hands;
use super::strings::Touch;
use crate::music::hand::{Finger, Fret, GuitarString};
use crate::practice::score::{Event, Kind, Pulses, Sound, Strike};

/// What one string does for an event.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringTouch {
    /// Seconds after the event's moment.
    pub after: f64,
    pub string: GuitarString,
    pub fret: Fret,
    /// MIDI number without capo.
    pub pitch: u8,
    pub touch: Touch,
    /// 1 is the loudness of a plain tone.
    pub level: f64,
}

/// Seconds from one string to the next in a sweep. Ours: a whole chord down takes 25 ms, up 20 ms.
const GAP_DOWN: f64 = 0.005;
const GAP_UP: f64 = 0.004;
const GAP_THUMB: f64 = 0.009;
const GAP_RASGUEADO: f64 = 0.003;

/// The level of an event that sounds with the loudness of a plain tone.
pub(super) const PLAIN_LEVEL: f64 = 80.0;

/// Everything that the strings do for one event.
///
/// A strum: the first string that the finger meets stands on the written moment, the others follow string by string.
/// It never takes more than half of the time that the stroke has. A rasgueado is one such sweep a finger.
/// Strings plucked together sound together.
pub fn touches(event: &Event, seconds_per_pulse: f64, hands: Hands) -> Vec<StringTouch> {
    if hands == Hands::Left && !slurred(event.kind) {
        return Vec::new();
    }
    let touch = touch_of(event, hands);
    let sweeps = sweeps_of(event);
    let step = gap(event, seconds_per_pulse, sweeps.len());
    let mut found = Vec::new();
    for (index, sweep) in sweeps.iter().enumerate() {
        let turned = sweeps.first().is_some_and(|first| first.up != sweep.up);
        let mut order: Vec<&Sound> = event.sounds.iter().collect();
        if turned {
            order.reverse();
        }
        let weight = if index + 1 == sweeps.len() { 1.0 } else { 0.75 };
        let level = f64::from(event.level) / PLAIN_LEVEL * weight * share(order.len());
        found.extend(order.iter().enumerate().map(|(place, sound)| StringTouch {
            after: number(sweep.after) * seconds_per_pulse + place as f64 * step,
            string: sound.string,
            fret: sound.fret,
            pitch: sound.pitch,
            touch,
            level,
        }));
    }
    found
}

/// The left hand alone: what it puts down is heard as it lands.
pub(super) fn landings(before: &[Option<Fret>; 6], hand: &[Option<Fret>; 6], tuning: &[u8; 6]) -> Vec<StringTouch> {
    let rows = (1..=6).zip(before).zip(hand).zip(tuning);
    let landed: Vec<(u8, Fret, u8)> = rows
        .filter_map(|(((string, before), hand), open)| {
            let fret = hand.filter(|fret| *fret > 0 && *before != Some(*fret))?;
            Some((string, fret, open.saturating_add(fret)))
        })
        .collect();
    let level = 0.8 * share(landed.len());
    let deepest_first = landed.into_iter().rev();
    let touch = |(string, fret, pitch)| StringTouch {
        after: 0.0,
        string,
        fret,
        pitch,
        touch: Touch::Slur,
        level,
    };
    deepest_first.map(touch).collect()
}

/// Does what the hand holds stop a string that sounds at `fret`? An open string only where it becomes fretted.
pub fn stops(hand: &[Option<Fret>; 6], string: GuitarString, fret: Fret) -> bool {
    let row = usize::from(string.clamp(1, 6) - 1);
    let held = hand.get(row).copied().flatten();
    if fret == 0 {
        held.is_some_and(|held| held > 0)
    } else {
        held != Some(fret)
    }
}

/// Pulses as a plain number.
pub fn number(pulses: Ratio<i64>) -> f64 {
    *pulses.numer() as f64 / *pulses.denom() as f64
}

fn swept(kind: Kind) -> bool {
    matches!(kind, Kind::Down | Kind::Up | Kind::Rasgueado)
}

fn slurred(kind: Kind) -> bool {
    matches!(kind, Kind::PullOff | Kind::HammerOn)
}

/// Does the thumb alone play it?
fn by_thumb(event: &Event) -> bool {
    !event.strikes.is_empty() && event.strikes.iter().all(|strike| strike.finger == Some(Finger::P))
}

fn touch_of(event: &Event, hands: Hands) -> Touch {
    if hands == Hands::Right {
        Touch::Damped
    } else if slurred(event.kind) {
        Touch::Slur
    } else if event.rest_stroke == Some(true) {
        Touch::Rest
    } else if by_thumb(event) {
        Touch::Thumb
    } else if swept(event.kind) {
        Touch::Strum
    } else {
        Touch::Free
    }
}

/// Seconds from string to string.
fn gap(event: &Event, seconds_per_pulse: f64, sweeps: usize) -> f64 {
    let strings = event.sounds.len();
    let time = number(event.length) * seconds_per_pulse;
    if strings < 2 {
        return 0.0;
    }
    if event.kind == Kind::Roll {
        return time / strings as f64;
    }
    let thumb = by_thumb(event);
    let wanted = match event.kind {
        _ if thumb && (swept(event.kind) || event.strikes.len() == 1) => GAP_THUMB,
        Kind::Down => GAP_DOWN,
        Kind::Up => GAP_UP,
        Kind::Rasgueado => GAP_RASGUEADO,
        _ => return 0.0,
    };
    if time > 0.0 {
        wanted.min(time * 0.5 / sweeps as f64 / (strings - 1) as f64)
    } else {
        wanted
    }
}

/// The moments at which the hand goes over the strings; strings plucked together are one.
fn sweeps_of(event: &Event) -> Vec<Strike> {
    let mut sweeps: Vec<Strike> = Vec::new();
    for strike in &event.strikes {
        if !sweeps.iter().any(|one| one.after == strike.after) {
            sweeps.push(*strike);
        }
    }
    if sweeps.is_empty() {
        sweeps.push(Strike {
            after: Pulses::from_integer(0),
            finger: None,
            up: event.kind == Kind::Up,
        });
    }
    sweeps
}

/// Loudness of one string among several that sound together.
fn share(strings: usize) -> f64 {
    (strings.max(1) as f64).powf(-0.35)
}
