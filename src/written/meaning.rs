//! What words of the written form mean.

use serde::Deserialize;

use crate::music::hand::Finger;
use crate::music::pattern::Role;
use crate::music::stroke::Action;

/// What a word of the written form means. The names are the values in the data file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Meaning {
    Down,
    Up,
    Golpe,
    Pluck,
    Rasgueado,
    Roll,
    PullOff,
    HammerOn,
    /// A slur that goes up or down: which, its two notes decide.
    Slur,
    Damp,
    Tremolo,
    Picado,
    Alzapua,
    Rest,
    Apoyando,
    Tirando,
    Accent,
    /// The half beat.
    And,
    Halves,
    Thirds,
    Quarters,
    Fifths,
    Sixths,
    String,
    /// The string of the note before.
    SameString,
    Fret,
    /// The open string: fret 0.
    Open,
    Note,
    LeftHand,
    Thumb,
    Index,
    Middle,
    Ring,
    Little,
    With,
    /// Stands before a chord: "on G".
    On,
    Still,
    Chord,
    Now,
    /// A run, a passage: says only that notes follow.
    Passage,
    /// "Let it ring": nothing is played.
    RingOn,
    Together,
    Alternating,
    Alone,
    For,
    To,
    Core,
    Variation,
    Falseta,
    Llamada,
    Remate,
    Cierre,
    Replaces,
    RunsOn,
    Times,
    Loop,
    /// As what was written just before.
    Same,
    /// Stands before the counts that are copied.
    SameAs,
    SameRightHand,
    AsCore,
    But,
    Then,
    Put,
    Lift,
    Keep,
    Slide,
    Barre,
    Count,
    Beat,
    Accents,
    Tempo,
    Capo,
    NoCapo,
    Key,
    Phrygian,
    Major,
    Minor,
    Flat,
    Sharp,
}

impl Meaning {
    pub fn action(self) -> Option<Action> {
        self.in_table(&ACTIONS)
    }

    fn in_table<T: Copy>(self, table: &[(Meaning, T)]) -> Option<T> {
        table
            .iter()
            .find(|(meaning, _)| *meaning == self)
            .map(|(_, value)| *value)
    }

    /// The other way: what a stroke is called in the written form.
    pub fn of_action(action: Action) -> Option<Self> {
        ACTIONS
            .iter()
            .find(|(_, known)| *known == action)
            .map(|(meaning, _)| *meaning)
    }

    pub fn finger(self) -> Option<Finger> {
        self.in_table(&FINGERS)
    }

    pub fn role(self) -> Option<Role> {
        self.in_table(&ROLES)
    }

    /// Into how many equal parts a count is divided.
    pub fn division(self) -> Option<i64> {
        self.in_table(&DIVISIONS)
    }
}

const ACTIONS: [(Meaning, Action); 13] = [
    (Meaning::Down, Action::Down),
    (Meaning::Up, Action::Up),
    (Meaning::Golpe, Action::Golpe),
    (Meaning::Pluck, Action::Pluck),
    (Meaning::Rasgueado, Action::Rasgueado),
    (Meaning::Roll, Action::Roll),
    (Meaning::PullOff, Action::PullOff),
    (Meaning::HammerOn, Action::HammerOn),
    (Meaning::Damp, Action::Damp),
    (Meaning::Tremolo, Action::Tremolo),
    (Meaning::Picado, Action::Picado),
    (Meaning::Alzapua, Action::Alzapua),
    (Meaning::Rest, Action::Rest),
];

const FINGERS: [(Meaning, Finger); 5] = [
    (Meaning::Thumb, Finger::P),
    (Meaning::Index, Finger::I),
    (Meaning::Middle, Finger::M),
    (Meaning::Ring, Finger::A),
    (Meaning::Little, Finger::X),
];

const ROLES: [(Meaning, Role); 6] = [
    (Meaning::Core, Role::Core),
    (Meaning::Variation, Role::Variation),
    (Meaning::Falseta, Role::Falseta),
    (Meaning::Llamada, Role::Llamada),
    (Meaning::Remate, Role::Remate),
    (Meaning::Cierre, Role::Cierre),
];

const DIVISIONS: [(Meaning, i64); 5] = [
    (Meaning::Halves, 2),
    (Meaning::Thirds, 3),
    (Meaning::Quarters, 4),
    (Meaning::Fifths, 5),
    (Meaning::Sixths, 6),
];
