use num_rational::Ratio;

use super::*;
use crate::music::chord::{Chord, ChordName, ChordShape, Fingered};
use crate::music::key::Tempo;
use crate::music::left_hand::{Change, LeftAction, LeftEvent};
use crate::music::lesson::{Caution, Said};
use crate::music::pattern::{CountSpan, Pattern, Role};
use crate::music::position::Position;
use crate::music::stroke::{Action, Stroke};
use crate::text::{Place, Span};

fn at(text: &str) -> Position {
    Position::parse(text).expect("a position")
}

fn place(offset: usize) -> Place {
    Place {
        span: Span::new(offset, offset + 1),
        line: 1,
        ..Place::default()
    }
}

/// `3 down i`, `10+1/2 picado i s4 f4`; `E@3` is a change; `keep 3@4`, `lift 3@4+1/2`.
fn pattern(name: &str, role: Role, span: (i64, i64), begins: usize, words: &str) -> Pattern {
    let mut pattern = Pattern {
        name: name.to_owned(),
        role,
        span: Some(CountSpan {
            first: span.0,
            last: span.1,
        }),
        strokes: Vec::new(),
        changes: Vec::new(),
        left: Vec::new(),
        runs_on: None,
        claims: Vec::new(),
        place: place(begins),
    };
    for word in words.split(", ") {
        let parts: Vec<&str> = word.split(' ').collect();
        match parts.as_slice() {
            ["keep" | "lift", rest] => {
                let (finger, moment) = rest.split_once('@').expect("finger@moment");
                let action = if parts[0] == "keep" {
                    LeftAction::Keep
                } else {
                    LeftAction::Lift
                };
                let finger = finger.parse().ok();
                let (at, place) = (at(moment), place(begins));
                pattern.left.push(LeftEvent {
                    at,
                    action,
                    finger,
                    string: None,
                    fret: None,
                    place,
                    implied: None,
                });
            }
            [one] if one.contains('@') => {
                let (chord, moment) = one.split_once('@').expect("chord@moment");
                let chord = ChordName::parse(chord).expect("a chord");
                let (at, place) = (at(moment), place(begins));
                pattern.changes.push(Change {
                    at,
                    chord,
                    place,
                    implied: None,
                });
            }
            [moment, action, rest @ ..] => {
                let action = match *action {
                    "down" => Action::Down,
                    "up" => Action::Up,
                    "golpe" => Action::Golpe,
                    "rest" => Action::Rest,
                    "picado" => Action::Picado,
                    _ => Action::Pluck,
                };
                let mut stroke = Stroke::new(at(moment), action, place(begins));
                for part in rest {
                    let number = |letter| part.strip_prefix(letter).and_then(|digits| digits.parse::<u8>().ok());
                    match (number('s'), number('f'), number('l')) {
                        (Some(string), _, _) => stroke.strings.push(string),
                        (_, Some(fret), _) => stroke.fret = Some(fret),
                        (_, _, Some(left)) => stroke.left = Some(left),
                        _ => stroke.fingers.extend(
                            Finger::ALL
                                .into_iter()
                                .filter(|finger| part.starts_with(finger.letter())),
                        ),
                    }
                }
                pattern.strokes.push(stroke);
            }
            _ => {}
        }
    }
    pattern
}

fn chord(name: &str, shape: &str, fingers: &[(u8, u8, u8)]) -> Chord {
    let fingered = |(finger, string, fret): &(u8, u8, u8)| Fingered {
        finger: *finger,
        string: *string,
        fret: *fret,
        to_string: *string,
    };
    Chord {
        name: ChordName::parse(name).expect("a name"),
        shape: ChordShape::parse(shape),
        fingers: fingers.iter().map(fingered).collect(),
        place: Place::default(),
        shape_place: None,
        fingers_place: None,
        implied: None,
    }
}

fn lesson(palo: &str, tempo: u32, patterns: Vec<Pattern>, chords: Vec<Chord>) -> Lesson {
    Lesson {
        palo: Some(Said::new(palo.to_owned(), Place::default())),
        tempo: Some(Said::new(
            Tempo {
                low: tempo,
                high: tempo,
            },
            Place::default(),
        )),
        patterns,
        chords,
        ..Lesson::default()
    }
}

fn find<'a>(all: &'a [Join], lesson: &Lesson, kind: JoinKind, from: &str, to: &str) -> &'a Join {
    let is = |join: &&Join| join.kind == kind && join.from.name(lesson) == from && join.to.name(lesson) == to;
    all.iter().find(is).unwrap_or_else(|| panic!("no join {from} {to}"))
}

/// The alegrías of the corpus: a variation at the front, and one at the end that runs on into the next 1.
fn alegrias() -> Lesson {
    let core = pattern(
        "core",
        Role::Core,
        (1, 12),
        0,
        "E@1, 1 down i, 2 down i, 2+1/2 up i, B7@3, 3 down i, 9 down i, 9+1/2 up i, E@10, 10 down p, 11 rest, 12 golpe a",
    );
    let front = pattern(
        "front",
        Role::Variation,
        (1, 2),
        100,
        "E@1, 1 pluck p s6 f0, 1+1/3 pluck i s3 f1, 2 pluck a s1 f0",
    );
    let mut back = pattern(
        "back",
        Role::Variation,
        (10, 12),
        200,
        "10 picado i s4 f2, 10+1/2 picado m s4 f4, 11 picado i s3 f1, 12 picado i s2 f0, 12+1/2 picado m s2 f2, E@13, 13 down p",
    );
    back.runs_on = Some(at("13"));
    let chords = vec![chord("E", "022100", &[]), chord("B7", "x21202", &[])];
    lesson("alegrias", 120, vec![core, front, back], chords)
}

#[test]
fn a_count_is_not_played_by_two() {
    let lesson = alegrias();
    let all = joins(&lesson, PaloTable::ours());
    let forbidden: Vec<String> = all
        .iter()
        .filter(|join| !join.is_allowed())
        .map(|join| format!("{} -> {}", join.from.name(&lesson), join.to.name(&lesson)))
        .collect();
    assert_eq!(forbidden, ["back -> front"]);
    let join = find(&all, &lesson, JoinKind::Vueltas, "back", "front");
    assert_eq!(join.obstacles, [Obstacle::CountsTakenTwice { first: 1, last: 1 }]);
    assert_eq!(find(&all, &lesson, JoinKind::Vueltas, "back", "core").count, 2);
    // Nine joins of three versions, an exit of `front`, an entry of `back`.
    assert_eq!(all.len(), 11);
}

#[test]
fn the_left_hand_of_an_entry_and_an_exit() {
    let lesson = alegrias();
    let all = joins(&lesson, PaloTable::ours());
    // From the E of `front` to the B7 on 3: s5 f2 stays, s4 f2 has to leave or B7's fourth string sounds wrong.
    let exit = find(&all, &lesson, JoinKind::Exit, "front", "core");
    let spots = |holds: &[Hold]| {
        holds
            .iter()
            .map(|hold| format!("s{}f{}", hold.string, hold.fret))
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(exit.count, 3);
    assert_eq!(spots(&exit.left.stays), "s5f2");
    assert_eq!(spots(&exit.left.lifts), "s3f1 s4f2");
    assert_eq!(spots(&exit.left.in_the_way), "s4f2");
    assert_eq!(spots(&exit.left.presses), "s1f2 s3f2 s4f1");
    // From the note on 2 to the strum on 3: one count at 120.
    assert_eq!(exit.left.millis, Some(Ratio::from_integer(500)));
    // From the last stroke that sounds the E, on 10, over the rest and the golpe, to the next 1: three counts.
    let round = find(&all, &lesson, JoinKind::Vueltas, "core", "core");
    assert_eq!(round.left.millis, Some(Ratio::from_integer(1_500)));
    assert_eq!(
        (round.left.lifts.len(), round.left.presses.len(), round.cost()),
        (0, 0, 0)
    );
    assert!(exit.cost() > round.cost());
}

#[test]
fn what_is_said_to_stay_stands_in_the_way_of_the_next_round() {
    let a = || chord("A", "x02220", &[(2, 4, 2), (3, 3, 2), (4, 2, 2)]);
    let core = |last: &str| {
        pattern(
            "core",
            Role::Core,
            (1, 4),
            0,
            &format!("A@1, 1 down p, 2 down i, 4 pluck p s5 f3 l3{last}"),
        )
    };
    let obstacles = |last: &str| {
        let lesson = lesson("tientos", 60, vec![core(last)], vec![a()]);
        joins(&lesson, PaloTable::ours())
            .into_iter()
            .flat_map(|join| join.obstacles)
            .collect::<Vec<_>>()
    };
    let kept = obstacles(", keep 3@4");
    let kinds: Vec<ClashKind> = kept
        .iter()
        .filter_map(|obstacle| match obstacle {
            Obstacle::Held(clash) => Some(clash.kind),
            Obstacle::CountsTakenTwice { .. } => None,
        })
        .collect();
    assert_eq!(kinds, [ClashKind::FingerElsewhere]);
    assert_eq!(obstacles(", keep 3@4, lift 3@4+1/2"), []);
    assert_eq!(obstacles(""), []);
}

#[test]
fn cautions_find_their_join() {
    let mut lesson = alegrias();
    let caution = |offset, counts: &[&str]| Caution {
        about: String::new(),
        place: place(offset),
        counts: counts.iter().map(|count| at(count)).collect(),
    };
    lesson.cautions = vec![
        caution(50, &["4"]),
        caution(150, &["3"]),
        caution(250, &["1"]),
        caution(60, &["12", "1"]),
    ];
    let all = joins(&lesson, PaloTable::ours());
    let cautions = |kind, from, to| find(&all, &lesson, kind, from, to).cautions.clone();
    assert_eq!(cautions(JoinKind::Exit, "front", "core"), [1]);
    assert_eq!(cautions(JoinKind::Vueltas, "core", "core"), [3]);
    assert_eq!(cautions(JoinKind::Entry, "core", "back"), [0usize; 0]);
}

#[test]
fn a_free_palo_has_no_joins() {
    let phrase = pattern("phrase", Role::Core, (1, 6), 0, "1 down p, 2 pluck p s6 f2");
    assert!(joins(&lesson("taranta", 60, vec![phrase], Vec::new()), PaloTable::ours()).is_empty());
}
