//! A lesson that could be played: what each count holds, and what takes the place of some of them.

use compasario::music::hand::Finger;
use compasario::music::position::Position;
use compasario::music::stroke::Action;

use crate::chance::Chance;

/// One thing that a teacher tells of one count or its half.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    Rest,
    /// A strum; with its finger where the lesson names fingers.
    Strum(Action, Option<Finger>),
    Golpe(Option<Finger>),
    /// A strum with a golpe at the same moment, the golpe's finger where it is named.
    Both(Action, Finger, Option<Finger>),
    Rasgueado(Vec<Finger>),
    Note(Finger, u8, u8),
    /// Three notes to the count: finger and string of each.
    Triplet([(Finger, u8); 3]),
}

#[derive(Debug, Clone)]
pub struct At {
    pub count: i64,
    pub half: bool,
    pub event: Event,
}

impl At {
    pub fn position(&self) -> Position {
        if self.half {
            Position::new(self.count, 1, 2)
        } else {
            Position::count(self.count)
        }
    }
}

pub struct Pattern {
    pub first: i64,
    pub last: i64,
    pub told: Vec<At>,
    /// Chord over the counts from one to another.
    pub chords: Vec<(&'static str, i64, i64)>,
}

pub struct Lesson {
    pub palo: &'static str,
    pub beats: i64,
    pub core: Pattern,
    pub variations: Vec<Pattern>,
}

const PALOS: [(&str, i64); 5] = [
    ("Tangos", 4),
    ("Rumba", 4),
    ("Tangos", 4),
    ("Soleá", 12),
    ("Alegrías", 12),
];
const CHORDS: [&str; 8] = ["A", "Bb", "Dm", "E", "F", "G", "Am", "C"];
const OPENED: [Finger; 4] = [Finger::X, Finger::A, Finger::M, Finger::I];

pub fn lesson(chance: &mut Chance) -> Lesson {
    let (palo, beats) = *chance.one_of(&PALOS);
    let fingers = chance.percent(80);
    let core = pattern(chance, 1, beats, fingers);
    let mut variations = Vec::new();
    for _ in 0..1 + chance.below(2) {
        let length = 1 + chance.below(if beats == 4 { 2 } else { 4 }) as i64;
        let first = 1 + chance.below((beats - length + 1) as usize) as i64;
        let mut varied = pattern(chance, first, first + length - 1, fingers);
        varied.chords.clear();
        variations.push(varied);
    }
    Lesson {
        palo,
        beats,
        core,
        variations,
    }
}

fn pattern(chance: &mut Chance, first: i64, last: i64, fingers: bool) -> Pattern {
    let mut told = Vec::new();
    for count in first..=last {
        let event = on_the_count(chance, fingers);
        let followed = !matches!(event, Event::Rest | Event::Triplet(_)) && chance.percent(35);
        let half = false;
        told.push(At { count, half, event });
        if followed {
            let event = behind_it(chance, fingers);
            let half = true;
            told.push(At { count, half, event });
        }
    }
    if told.iter().all(|at| at.event == Event::Rest) {
        told[0].event = Event::Golpe(None);
    }
    let chords = chords(chance, first, last);
    Pattern {
        first,
        last,
        told,
        chords,
    }
}

fn chords(chance: &mut Chance, first: i64, last: i64) -> Vec<(&'static str, i64, i64)> {
    let mut chords: Vec<(&'static str, i64, i64)> = Vec::new();
    let mut from = first;
    while from < last && chance.percent(70) {
        let to = (from + 1 + chance.below(3) as i64).min(last);
        let before = chords.last().map(|(name, ..)| *name);
        let other: Vec<&'static str> = CHORDS.into_iter().filter(|name| Some(*name) != before).collect();
        chords.push((*chance.one_of(&other), from, to));
        from = to + 1;
    }
    chords
}

fn on_the_count(chance: &mut Chance, fingers: bool) -> Event {
    let downs = [Finger::I, Finger::I, Finger::P, Finger::M];
    match chance.below(100) {
        0..12 => Event::Rest,
        12..27 => Event::Golpe((fingers && chance.percent(50)).then_some(Finger::A)),
        27..60 => strum(chance, fingers),
        60..70 if fingers => {
            let golpe = chance.percent(40).then_some(Finger::A);
            Event::Both(Action::Down, *chance.one_of(&downs), golpe)
        }
        60..70 => strum(chance, fingers),
        70..78 => Event::Rasgueado(if fingers && chance.percent(60) {
            OPENED.to_vec()
        } else {
            Vec::new()
        }),
        78..82 => {
            let bass = 4 + chance.below(3) as u8;
            Event::Triplet([(Finger::P, bass), (Finger::I, 3), (Finger::M, 2)])
        }
        _ => note(chance),
    }
}

fn strum(chance: &mut Chance, fingers: bool) -> Event {
    let (action, by) = *chance.one_of(&[
        (Action::Down, Finger::I),
        (Action::Down, Finger::P),
        (Action::Down, Finger::M),
        (Action::Up, Finger::I),
    ]);
    Event::Strum(action, fingers.then_some(by))
}

fn behind_it(chance: &mut Chance, fingers: bool) -> Event {
    match chance.below(100) {
        0..70 => Event::Strum(Action::Up, fingers.then_some(Finger::I)),
        70..80 => Event::Golpe(None),
        _ => note(chance),
    }
}

fn note(chance: &mut Chance) -> Event {
    let (finger, string) = *chance.one_of(&[
        (Finger::P, 6),
        (Finger::P, 5),
        (Finger::P, 4),
        (Finger::I, 3),
        (Finger::M, 2),
        (Finger::A, 1),
    ]);
    Event::Note(finger, string, chance.below(5) as u8)
}
