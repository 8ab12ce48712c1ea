//! From a stroke as told to the strings that sound: what the left hand holds, what the right hand strikes.
//!
//! Only what the lesson gives or plainly settles becomes a sound. A strum sounds the strings of the chord's shape; a
//! note on a named string has one fret within an octave. All else stays open: no sound, and the reason.

use super::score::{Kind, Pulses, Sound, Strike};
use super::words::Words;
use crate::music::chord::{ChordName, ChordShape};
use crate::music::hand::{Finger, Fret, GuitarString};
use crate::music::left_hand::{LeftAction, LeftEvent};
use crate::music::pitch::NoteName;
use crate::music::stroke::{Action, Stroke};

/// String 1 to string 6; None where nothing is known to be held.
pub type Held = [Option<Fret>; 6];

/// The left hand as it goes through a bar.
#[derive(Debug, Clone)]
pub struct LeftHand {
    tuning: [u8; 6],
    words: Words,
    /// The chord in force.
    chord: Option<InForce>,
    pub held: Held,
    /// Strings whose finger stays down past what would lift it.
    kept: [bool; 6],
    /// The hand has left the chord's shape to play single notes.
    away: bool,
    /// String of the single note before.
    last: Option<GuitarString>,
}

/// A chord that the left hand is at.
#[derive(Debug, Clone, PartialEq)]
pub struct InForce {
    pub name: ChordName,
    /// None where the notes give none.
    pub shape: Option<ChordShape>,
    /// Why it is in force, when it was not said at its moment.
    pub because: Option<String>,
}

/// What a stroke sounds like.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heard {
    pub sounds: Vec<Sound>,
    pub open: Option<String>,
    pub worked_out: Option<String>,
}

impl LeftHand {
    pub fn new(tuning: [u8; 6], words: Words) -> Self {
        Self {
            tuning,
            words,
            chord: None,
            held: [None; 6],
            kept: [false; 6],
            away: false,
            last: None,
        }
    }

    /// The hand goes to a chord; to nothing known where the chord has no shape.
    pub fn go_to(&mut self, chord: InForce) {
        self.chord = Some(chord);
        self.kept = [false; 6];
        self.take_shape();
    }

    fn take_shape(&mut self) {
        self.away = false;
        let shape = self.shape();
        for (index, held) in self.held.iter_mut().enumerate() {
            *held = shape.and_then(|shape| shape.fret(index as GuitarString + 1));
        }
    }

    fn shape(&self) -> Option<ChordShape> {
        self.chord.as_ref().and_then(|chord| chord.shape)
    }

    /// One thing that the left hand was told to do.
    pub fn obey(&mut self, event: &LeftEvent) {
        let Some(string) = event.string else {
            if event.action == LeftAction::Lift && event.finger.is_none() {
                self.held = [None; 6];
                self.away = true;
            }
            return;
        };
        match (event.action, event.fret) {
            (LeftAction::Put | LeftAction::Slide, Some(fret)) => self.put(string, fret),
            (LeftAction::Put | LeftAction::Slide, None) => {}
            (LeftAction::Lift, _) => self.put(string, 0),
            (LeftAction::Keep, _) => {
                if let Some(kept) = at_string(&mut self.kept, string) {
                    *kept = true;
                }
            }
        }
    }

    fn put(&mut self, string: GuitarString, fret: Fret) {
        if let Some(held) = at_string(&mut self.held, string) {
            *held = Some(fret);
        }
    }

    /// The hand plays a single note: where that is not part of the shape, the shape is left, but for fingers kept down.
    fn finger(&mut self, string: GuitarString, fret: Fret) {
        let in_hand = at_string(&mut self.held, string).is_some_and(|held| *held == Some(fret));
        if !in_hand {
            if fret > 0 {
                for (held, kept) in self.held.iter_mut().zip(&self.kept) {
                    if held.is_some_and(|held| held > 0) && !kept {
                        *held = None;
                    }
                }
            }
            self.put(string, fret);
            self.away = true;
        }
        self.last = Some(string);
    }

    /// What a stroke sounds like, the hand moved to play it.
    pub fn hear(&mut self, stroke: &Stroke) -> Heard {
        match stroke.action {
            Action::Golpe | Action::Damp | Action::Rest => Heard::default(),
            Action::Down | Action::Up | Action::Rasgueado | Action::Alzapua if !single(stroke) => self.strum(stroke),
            _ if stroke.note.is_some() || stroke.fret.is_some() => self.note(stroke),
            _ => self.strum(stroke),
        }
    }

    /// Several strings, or one with nothing said of its fret: as the chord has them.
    fn strum(&mut self, stroke: &Stroke) -> Heard {
        let Some(chord) = self.chord.clone() else {
            return self.open("no-chord", &[]);
        };
        let name = chord.name.to_string();
        if chord.shape.is_none() {
            self.held = [None; 6];
            return self.open("no-shape", &[("chord", &name)]);
        }
        if self.away {
            self.take_shape();
        }
        let said = |string: &GuitarString| stroke.strings.is_empty() || stroke.strings.contains(string);
        let strings = (1..=6).rev().filter(said);
        let sounds: Vec<Sound> = strings
            .filter_map(|string| self.sound(string, self.fret_held(string)?))
            .collect();
        if sounds.is_empty() {
            return self.open("no-string", &[]);
        }
        if let [only] = sounds.as_slice() {
            self.last = Some(only.string);
        }
        let from_shape = self.words.say("from-shape", &[("chord", &name)]);
        Heard {
            sounds: in_stroke_order(sounds, stroke.action),
            open: None,
            worked_out: chord.because.or(Some(from_shape)),
        }
    }

    /// A single note, by its name or its fret.
    fn note(&mut self, stroke: &Stroke) -> Heard {
        let (string, how) = match (stroke.strings.as_slice(), stroke.note) {
            ([string], _) => (*string, None),
            ([], Some(note)) => match self.string_of(stroke, note) {
                Some((string, how)) => (string, Some(how)),
                None => return self.open("no-string", &[]),
            },
            _ => return self.open("no-string", &[]),
        };
        let fret = stroke.fret.or_else(|| self.fret_of(string, stroke.note?));
        let Some(fret) = fret else {
            let note = stroke.note.map(|note| note.to_string()).unwrap_or_default();
            return self.open("no-fret", &[("note", &note), ("string", &string.to_string())]);
        };
        self.finger(string, fret);
        let how = how.or_else(|| stroke.fret.is_none().then(|| self.words.say("from-note", &[])));
        match self.sound(string, fret) {
            Some(sound) => Heard {
                sounds: vec![sound],
                open: None,
                worked_out: how,
            },
            None => self.open("no-string", &[]),
        }
    }

    /// For a note with no string said: a ligado stays on the string before it, a pluck takes the one string of the
    /// shape that has the note.
    fn string_of(&self, stroke: &Stroke, note: NoteName) -> Option<(GuitarString, String)> {
        if matches!(stroke.action, Action::PullOff | Action::HammerOn) {
            return self
                .last
                .map(|string| (string, self.words.say("string-from-before", &[])));
        }
        let shape = self.shape()?;
        let name = self.chord.as_ref()?.name.to_string();
        let has = |string: &GuitarString| {
            let pitch = shape.fret(*string).and_then(|fret| self.pitch(*string, fret));
            pitch.is_some_and(|pitch| pitch % 12 == note.pitch_class())
        };
        let mut strings = (1..=6).filter(has);
        let only = strings.next()?;
        let how = self.words.say("string-from-shape", &[("chord", &name)]);
        strings.next().is_none().then_some((only, how))
    }

    /// The fret of a note on a string: as the hand holds it, else the lowest within twelve.
    fn fret_of(&self, string: GuitarString, note: NoteName) -> Option<Fret> {
        let sounds_so = |fret: &Fret| {
            self.pitch(string, *fret)
                .is_some_and(|pitch| pitch % 12 == note.pitch_class())
        };
        self.fret_held(string)
            .filter(|fret| sounds_so(fret))
            .or_else(|| (0..12).find(sounds_so))
    }

    fn fret_held(&self, string: GuitarString) -> Option<Fret> {
        self.held.get(usize::from(string.checked_sub(1)?)).copied().flatten()
    }

    fn pitch(&self, string: GuitarString, fret: Fret) -> Option<u8> {
        let open = self.tuning.get(usize::from(string.checked_sub(1)?))?;
        open.checked_add(fret).filter(|pitch| *pitch < 128)
    }

    fn sound(&self, string: GuitarString, fret: Fret) -> Option<Sound> {
        let pitch = self.pitch(string, fret)?;
        Some(Sound { string, fret, pitch })
    }

    fn open(&self, key: &str, holes: &[(&str, &str)]) -> Heard {
        Heard {
            open: Some(self.words.say(key, holes)),
            ..Heard::default()
        }
    }
}

fn at_string<T>(strings: &mut [T; 6], string: GuitarString) -> Option<&mut T> {
    strings.get_mut(usize::from(string.checked_sub(1)?))
}

/// One string, with its note or fret said: a note, whatever the stroke is called.
fn single(stroke: &Stroke) -> bool {
    stroke.strings.len() == 1 && (stroke.note.is_some() || stroke.fret.is_some())
}

/// Given low to high: a stroke towards the ceiling meets the high strings first.
fn in_stroke_order(mut sounds: Vec<Sound>, action: Action) -> Vec<Sound> {
    if action == Action::Up {
        sounds.reverse();
    }
    sounds
}

/// The score's word for an action.
pub fn kind(action: Action) -> Kind {
    match action {
        Action::Down => Kind::Down,
        Action::Up => Kind::Up,
        Action::Golpe => Kind::Golpe,
        Action::Pluck => Kind::Pluck,
        Action::Rasgueado => Kind::Rasgueado,
        Action::Roll => Kind::Roll,
        Action::PullOff => Kind::PullOff,
        Action::HammerOn => Kind::HammerOn,
        Action::Damp => Kind::Damp,
        Action::Tremolo => Kind::Tremolo,
        Action::Picado => Kind::Picado,
        Action::Alzapua => Kind::Alzapua,
        Action::Rest => Kind::Rest,
    }
}

/// True for what takes no time of its own: it goes with a stroke, or ends one.
pub fn takes_no_time(action: Action) -> bool {
    matches!(action, Action::Golpe | Action::Damp)
}

/// The passings of the hand over the strings: one, but for a rasgueado, whose fingers follow one another.
///
/// `fill` is the time that the stroke fills; `count` the length of its count: a rasgueado whose arrival is not said
/// takes no longer than a count.
pub fn strikes(stroke: &Stroke, fill: Pulses, count: Pulses, arrival: Option<Pulses>) -> Vec<Strike> {
    let zero = Pulses::from_integer(0);
    let one = |finger: Option<Finger>, after: Pulses| Strike {
        after,
        finger,
        up: stroke.action == Action::Up,
    };
    match stroke.action {
        Action::Golpe | Action::Damp | Action::Rest => Vec::new(),
        Action::Rasgueado => {
            let fingers = stroke.fingers.len().max(1) as i64;
            let step = match arrival {
                Some(arrival) if fingers > 1 && arrival > zero => arrival / Pulses::from_integer(fingers - 1),
                _ => fill.min(count) / Pulses::from_integer(fingers),
            };
            let fingers = stroke
                .fingers
                .iter()
                .copied()
                .map(Some)
                .chain(stroke.fingers.is_empty().then_some(None));
            let after = |(index, finger)| one(finger, step * Pulses::from_integer(index as i64));
            fingers.enumerate().map(after).collect()
        }
        _ => match stroke.fingers.as_slice() {
            [only] => vec![one(Some(*only), zero)],
            _ => vec![one(None, zero)],
        },
    }
}
