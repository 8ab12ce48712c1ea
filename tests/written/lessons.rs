//! Lessons that could be, for property tests.

use compasario::music::chord::{Chord, ChordName, ChordShape, Fingered};
use compasario::music::hand::Finger;
use compasario::music::key::{Key, Mode, Tempo};
use compasario::music::left_hand::{Change, LeftAction, LeftEvent};
use compasario::music::lesson::{
    Caution, Conflict, CrossReference, Lesson, LetStand, Meter, Misheard, Said, Technique, Unread,
};
use compasario::music::pattern::{Claim, ClaimAbout, CountSpan, Pattern, Role};
use compasario::music::pitch::NoteName;
use compasario::music::position::{Counts, Position};
use compasario::music::stroke::{Action, Stroke};
use compasario::text::{ClockTime, Place};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::{BoxedStrategy, Just, Strategy, any, prop_oneof};
use proptest::sample::select;

/// Free text: sentences, and every sign that the form itself uses.
pub fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[A-Za-zñá ,.:;!?'-]{0,30}",
        1 => r#"[\[\]~"\\()#=:!?+,. a-z0-9\n\r\t]{0,20}"#,
        1 => "\\PC{0,12}",
    ]
}

fn slug() -> impl Strategy<Value = String> {
    "[a-z][a-z0-9]{0,6}(-[a-z0-9]{1,5}){0,2}"
}

fn place() -> impl Strategy<Value = Place> {
    of(0u64..9000).prop_map(|seconds| Place {
        time: seconds.map(ClockTime::from_seconds),
        ..Place::default()
    })
}

fn implied() -> impl Strategy<Value = Option<String>> {
    prop_oneof![4 => Just(None), 1 => Just(Some("alternating".to_owned())), 1 => text().prop_map(Some)]
}

fn said<T: Clone + std::fmt::Debug + 'static>(value: impl Strategy<Value = T> + 'static) -> BoxedStrategy<Said<T>> {
    (value, place(), implied())
        .prop_map(|(value, place, implied)| Said { value, place, implied })
        .boxed()
}

fn position() -> impl Strategy<Value = Position> {
    (
        0i64..40,
        select(&[(0, 1), (1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 6), (5, 12), (3, 7)][..]),
    )
        .prop_map(|(count, (over, under))| Position::new(count, over, under))
}

fn span() -> impl Strategy<Value = CountSpan> {
    (0i64..30, 0i64..30).prop_map(|(first, last)| CountSpan { first, last })
}

fn note() -> impl Strategy<Value = NoteName> {
    (select(&['A', 'B', 'C', 'D', 'E', 'F', 'G'][..]), -2i8..=2)
        .prop_map(|(letter, alter)| NoteName::new(letter, alter))
}

fn chord_name() -> impl Strategy<Value = ChordName> {
    let roots = select(&["A", "Bb", "C", "D", "E", "F", "F#", "G", "Ab"][..]);
    let qualities = select(&["", "m", "7", "maj7", "m7", "dim", "sus4", "9"][..]);
    let added = select(&["", "", "", "(b9)", "(add9)", "(#11)"][..]);
    (roots, qualities, added).prop_map(|(root, quality, added)| ChordName {
        root: NoteName::parse(root).unwrap(),
        quality: quality.to_owned(),
        added: added.to_owned(),
    })
}

fn shape() -> impl Strategy<Value = ChordShape> {
    proptest::array::uniform6(of(0u8..=14)).prop_map(|frets| ChordShape { frets })
}

fn chord() -> impl Strategy<Value = Chord> {
    let fingered = (0u8..=4, 1u8..=6, 0u8..=14, of(1u8..=6)).prop_map(|(finger, string, fret, to)| Fingered {
        finger,
        string,
        fret,
        to_string: to.unwrap_or(string),
    });
    (chord_name(), of(shape()), vec(fingered, 0..4), place(), implied()).prop_map(
        |(name, shape, fingers, place, implied)| Chord {
            name,
            shape,
            fingers,
            place,
            shape_place: None,
            fingers_place: None,
            implied,
        },
    )
}

const ACTIONS: [Action; 13] = [
    Action::Down,
    Action::Up,
    Action::Golpe,
    Action::Pluck,
    Action::Rasgueado,
    Action::Roll,
    Action::PullOff,
    Action::HammerOn,
    Action::Damp,
    Action::Tremolo,
    Action::Picado,
    Action::Alzapua,
    Action::Rest,
];

fn stroke() -> impl Strategy<Value = Stroke> {
    let hand = (
        select(&ACTIONS[..]),
        vec(select(&Finger::ALL[..]), 0..5),
        select(&[None, Some("c"), Some("e"), Some("ch"), Some("q"), Some("s")][..]),
        vec(1u8..=6, 0..4),
    );
    let note = (of(0u8..=24), of(note()), of(0u8..=4), of(any::<bool>()), any::<bool>());
    let time = (of((1i64..9, 1i64..7)), of(position()));
    (position(), hand, note, time, place(), implied()).prop_map(
        |(
            at,
            (action, fingers, letter, strings),
            (fret, note, left, rest_stroke, accent),
            (length, arrival),
            place,
            implied,
        )| {
            let little = fingers.contains(&Finger::X);
            Stroke {
                little_finger_as: letter.filter(|_| little).map(str::to_owned),
                fingers,
                strings,
                fret,
                note,
                left,
                rest_stroke,
                accent,
                length: length.map(|(over, under)| Counts::new(over, under)),
                arrival,
                implied,
                ..Stroke::new(at, action, place)
            }
        },
    )
}

fn left_event() -> impl Strategy<Value = LeftEvent> {
    let actions = [LeftAction::Put, LeftAction::Lift, LeftAction::Keep, LeftAction::Slide];
    (
        position(),
        select(actions.to_vec()),
        of(0u8..=4),
        of(1u8..=6),
        of(0u8..=24),
        place(),
        implied(),
    )
        .prop_map(|(at, action, finger, string, fret, place, implied)| LeftEvent {
            at,
            action,
            finger,
            string,
            fret,
            place,
            implied,
        })
}

fn claim() -> impl Strategy<Value = Claim> {
    let recited = vec((of(position()), of(select(&ACTIONS[..]))), 0..4);
    let about = prop_oneof![
        (span(), of(chord_name())).prop_map(|(span, chord)| ClaimAbout::Covers { span, chord }),
        (position(), 0i64..20, 1i64..9, 0usize..30).prop_map(|(from, counts, per_count, given)| ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given
        }),
        (position(), 0usize..9, 0usize..9).prop_map(|(at, said, given)| ClaimAbout::Numbered { at, said, given }),
        (position(), span()).prop_map(|(at, span)| ClaimAbout::Outside { at, span }),
        (position(), 1u8..=6, 0u8..=24).prop_map(|(at, string, fret)| ClaimAbout::OpenAndFretted { at, string, fret }),
        (span(), recited).prop_map(|(span, row)| ClaimAbout::Recited { span, row }),
        vec((position(), note()), 1..5).prop_map(|row| ClaimAbout::NamedAgain { row }),
        (span(), vec(select(&Finger::ALL[..]), 0..4)).prop_map(|(span, fingers)| ClaimAbout::Passage { span, fingers }),
    ];
    (place(), about).prop_map(|(place, about)| Claim { place, about })
}

fn pattern() -> impl Strategy<Value = Pattern> {
    let roles = [
        Role::Core,
        Role::Variation,
        Role::Falseta,
        Role::Llamada,
        Role::Remate,
        Role::Cierre,
    ];
    let change = (position(), chord_name(), place(), implied()).prop_map(|(at, chord, place, implied)| Change {
        at,
        chord,
        place,
        implied,
    });
    let name = prop_oneof![Just("core".to_owned()), Just("variation".to_owned()), text()];
    let lists = (
        vec(stroke(), 0..8),
        vec(change, 0..4),
        vec(left_event(), 0..4),
        vec(claim(), 0..3),
    );
    (name, select(roles.to_vec()), of(span()), of(position()), lists, place()).prop_map(
        |(name, role, span, runs_on, (mut strokes, mut changes, mut left, claims), place)| {
            strokes.sort_by_key(|stroke| (stroke.at, stroke.action));
            changes.sort_by_key(|change| change.at);
            left.sort_by_key(|event| event.at);
            Pattern {
                name,
                role,
                span,
                strokes,
                changes,
                left,
                runs_on,
                claims,
                place,
            }
        },
    )
}

fn meter() -> impl Strategy<Value = Meter> {
    (
        of(said(1i64..=40)),
        vec(said(position()), 0..5),
        of(said(0i64..=40)),
        of(said(vec(1i64..=4, 1..6))),
    )
        .prop_map(|(beats, accents, first, lengths)| Meter {
            beats,
            accents,
            first,
            lengths,
        })
}

/// Any lesson whose parts are each possible; whether it adds up musically is not asked.
pub fn lesson() -> impl Strategy<Value = Lesson> {
    let key =
        (note(), select(vec![Mode::Phrygian, Mode::Major, Mode::Minor])).prop_map(|(tonic, mode)| Key { tonic, mode });
    let tempo = (1u32..=1000, 1u32..=1000).prop_map(|(low, high)| Tempo { low, high });
    let head = (
        of(slug()),
        of(said(text())),
        of(said(slug())),
        meter(),
        of(said(tempo)),
        of(said(key)),
        of(said(0u8..=12)),
        of(said(proptest::array::uniform6(0u8..=127))),
        select(&["", "en", "es"][..]),
    );
    let course = (
        of(said(-9i64..200)),
        vec(
            said(text().prop_filter("a lesson has a name", |id| !id.is_empty())),
            0..3,
        ),
        of(said(text())),
        of(0u64..20_000_000),
        of(said(text())),
        vec(text().prop_filter("a person has a name", |name| !name.is_empty()), 0..3),
    );
    let music = (vec(chord(), 0..4), vec(pattern(), 0..3), of(said(1u32..=1000)));
    let caution =
        (text(), place(), vec(position(), 0..3)).prop_map(|(about, place, counts)| Caution { about, place, counts });
    let link = (slug(), text(), any::<bool>(), place()).prop_map(|(target, words, announced, place)| CrossReference {
        target,
        words,
        announced,
        place,
    });
    let technique =
        (text(), any::<bool>(), place()).prop_map(|(id, explained, place)| Technique { id, explained, place });
    let let_stand = (slug(), text(), place()).prop_map(|(rule, reason, place)| LetStand { rule, reason, place });
    let words = (
        vec(caution, 0..3),
        vec(said(text()), 0..3),
        vec(link, 0..3),
        vec(technique, 0..3),
        vec(let_stand, 0..2),
    );
    let misheard = (text(), text(), place()).prop_map(|(heard, read_as, place)| Misheard { heard, read_as, place });
    let unread = (text(), text(), any::<bool>(), place()).prop_map(|(text, reason, musical, place)| Unread {
        text,
        reason,
        musical,
        place,
    });
    let conflict = (text(), text(), text(), place()).prop_map(|(about, first, second, place)| Conflict {
        about,
        first,
        second,
        first_place: place,
        place,
    });
    let record = (
        vec(misheard, 0..2),
        vec(unread, 0..2),
        vec(said(text()), 0..3),
        vec(conflict, 0..2),
    );
    (head, course, music, words, record).prop_map(|(head, course, music, words, record)| {
        let (id, title, palo, meter, tempo, key, capo, tuning, language) = head;
        let (order, needs, recording, length, reviewed, people) = course;
        let (chords, patterns, repeats) = music;
        let (cautions, advice, links, techniques, let_stand) = words;
        let (misheard, unread, questions, conflicts) = record;
        Lesson {
            id: id.unwrap_or_default(),
            title,
            palo,
            meter,
            tempo,
            key,
            capo,
            tuning,
            language: language.to_owned(),
            order,
            needs,
            recording,
            recording_length: length.map(ClockTime::from_milliseconds),
            reviewed,
            people,
            chords,
            patterns,
            cautions,
            repeats,
            advice,
            links,
            techniques,
            untold: Vec::new(),
            chords_said: None,
            remarks: Vec::new(),
            terms: Vec::new(),
            moments: Vec::new(),
            misheard,
            unread,
            readings: Vec::new(),
            questions,
            conflicts,
            let_stand,
        }
    })
}

/// What a draft keeps of a lesson: all but the record of how the text was read.
pub fn drafted(lesson: &Lesson) -> Lesson {
    let mut lesson = compasario::written::with_questions(lesson);
    lesson.techniques.retain(|technique| technique.explained);
    lesson.patterns.iter_mut().for_each(|pattern| pattern.claims.clear());
    lesson.misheard.clear();
    lesson.unread.clear();
    lesson.conflicts.clear();
    lesson
}

/// A lesson as JSON without the places and without the record of readings: what has to survive a round trip.
pub fn without_places(lesson: &Lesson) -> serde_json::Value {
    fn strip(value: &mut serde_json::Value) {
        match value {
            serde_json::Value::Object(fields) => {
                for name in ["place", "shape_place", "fingers_place", "first_place", "readings"] {
                    fields.remove(name);
                }
                fields.values_mut().for_each(strip);
            }
            serde_json::Value::Array(values) => values.iter_mut().for_each(strip),
            _ => {}
        }
    }
    let mut value = serde_json::to_value(lesson).unwrap();
    strip(&mut value);
    value
}
