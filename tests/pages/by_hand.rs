//! Lessons made by hand for what the corpus does not have: free palos, rounds from 12, open items, every sign.

use compasario::intake::Folder;
use compasario::music::chord::{Chord, ChordName, ChordShape, Fingered};
use compasario::music::hand::Finger;
use compasario::music::left_hand::{Change, LeftAction, LeftEvent};
use compasario::music::lesson::{CrossReference, Lesson, Said, Technique};
use compasario::music::pattern::{CountSpan, Pattern, Role};
use compasario::music::pitch::NoteName;
use compasario::music::position::{Counts, Position};
use compasario::music::stroke::{Action, Stroke};
use compasario::text::Place;

use super::fixtures::Course;

pub fn at(text: &str) -> Position {
    Position::parse(text).unwrap()
}

pub fn said<T>(value: T) -> Said<T> {
    Said::new(value, Place::default())
}

pub fn stroke(moment: &str, action: Action, fingers: &[Finger], strings: &[u8]) -> Stroke {
    Stroke {
        fingers: fingers.to_vec(),
        strings: strings.to_vec(),
        ..Stroke::new(at(moment), action, Place::default())
    }
}

pub fn pattern(name: &str, role: Role, span: Option<(i64, i64)>, strokes: Vec<Stroke>) -> Pattern {
    Pattern {
        name: name.to_owned(),
        role,
        span: span.map(|(first, last)| CountSpan { first, last }),
        strokes,
        changes: Vec::new(),
        left: Vec::new(),
        runs_on: None,
        claims: Vec::new(),
        place: Place::default(),
    }
}

pub fn change(moment: &str, chord: &str) -> Change {
    Change {
        at: at(moment),
        chord: ChordName::parse(chord).unwrap(),
        place: Place::default(),
        implied: None,
    }
}

pub fn chord(name: &str, shape: Option<&str>, fingers: &[(u8, u8, u8, u8)]) -> Chord {
    Chord {
        name: ChordName::parse(name).unwrap(),
        shape: shape.map(|shape| ChordShape::parse(shape).unwrap()),
        fingers: fingers
            .iter()
            .map(|(finger, string, fret, to_string)| Fingered {
                finger: *finger,
                string: *string,
                fret: *fret,
                to_string: *to_string,
            })
            .collect(),
        place: Place::default(),
        shape_place: None,
        fingers_place: None,
        implied: None,
    }
}

pub fn left(moment: &str, action: LeftAction, finger: Option<u8>, string: Option<u8>, fret: Option<u8>) -> LeftEvent {
    LeftEvent {
        at: at(moment),
        action,
        finger,
        string,
        fret,
        place: Place::default(),
        implied: None,
    }
}

pub fn lesson(id: &str, palo: &str, patterns: Vec<Pattern>) -> Lesson {
    Lesson {
        id: id.to_owned(),
        title: Some(said(id.replace('-', " "))),
        palo: Some(said(palo.to_owned())),
        language: "en".to_owned(),
        reviewed: Some(said("2026-03-01".to_owned())),
        patterns,
        ..Lesson::default()
    }
}

/// No notes stand behind these lessons.
pub fn course(lessons: Vec<Lesson>) -> Course {
    Course {
        folder: Folder::default(),
        lessons,
    }
}

/// A free palo: moves in order, two of them longer than the others.
pub fn free() -> Lesson {
    let long = |mut stroke: Stroke, length: i64| {
        stroke.length = Some(Counts::from_integer(length));
        stroke
    };
    let mut bare = pattern(
        "moves",
        Role::Core,
        Some((1, 6)),
        vec![
            long(stroke("1", Action::Down, &[Finger::P], &[]), 2),
            stroke("2", Action::Pluck, &[Finger::P], &[6]),
            stroke("3", Action::Down, &[Finger::P], &[]),
            Stroke {
                note: NoteName::parse("B"),
                ..stroke("4", Action::Pluck, &[Finger::P], &[3])
            },
            Stroke {
                note: NoteName::parse("A#"),
                ..stroke("5", Action::PullOff, &[], &[3])
            },
            long(stroke("6", Action::Down, &[Finger::P], &[]), 3),
        ],
    );
    bare.changes = vec![change("1", "F#"), change("3", "G"), change("6", "F#")];
    let mut lesson = lesson("taranta-free-moves", "taranta", vec![bare]);
    lesson.chords = vec![chord("F#", Some("244300"), &[]), chord("G", Some("355400"), &[])];
    lesson
}

/// A round that begins on 12, accents on an "and", a variation over the seam, and one that runs on.
pub fn from_twelve() -> Lesson {
    let core: Vec<Stroke> = [12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]
        .iter()
        .map(|count| stroke(&count.to_string(), Action::Down, &[Finger::I], &[]))
        .collect();
    let seam = vec![
        stroke("11", Action::Down, &[Finger::I], &[]),
        stroke("12", Action::Golpe, &[Finger::A], &[]),
        stroke("1", Action::Up, &[Finger::I], &[]),
    ];
    let mut over = pattern(
        "over the edge",
        Role::Remate,
        Some((10, 12)),
        vec![
            stroke("10", Action::Picado, &[Finger::I], &[2]),
            stroke("11", Action::Picado, &[Finger::M], &[2]),
            stroke("13", Action::Down, &[Finger::P], &[]),
            stroke("14+1/2", Action::Up, &[Finger::I], &[]),
        ],
    );
    over.runs_on = Some(at("14+1/2"));
    let mut lesson = lesson(
        "buleria-from-twelve",
        "buleria",
        vec![
            pattern("core", Role::Core, Some((12, 11)), core),
            pattern("seam", Role::Variation, Some((11, 1)), seam),
            over,
        ],
    );
    lesson.meter.beats = Some(said(12));
    lesson.meter.first = Some(said(12));
    lesson.meter.accents = ["3", "6+1/2", "8", "10", "12"].map(|text| said(at(text))).to_vec();
    lesson
}

/// Everything that can be open, implied or rare.
pub fn every_sign() -> Lesson {
    let mut first = pattern(
        "open and rare",
        Role::Core,
        Some((1, 12)),
        vec![
            stroke("1", Action::Down, &[], &[]),
            Stroke {
                note: NoteName::parse("C"),
                ..stroke("2", Action::Pluck, &[Finger::I], &[])
            },
            Stroke {
                fret: Some(3),
                ..stroke("2+1/2", Action::Pluck, &[], &[])
            },
            stroke("3", Action::Pluck, &[Finger::P, Finger::M], &[6, 2]),
            stroke("4", Action::Rasgueado, &[], &[]),
            Stroke {
                arrival: Some(at("6")),
                little_finger_as: Some("ch".to_owned()),
                ..stroke(
                    "5",
                    Action::Rasgueado,
                    &[Finger::X, Finger::A, Finger::M, Finger::I],
                    &[],
                )
            },
            Stroke {
                accent: true,
                implied: Some("same as before".to_owned()),
                ..stroke("6", Action::Up, &[Finger::I], &[1, 2, 3])
            },
            Stroke {
                rest_stroke: Some(false),
                left: Some(4),
                fret: Some(12),
                ..stroke("7", Action::Pluck, &[Finger::M], &[1])
            },
            stroke(
                "8",
                Action::Tremolo,
                &[Finger::P, Finger::I, Finger::A, Finger::M, Finger::I],
                &[1],
            ),
            stroke("9", Action::Roll, &[Finger::P], &[5, 4, 3, 2]),
            Stroke {
                accent: true,
                ..stroke("9+1/2", Action::Golpe, &[], &[])
            },
            stroke("10", Action::Alzapua, &[Finger::P], &[]),
            stroke("11", Action::Rest, &[], &[]),
            stroke("12", Action::Damp, &[], &[]),
        ],
    );
    first.changes = vec![change("1", "E"), change("6", "A(b9)"), change("10", "F")];
    first.left = vec![
        left("1", LeftAction::Put, Some(3), Some(5), Some(3)),
        left("3", LeftAction::Lift, Some(2), Some(4), None),
        left("6", LeftAction::Keep, Some(1), Some(1), Some(1)),
        left("8", LeftAction::Slide, Some(4), Some(2), Some(5)),
        left("10", LeftAction::Lift, None, None, None),
        left("11", LeftAction::Put, None, Some(6), Some(1)),
    ];
    let named_only = pattern("only named", Role::Falseta, None, Vec::new());
    let mut lesson = lesson("solea-every-sign", "solea", vec![first, named_only]);
    lesson.chords = vec![
        chord("E", Some("022100"), &[(1, 3, 1, 3), (2, 5, 2, 5), (3, 4, 2, 4)]),
        chord(
            "F",
            Some("133211"),
            &[(1, 1, 1, 6), (2, 3, 2, 3), (3, 5, 3, 5), (4, 4, 3, 4)],
        ),
        chord("A(b9)", None, &[]),
        chord("C#m", Some("x-4-6-6-5-4"), &[]),
        chord("Bm", Some("7-9-9-7-7-7"), &[(1, 1, 7, 6)]),
    ];
    lesson.techniques = vec![Technique {
        id: "tremolo".to_owned(),
        explained: true,
        place: Place::default(),
    }];
    lesson.links = vec![CrossReference {
        target: "taranta-free-moves".to_owned(),
        words: "the free one".to_owned(),
        announced: false,
        place: Place::default(),
    }];
    lesson
}

/// Text that would break a page if it were not escaped, and two lessons of one name.
pub fn hostile() -> Vec<Lesson> {
    let text = "</title><script>alert(\"1\")</script> & 'x' <img src=x onerror=alert(1)>";
    let mut one = lesson(
        "../../etc/passwd",
        "no-such-palo",
        vec![pattern(
            text,
            Role::Core,
            Some((1, 2)),
            vec![stroke("1", Action::Down, &[], &[])],
        )],
    );
    one.title = Some(said(text.to_owned()));
    one.recording = Some(said("javascript:alert(1)".to_owned()));
    one.advice = vec![said(text.to_owned())];
    let mut two = lesson("../../etc/passwd", "\" onclick=\"alert(1)", Vec::new());
    two.title = None;
    two.recording = Some(said("https://example.org/\"><script>alert(1)</script>".to_owned()));
    let mut far = lesson(
        "far",
        "tangos",
        vec![pattern(
            "far",
            Role::Variation,
            Some((1, 9000)),
            vec![stroke("9999", Action::Up, &[], &[]), stroke("0", Action::Up, &[], &[])],
        )],
    );
    far.reviewed = None;
    vec![one, two, far]
}

pub fn all() -> Course {
    let mut lessons = vec![free(), from_twelve(), every_sign()];
    lessons.extend(hostile());
    course(lessons)
}
