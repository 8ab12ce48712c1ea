//! What the left hand holds over time, and where what it holds stands in the way of what comes.
//!
//! Only what the lesson says is held. A chord's shape and fingers count from its change until the next one; a finger
//! put down until a chord comes, the finger is needed elsewhere, or it is lifted; a finger that is *kept* until it is
//! lifted, or until a chord comes that has it in the same place. What a teacher leaves open (when a finger of a run
//! leaves its note) is never held against anybody.

use super::chord::{Chord, ChordName};
use super::fretboard::Guitar;
use super::hand::{Fret, GuitarString, LeftFinger};
use super::left_hand::{LeftAction, LeftEvent};
use super::lesson::Lesson;
use super::round::Pulses;
use super::stroke::{Action, Stroke};
use super::version::{Happening, Timed};
use crate::text::Place;

/// Why a string is stopped.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    Chord(ChordName),
    /// A finger said to go down there.
    Put,
    /// A single note.
    Note,
}

/// One finger on the strings.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hold {
    /// The lower-numbered string of a barre.
    pub string: GuitarString,
    /// The same as `string`, but for a barre.
    pub to_string: GuitarString,
    pub fret: Fret,
    pub finger: Option<LeftFinger>,
    pub by: By,
    /// Said to stay past what would end it.
    pub kept: bool,
    /// When it came down.
    pub since: Pulses,
    pub place: Place,
}

impl Hold {
    /// A fingertip on one string, its finger not said.
    fn new(string: GuitarString, fret: Fret, by: By, since: Pulses, place: Place) -> Self {
        let (to_string, finger, kept) = (string, None, false);
        Self {
            string,
            to_string,
            fret,
            finger,
            by,
            kept,
            since,
            place,
        }
    }

    /// True when the finger stops this string.
    pub fn is_on(&self, string: GuitarString) -> bool {
        (self.string..=self.to_string).contains(&string)
    }
}

/// A place that the next thing played has need of; fret 0 is the open string.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Need {
    pub string: GuitarString,
    pub fret: Fret,
    pub finger: Option<LeftFinger>,
    /// The chord that needs it; None for a single note.
    pub chord: Option<ChordName>,
    pub place: Place,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClashKind {
    /// One finger would have to be in two places.
    FingerElsewhere,
    /// The string is to sound open, or lower than where it is stopped.
    StringStopped,
}

/// Something held that stands in the way of what comes: a finger said to stay (`hold.kept`), or a chord in force whose
/// string a single note wants open. What is in the way is taken to leave; nothing is told of it twice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    pub at: Pulses,
    pub kind: ClashKind,
    pub hold: Hold,
    pub need: Need,
}

/// What the hand holds from a moment on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grip {
    pub at: Pulses,
    /// Sorted.
    pub holds: Vec<Hold>,
}

/// The left hand through a stretch of time.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Told {
    /// One entry for each moment at which something happens.
    pub grips: Vec<Grip>,
    pub clashes: Vec<Clash>,
}

impl Told {
    /// What is still held when the stretch ends.
    pub fn end(&self) -> &[Hold] {
        self.grips.last().map_or(&[], |grip| grip.holds.as_slice())
    }
}

/// Follows the left hand through what happens, beginning with what it holds already.
pub fn follow(lesson: &Lesson, happenings: &[Timed], holding: &[Hold]) -> Told {
    let mut hand = Hand {
        lesson,
        guitar: Guitar::of(lesson),
        holds: holding.to_vec(),
        at: Pulses::from_integer(0),
        clashes: Vec::new(),
    };
    let mut grips: Vec<Grip> = Vec::new();
    for timed in happenings {
        hand.at = timed.at;
        match timed.what {
            Happening::Change(change) | Happening::Resume(change) => hand.change(&change.chord, change.place),
            Happening::Left(event) => hand.event(event),
            Happening::Stroke(stroke) => hand.stroke(stroke),
        }
        hand.holds.sort();
        hand.holds.dedup();
        match grips.last_mut().filter(|grip| grip.at == timed.at) {
            Some(grip) => grip.holds.clone_from(&hand.holds),
            None => grips.push(Grip {
                at: timed.at,
                holds: hand.holds.clone(),
            }),
        }
    }
    Told {
        grips,
        clashes: hand.clashes,
    }
}

/// A chord of the lesson, the last one of its name that gives a shape before any that does not.
pub fn chord_named<'a>(lesson: &'a Lesson, name: &ChordName) -> Option<&'a Chord> {
    let named = || lesson.chords.iter().filter(move |chord| chord.name == *name);
    named().find(|chord| chord.shape.is_some()).or_else(|| named().next())
}

/// The fingers of a chord on the strings from a moment on. Fingers that are not said are left open; a said barre is
/// one hold.
pub fn holds_of(chord: &Chord, since: Pulses, place: Place) -> Vec<Hold> {
    let new = |string: GuitarString, fret: Fret| Hold::new(string, fret, By::Chord(chord.name.clone()), since, place);
    let stopped = chord.fingers.iter().filter(|fingered| fingered.fret > 0);
    let said = stopped.map(|fingered| Hold {
        to_string: fingered.string.max(fingered.to_string),
        finger: Some(fingered.finger),
        ..new(fingered.string.min(fingered.to_string), fingered.fret)
    });
    let mut holds: Vec<Hold> = said.collect();
    for string in 1..=6 {
        let fret = chord.shape.and_then(|shape| shape.fret(string));
        let Some(fret) = fret.filter(|fret| *fret > 0) else {
            continue;
        };
        if !holds.iter().any(|hold| hold.is_on(string) && hold.fret == fret) {
            holds.push(new(string, fret));
        }
    }
    holds
}

/// What a chord needs: its stopped strings with their fingers, and its open ones.
pub fn needs_of(chord: &Chord, place: Place) -> Vec<Need> {
    let fingered = |string: GuitarString, fret: Fret| {
        let on = |fingered: &&super::chord::Fingered| {
            let (low, high) = (
                fingered.string.min(fingered.to_string),
                fingered.string.max(fingered.to_string),
            );
            (low..=high).contains(&string) && fingered.fret == fret
        };
        chord.fingers.iter().find(on).map(|fingered| fingered.finger)
    };
    let need = |(string, fret): (GuitarString, Fret)| Need {
        string,
        fret,
        finger: fingered(string, fret),
        chord: Some(chord.name.clone()),
        place,
    };
    let of_shape = chord
        .shape
        .into_iter()
        .flat_map(|shape| (1..=6).filter_map(move |string| Some((string, shape.fret(string)?))));
    let mut needs: Vec<Need> = of_shape.map(need).collect();
    for fingered in chord.fingers.iter().filter(|fingered| fingered.fret > 0) {
        if !needs.iter().any(|need| need.string == fingered.string) {
            needs.push(need((fingered.string, fingered.fret)));
        }
    }
    needs
}

struct Hand<'a> {
    lesson: &'a Lesson,
    guitar: Guitar,
    holds: Vec<Hold>,
    at: Pulses,
    clashes: Vec<Clash>,
}

impl Hand<'_> {
    fn change(&mut self, name: &ChordName, place: Place) {
        let chord = chord_named(self.lesson, name);
        let needs = chord.map(|chord| needs_of(chord, place)).unwrap_or_default();
        let new = chord.map(|chord| holds_of(chord, self.at, place)).unwrap_or_default();
        self.make_room(&needs);
        // A kept finger that the chord has in the same place belongs to the chord from here on.
        let agrees = |hold: &Hold| {
            new.iter()
                .any(|other| other.fret == hold.fret && other.is_on(hold.string))
        };
        self.holds.retain(|hold| hold.kept && !agrees(hold));
        self.holds.extend(new);
    }

    /// Takes away what stands in the way of what is needed, and tells where it was said to stay.
    fn make_room(&mut self, needs: &[Need]) {
        let mut kept = Vec::new();
        for hold in std::mem::take(&mut self.holds) {
            match needs.iter().find_map(|need| Some((need, clash(&hold, need)?))) {
                None => kept.push(hold),
                Some((need, kind)) if hold.kept || is_open_under_chord(&hold, need, kind) => {
                    self.clashes.push(Clash {
                        at: self.at,
                        kind,
                        hold,
                        need: need.clone(),
                    });
                }
                Some(_) => {}
            }
        }
        self.holds = kept;
    }

    fn stroke(&mut self, stroke: &Stroke) {
        let Some((string, fret)) = place_of(stroke, &self.guitar) else {
            return;
        };
        let (finger, place) = (stroke.left, stroke.place);
        let need = Need {
            string,
            fret,
            finger,
            chord: None,
            place,
        };
        // A finger behind the new note on its string may stay: a pull-off comes back to it.
        self.make_room(std::slice::from_ref(&need));
        let there = |hold: &Hold| hold.is_on(string) && hold.fret == fret;
        if fret > 0 && !self.holds.iter().any(there) {
            let hold = Hold::new(string, fret, By::Note, self.at, place);
            self.holds.push(Hold { finger, ..hold });
        }
    }

    fn event(&mut self, event: &LeftEvent) {
        match event.action {
            LeftAction::Lift => self.lift(event),
            LeftAction::Put => self.put(event),
            LeftAction::Keep => self.keep(event),
            LeftAction::Slide => self.slide(event),
        }
    }

    fn lift(&mut self, event: &LeftEvent) {
        match (event.finger, event.string) {
            (None, None) => self.holds.clear(),
            (Some(finger), string) if self.holds.iter().any(|hold| hold.finger == Some(finger)) => {
                self.holds
                    .retain(|hold| hold.finger != Some(finger) || string.is_some_and(|string| !hold.is_on(string)));
            }
            (_, Some(string)) => self.holds.retain(|hold| !hold.is_on(string)),
            // A finger that nobody said where it was: the one that lies nearest the nut is the index's.
            (Some(1), None) => {
                let lowest = self.holds.iter().map(|hold| hold.fret).min();
                self.holds
                    .retain(|hold| Some(hold.fret) != lowest || hold.finger.is_some());
            }
            (Some(_), None) => {}
        }
    }

    fn put(&mut self, event: &LeftEvent) {
        let (Some(string), Some(fret)) = (event.string, event.fret) else {
            return;
        };
        let (finger, place) = (event.finger, event.place);
        self.make_room(&[Need {
            string,
            fret,
            finger,
            chord: None,
            place,
        }]);
        if fret > 0 {
            self.holds
                .retain(|hold| !(hold.is_on(string) && hold.fret == fret && hold.string == hold.to_string));
            let hold = Hold::new(string, fret, By::Put, self.at, place);
            self.holds.push(Hold { finger, ..hold });
        }
    }

    fn keep(&mut self, event: &LeftEvent) {
        let (finger, place) = (event.finger, event.place);
        let meant = |hold: &Hold| match (finger, event.string) {
            (Some(finger), _) if hold.finger.is_some() => hold.finger == Some(finger),
            (_, Some(string)) => hold.is_on(string) && event.fret.is_none_or(|fret| fret == hold.fret),
            (_, None) => false,
        };
        let mut found = false;
        for hold in self.holds.iter_mut().filter(|hold| meant(hold)) {
            hold.kept = true;
            hold.finger = hold.finger.or(finger);
            hold.place = place;
            found = true;
        }
        if let (false, Some(string), Some(fret)) = (found, event.string, event.fret.filter(|fret| *fret > 0)) {
            let hold = Hold::new(string, fret, By::Put, self.at, place);
            self.holds.push(Hold {
                finger,
                kept: true,
                ..hold
            });
        }
    }

    fn slide(&mut self, event: &LeftEvent) {
        let Some(fret) = event.fret else { return };
        let meant = |hold: &Hold| match (event.finger, event.string) {
            (Some(finger), _) => hold.finger == Some(finger),
            (None, Some(string)) => hold.is_on(string),
            (None, None) => false,
        };
        for hold in self.holds.iter_mut().filter(|hold| meant(hold)) {
            hold.fret = fret;
            hold.place = event.place;
        }
    }
}

/// How something held stands in the way of a need; None when both can be.
fn clash(hold: &Hold, need: &Need) -> Option<ClashKind> {
    let on_string = hold.is_on(need.string);
    let same_place = on_string && hold.fret == need.fret;
    if same_place {
        return None;
    }
    if need.fret > 0 && hold.finger.is_some() && hold.finger == need.finger {
        return Some(ClashKind::FingerElsewhere);
    }
    (on_string && need.fret < hold.fret).then_some(ClashKind::StringStopped)
}

/// A single open note on a string that the chord in force stops.
fn is_open_under_chord(hold: &Hold, need: &Need, kind: ClashKind) -> bool {
    kind == ClashKind::StringStopped && need.chord.is_none() && need.fret == 0 && matches!(hold.by, By::Chord(_))
}

/// Where a single note is stopped: string and fret, the fret worked out from the note's name where it is not said.
pub fn place_of(stroke: &Stroke, guitar: &Guitar) -> Option<(GuitarString, Fret)> {
    let [string] = stroke.strings.as_slice() else {
        return None;
    };
    let fret = stroke.fret.or_else(|| guitar.fret_of(*string, stroke.note?))?;
    Some((*string, fret))
}

/// True for strokes that the left hand sounds by itself.
pub fn is_ligado(stroke: &Stroke) -> bool {
    matches!(stroke.action, Action::PullOff | Action::HammerOn)
}

#[cfg(test)]
mod tests;
