//! Laws for any lesson at all, also for what no teacher would say: no check panics, none contradicts another, and no
//! pulse of a vuelta is lost.

use compasario::checks::{self, Context};
use compasario::findings::{Finding, Severity};
use compasario::intake::Folder;
use compasario::music::chord::{Chord, ChordName, ChordShape, Fingered};
use compasario::music::hand::Finger;
use compasario::music::joins::{JoinKind, joins};
use compasario::music::key::{Key, Mode, Tempo};
use compasario::music::leaning::{leaning, near_to_far};
use compasario::music::left_hand::{Change, LeftAction, LeftEvent};
use compasario::music::lesson::{Caution, Lesson, Said};
use compasario::music::palo::{PaloTable, table};
use compasario::music::pattern::{CountSpan, Pattern, Role};
use compasario::music::pitch::NoteName;
use compasario::music::position::Position;
use compasario::music::round::{Pulses, Round};
use compasario::music::stroke::{Action, Stroke};
use compasario::music::version::{Cycle, Happening, happenings, mixed_versions, versions};
use compasario::text::{Place, Span};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

fn place() -> impl Strategy<Value = Place> {
    (0usize..400, 1u32..20).prop_map(|(start, line)| Place {
        span: Span::new(start, start + 5),
        line,
        column: 1,
        ..Place::default()
    })
}

/// Mostly counts of a compás, now and then far outside.
fn count() -> impl Strategy<Value = i64> {
    prop_oneof![8 => 1i64..=13, 1 => -3i64..=40, 1 => Just(10_000)]
}

fn position() -> impl Strategy<Value = Position> {
    (count(), 0i64..8, 1i64..=8).prop_map(|(count, over, under)| Position::new(count.max(0), over % under, under))
}

fn span() -> impl Strategy<Value = CountSpan> {
    (count(), count()).prop_map(|(first, last)| CountSpan { first, last })
}

fn chord_name() -> impl Strategy<Value = ChordName> {
    select(vec!["A", "Bb", "Am", "E7", "F#7(add11)", "C(b9)", "G(blue)"])
        .prop_map(|name| ChordName::parse(name).unwrap())
}

fn action() -> impl Strategy<Value = Action> {
    use Action::{Alzapua, Damp, Down, Golpe, HammerOn, Picado, Pluck, PullOff, Rasgueado, Rest, Roll, Tremolo, Up};
    select(vec![
        Down, Up, Golpe, Pluck, Rasgueado, Roll, PullOff, HammerOn, Damp, Tremolo, Picado, Alzapua, Rest,
    ])
}

fn stroke() -> impl Strategy<Value = Stroke> {
    let hands = (
        vec(select(Finger::ALL.to_vec()), 0..3),
        vec(0u8..9, 0..3),
        option::of(0u8..30),
        option::of(0u8..6),
    );
    let times = (position(), option::of((1i64..5, 1i64..4)), option::of(position()));
    (action(), hands, times, place()).prop_map(|(action, hands, times, place)| {
        let mut stroke = Stroke::new(times.0, action, place);
        (stroke.fingers, stroke.strings, stroke.fret, stroke.left) = hands;
        stroke.length = times.1.map(|(over, under)| Pulses::new(over, under));
        stroke.arrival = times.2;
        stroke
    })
}

fn left_event() -> impl Strategy<Value = LeftEvent> {
    let action = select(vec![
        LeftAction::Put,
        LeftAction::Lift,
        LeftAction::Keep,
        LeftAction::Slide,
    ]);
    (
        position(),
        action,
        option::of(0u8..6),
        option::of(0u8..9),
        option::of(0u8..30),
        place(),
    )
        .prop_map(|(at, action, finger, string, fret, place)| LeftEvent {
            at,
            action,
            finger,
            string,
            fret,
            place,
            implied: None,
        })
}

fn pattern() -> impl Strategy<Value = Pattern> {
    let role = select(vec![Role::Core, Role::Variation, Role::Falseta, Role::Remate]);
    let change = (position(), chord_name(), place()).prop_map(|(at, chord, place)| Change {
        at,
        chord,
        place,
        implied: None,
    });
    let inside = (vec(stroke(), 0..12), vec(change, 0..4), vec(left_event(), 0..4));
    (role, option::of(span()), inside, option::of(position()), place()).prop_map(
        |(role, span, inside, runs_on, place)| Pattern {
            name: "p".to_owned(),
            role,
            span,
            strokes: inside.0,
            changes: inside.1,
            left: inside.2,
            runs_on,
            claims: Vec::new(),
            place,
        },
    )
}

fn chord() -> impl Strategy<Value = Chord> {
    let fingered = (0u8..6, 0u8..9, 0u8..30, 0u8..9).prop_map(|(finger, string, fret, to_string)| Fingered {
        finger,
        string,
        fret,
        to_string,
    });
    let shape = proptest::array::uniform6(option::of(0u8..20)).prop_map(|frets| ChordShape { frets });
    (chord_name(), option::of(shape), vec(fingered, 0..5), place()).prop_map(|(name, shape, fingers, place)| Chord {
        name,
        shape,
        fingers,
        place,
        shape_place: None,
        fingers_place: None,
        implied: None,
    })
}

fn lesson() -> impl Strategy<Value = Lesson> {
    let slugs: Vec<String> = table().iter().map(|palo| palo.slug.clone()).collect();
    let meter = (
        option::of(count()),
        vec(position(), 0..5),
        option::of(count()),
        option::of(vec(0i64..5, 0..13)),
    );
    let pace = option::of((0u32..500, 0u32..500));
    let body = (
        vec(pattern(), 0..5),
        vec(chord(), 0..4),
        vec(position(), 0..3),
        option::of(0u8..15),
    );
    (option::of(select(slugs)), meter, pace, body).prop_map(|(palo, meter, pace, body)| {
        let place = Place::default();
        let mut lesson = Lesson {
            id: "any".to_owned(),
            palo: palo.map(|palo| Said::new(palo, place)),
            tempo: pace.map(|(low, high)| Said::new(Tempo { low, high }, place)),
            key: Some(Said::new(
                Key {
                    tonic: NoteName::new('A', 0),
                    mode: Mode::Phrygian,
                },
                place,
            )),
            capo: body.3.map(|fret| Said::new(fret, place)),
            patterns: body.0,
            chords: body.1,
            ..Lesson::default()
        };
        lesson.meter.beats = meter.0.map(|beats| Said::new(beats, place));
        lesson.meter.accents = meter.1.into_iter().map(|at| Said::new(at, place)).collect();
        lesson.meter.first = meter.2.map(|first| Said::new(first, place));
        lesson.meter.lengths = meter.3.map(|lengths| Said::new(lengths, place));
        let caution = Caution {
            about: String::new(),
            place,
            counts: body.2,
        };
        lesson.cautions.push(caution);
        lesson
    })
}

fn judge(lesson: &Lesson) -> Vec<Finding> {
    let folder = Folder::default();
    let lessons = std::slice::from_ref(lesson);
    checks::judge(&Context::new(&folder, lessons, PaloTable::ours())).findings
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_check_panics_and_each_says_what_it_is(lesson in lesson()) {
        for finding in judge(&lesson) {
            let check = checks::find(&finding.rule);
            prop_assert!(check.is_some(), "{}", finding.rule);
            prop_assert!(!finding.message.is_empty() && !finding.message.ends_with('.'), "{}", finding.message);
        }
    }

    #[test]
    fn no_check_contradicts_another(lesson in lesson()) {
        let findings = judge(&lesson);
        let at = |rule: &str| -> Vec<Place> {
            findings.iter().filter(|finding| finding.rule == rule).map(|finding| finding.place).collect()
        };
        // What is out of reach in a chord is not told again as crossed. One chord at a time: places may coincide.
        for chord in &lesson.chords {
            let alone = Lesson { chords: vec![chord.clone()], ..Lesson::default() };
            let rules: Vec<String> = judge(&alone).into_iter().map(|finding| finding.rule).collect();
            let has = |rule: &str| rules.iter().any(|own| own == rule);
            prop_assert!(!(has("stretch-too-wide") && has("fingers-crossed")), "{rules:?}");
        }
        // One thing has one weight.
        for finding in &findings {
            let same = |other: &&Finding| {
                (other.place, &other.rule, &other.message, &other.also) == (finding.place, &finding.rule, &finding.message, &finding.also)
            };
            prop_assert!(findings.iter().filter(same).count() == 1, "{} twice", finding.rule);
        }
        // Without a tempo nothing is said about speed.
        if lesson.tempo.is_none() {
            for rule in ["finger-too-fast", "line-too-fast", "finger-repeats", "change-too-quick", "join-without-caution"] {
                prop_assert!(at(rule).is_empty(), "{rule}");
            }
        }
        // A finger in two places is at least as serious as a string that sounds wrong.
        for finding in findings.iter().filter(|finding| finding.rule == "held-into-next") {
            prop_assert!(finding.severity >= Severity::Warning);
        }
    }

    #[test]
    fn no_pulse_of_a_vuelta_is_lost(lesson in lesson()) {
        let Some(round) = Round::of(&lesson, PaloTable::ours()) else { return Ok(()) };
        let lengths: i64 = (1..=round.counts).map(|count| round.length_of(count)).sum();
        prop_assert_eq!(round.pulses(), Pulses::from_integer(lengths));
        // Count by count round the compás comes to the whole.
        for first in 1..=round.counts {
            let whole = CountSpan { first, last: first + round.counts - 1 };
            prop_assert_eq!(round.pulses_in(whole), round.pulses());
            let next = round.after(first, Position::count(first + round.counts));
            prop_assert_eq!(next, round.pulses());
        }
        let cycle = Cycle::of(&lesson, &round);
        for version in versions(&lesson, &round) {
            // A version replaces strokes; what the core has outside of the variations is all there.
            let regions = version.regions(&lesson, &round, &cycle);
            let all = happenings(&lesson, &round, &version, None);
            let plain = happenings(&lesson, &round, &versions(&lesson, &round)[0], None);
            if cycle.core.is_some() && versions(&lesson, &round)[0].variations.is_empty() {
                let outside = |timed: &&compasario::music::version::Timed| {
                    matches!(timed.what, Happening::Stroke(_)) && Some(timed.pattern) == cycle.core && !regions.iter().any(|(_, region)| region.holds(timed.at))
                };
                prop_assert_eq!(all.iter().filter(outside).count(), plain.iter().filter(outside).count());
            }
        }
        for mix in mixed_versions(&lesson, &round, 8) {
            let regions = mix.regions(&lesson, &round, &cycle);
            for (index, (_, one)) in regions.iter().enumerate() {
                for (_, other) in regions.iter().skip(index + 1) {
                    prop_assert!(one.end() <= other.from || other.end() <= one.from);
                }
            }
        }
    }

    #[test]
    fn joins_are_there_for_every_pair_of_versions(lesson in lesson()) {
        let all = joins(&lesson, PaloTable::ours());
        let Some(round) = Round::of(&lesson, PaloTable::ours()) else {
            prop_assert!(all.is_empty());
            return Ok(());
        };
        let count = versions(&lesson, &round).len();
        let pairs = all.iter().filter(|join| join.kind == JoinKind::Vueltas).count();
        prop_assert_eq!(pairs, count * count);
        for join in &all {
            prop_assert!(join.left.in_the_way.iter().all(|hold| join.left.lifts.contains(hold)));
            prop_assert!((1..=10_001).contains(&join.count));
        }
    }

    #[test]
    fn descriptions_of_rhythm_hold_for_anything(lesson in lesson()) {
        let Some(round) = Round::of(&lesson, PaloTable::ours()) else { return Ok(()) };
        let patterns: Vec<&Pattern> = lesson.patterns.iter().collect();
        if let Some(core) = patterns.first() {
            let mut order = near_to_far(core, &patterns, &round);
            order.sort_unstable();
            prop_assert_eq!(order, (0..patterns.len()).collect::<Vec<_>>());
            let told = leaning(core, &round);
            prop_assert!(told.with.iter().all(|at| !told.silent.contains(at)));
        }
    }
}
