//! The facts of a lesson as JSON: a contract, changed on purpose only (fields may be added, none renamed).

use serde::{Deserialize, Serialize};

use crate::music::chord::{Chord, ChordName, ChordShape};
use crate::music::hand::{Finger, GuitarString};
use crate::music::key::{Key, Tempo};
use crate::music::left_hand::Change;
use crate::music::lesson::{Caution, Lesson, Reading, Said, Unread};
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::pitch::NoteName;
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

/// A lesson's facts in the published shape.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Facts {
    pub lesson: LessonFacts,
    pub chords: Vec<ChordFacts>,
    pub patterns: Vec<PatternFacts>,
    pub cautions: Vec<CautionFacts>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub repeats: Option<u32>,
    /// Beyond the contract: sentences not understood, the plainly musical ones first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unread: Vec<UnreadFacts>,
    /// Beyond the contract: each thing understood, in the order of the text.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<ReadingFacts>,
}

/// One thing understood: in a musician's words, where it stands, and how it is known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReadingFacts {
    pub line: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    pub what: String,
    /// The rule by which it was implied; absent when it was said outright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub implied: Option<String>,
}

/// A sentence that was not understood.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UnreadFacts {
    pub line: u32,
    /// Moment in the recording, where it is known: `0:41`, `1:02:03`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    pub text: String,
    pub reason: String,
    /// It plainly carries music; otherwise it only may.
    pub musical: bool,
}

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct LessonFacts {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub palo: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meter: Option<MeterFacts>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tempo: Option<Tempo>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<Key>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capo: Option<u8>,
}

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct MeterFacts {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beats: Option<i64>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub accents: Vec<AccentFact>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<i64>,
}

/// A whole count as a number, a part of one as text: `3`, `"2+1/2"`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum AccentFact {
    Count(i64),
    Position(Position),
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ChordFacts {
    pub name: ChordName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frets: Option<ChordShape>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PatternFacts {
    pub name: String,
    /// `core` or `variation`, as the contract knows them.
    pub kind: String,
    /// The role in full: falseta, llamada, remate, cierre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beats: Option<[i64; 2]>,
    #[serde(default)]
    pub strokes: Vec<StrokeFacts>,
    #[serde(default)]
    pub changes: Vec<ChangeFacts>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StrokeFacts {
    pub at: Position,
    #[serde(rename = "do")]
    pub action: Action,
    #[serde(rename = "with", default, skip_serializing_if = "Vec::is_empty")]
    pub fingers: Vec<Finger>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub strings: Vec<GuitarString>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<NoteName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_stroke: Option<bool>,
    /// Beyond the contract: the fret of a single note, as said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fret: Option<u8>,
    /// Beyond the contract: the rule by which it was implied; absent when said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub implied: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ChangeFacts {
    pub at: Position,
    pub chord: ChordName,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CautionFacts {
    pub line: u32,
    #[serde(default)]
    pub about: String,
    /// Counts that it names.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub counts: Vec<Position>,
}

/// What `read --format json` prints.
pub fn from_lesson(lesson: &Lesson) -> Facts {
    let meter = &lesson.meter;
    let accents: Vec<AccentFact> = meter.accents.iter().map(|accent| accent_fact(accent.value)).collect();
    let meter = MeterFacts {
        beats: meter.beats.as_ref().map(|beats| beats.value),
        accents,
        first: meter.first.as_ref().map(|first| first.value),
    };
    Facts {
        lesson: LessonFacts {
            title: lesson.title.as_ref().map(|title| title.value.clone()),
            palo: lesson.palo.as_ref().map(|palo| palo.value.clone()),
            meter: (meter != MeterFacts::default()).then_some(meter),
            tempo: lesson.tempo.as_ref().map(|tempo| tempo.value),
            key: lesson.key.as_ref().map(|key| key.value),
            capo: lesson.capo.as_ref().map(|capo| capo.value),
        },
        chords: lesson.chords.iter().map(chord_facts).collect(),
        patterns: lesson.patterns.iter().map(pattern_facts).collect(),
        cautions: lesson.cautions.iter().map(caution_facts).collect(),
        repeats: lesson.repeats.as_ref().map(|repeats| repeats.value),
        unread: lesson.unread.iter().map(unread_facts).collect(),
        readings: lesson.readings.iter().map(reading_facts).collect(),
    }
}

/// A lesson from facts alone, with no places: for tests and for facts that come from elsewhere.
pub fn to_lesson(facts: &Facts) -> Lesson {
    fn said<T>(value: T) -> Said<T> {
        Said::new(value, Place::default())
    }
    let meter = facts.lesson.meter.clone().unwrap_or_default();
    let mut lesson = Lesson {
        title: facts.lesson.title.clone().map(said),
        palo: facts.lesson.palo.clone().map(said),
        tempo: facts.lesson.tempo.map(said),
        key: facts.lesson.key.map(said),
        capo: facts.lesson.capo.map(said),
        repeats: facts.repeats.map(said),
        ..Lesson::default()
    };
    lesson.meter.beats = meter.beats.map(said);
    lesson.meter.first = meter.first.map(said);
    lesson.meter.accents = meter
        .accents
        .iter()
        .map(|accent| said(accent_position(accent)))
        .collect();
    lesson.chords = facts.chords.iter().map(chord_from_facts).collect();
    lesson.patterns = facts.patterns.iter().map(pattern_from_facts).collect();
    lesson.cautions = facts.cautions.iter().map(caution_from_facts).collect();
    lesson
}

fn accent_fact(position: Position) -> AccentFact {
    if *position.fraction().numer() == 0 {
        AccentFact::Count(position.whole())
    } else {
        AccentFact::Position(position)
    }
}

fn accent_position(fact: &AccentFact) -> Position {
    match fact {
        AccentFact::Count(count) => Position::count(*count),
        AccentFact::Position(position) => *position,
    }
}

fn chord_facts(chord: &Chord) -> ChordFacts {
    ChordFacts {
        name: chord.name.clone(),
        frets: chord.shape,
    }
}

fn chord_from_facts(facts: &ChordFacts) -> Chord {
    Chord {
        name: facts.name.clone(),
        shape: facts.frets,
        fingers: Vec::new(),
        place: Place::default(),
        shape_place: None,
        fingers_place: None,
        implied: None,
    }
}

fn pattern_facts(pattern: &Pattern) -> PatternFacts {
    let (kind, role) = match pattern.role {
        Role::Core => ("core", None),
        Role::Variation => ("variation", None),
        other => ("variation", Some(other)),
    };
    PatternFacts {
        name: pattern.name.clone(),
        kind: kind.to_owned(),
        role,
        beats: pattern.span.map(|span| [span.first, span.last]),
        strokes: pattern.strokes.iter().map(stroke_facts).collect(),
        changes: pattern
            .changes
            .iter()
            .map(|change| ChangeFacts {
                at: change.at,
                chord: change.chord.clone(),
            })
            .collect(),
    }
}

fn pattern_from_facts(facts: &PatternFacts) -> Pattern {
    let role = facts.role.unwrap_or(if facts.kind == "core" {
        Role::Core
    } else {
        Role::Variation
    });
    let span = facts.beats.map(|[first, last]| CountSpan { first, last });
    let past_end = |at: &Position| span.is_some_and(|span| role != Role::Core && at.whole() > span.last);
    Pattern {
        name: facts.name.clone(),
        role,
        span,
        strokes: facts.strokes.iter().map(stroke_from_facts).collect(),
        changes: facts
            .changes
            .iter()
            .map(|change| Change {
                at: change.at,
                chord: change.chord.clone(),
                place: Place::default(),
                implied: None,
            })
            .collect(),
        left: Vec::new(),
        runs_on: facts.strokes.iter().map(|stroke| stroke.at).filter(past_end).max(),
        claims: Vec::new(),
        place: Place::default(),
    }
}

fn stroke_facts(stroke: &Stroke) -> StrokeFacts {
    StrokeFacts {
        at: stroke.at,
        action: stroke.action,
        fingers: stroke.fingers.clone(),
        strings: stroke.strings.clone(),
        note: stroke.note,
        rest_stroke: stroke.rest_stroke.filter(|rest| *rest),
        fret: stroke.fret,
        implied: stroke.implied.clone(),
    }
}

fn stroke_from_facts(facts: &StrokeFacts) -> Stroke {
    Stroke {
        fingers: facts.fingers.clone(),
        strings: facts.strings.clone(),
        note: facts.note,
        rest_stroke: facts.rest_stroke,
        fret: facts.fret,
        implied: facts.implied.clone(),
        ..Stroke::new(facts.at, facts.action, Place::default())
    }
}

fn caution_facts(caution: &Caution) -> CautionFacts {
    CautionFacts {
        line: caution.place.line,
        about: caution.about.clone(),
        counts: caution.counts.clone(),
    }
}

fn unread_facts(unread: &Unread) -> UnreadFacts {
    UnreadFacts {
        line: unread.place.line,
        time: unread.place.time.map(|time| time.to_string()),
        text: unread.text.clone(),
        reason: unread.reason.clone(),
        musical: unread.musical,
    }
}

fn reading_facts(reading: &Reading) -> ReadingFacts {
    ReadingFacts {
        line: reading.place.line,
        time: reading.place.time.map(|time| time.to_string()),
        what: reading.what.clone(),
        implied: reading.implied.clone(),
    }
}

fn caution_from_facts(facts: &CautionFacts) -> Caution {
    Caution {
        about: facts.about.clone(),
        place: Place {
            line: facts.line,
            ..Place::default()
        },
        counts: facts.counts.clone(),
    }
}
