//! The published schemas and what is printed name the same fields. `tests/outside/schemas.py` validates real output
//! with an independent validator (Python's jsonschema, JSON Schema 2020-12).

use std::collections::BTreeSet;

use compasario::exports::facts::{
    AccentFact, CautionFacts, ChangeFacts, ChordFacts, Facts, LessonFacts, MeterFacts, PatternFacts, ReadingFacts,
    StrokeFacts, UnreadFacts,
};
use compasario::findings::{Finding, Severity, json};
use compasario::music::chord::{ChordName, ChordShape};
use compasario::music::hand::Finger;
use compasario::music::key::{Key, Mode, Tempo};
use compasario::music::pattern::Role;
use compasario::music::pitch::NoteName;
use compasario::music::position::Position;
use compasario::music::stroke::Action;
use serde_json::Value;

fn schema(name: &str) -> Value {
    let path = format!("{}/src/data/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Every name of a field in a value.
fn names(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, value)| {
            into.insert(name.clone());
            names(value, into);
        }),
        Value::Array(items) => items.iter().for_each(|item| names(item, into)),
        _ => {}
    }
}

/// Every name under a `properties` of a schema.
fn properties(schema: &Value, into: &mut BTreeSet<String>) {
    if let Some(fields) = schema.get("properties").and_then(Value::as_object) {
        into.extend(fields.keys().cloned());
    }
    match schema {
        Value::Object(fields) => fields.values().for_each(|value| properties(value, into)),
        Value::Array(items) => items.iter().for_each(|item| properties(item, into)),
        _ => {}
    }
}

#[track_caller]
fn same_names(printed: &Value, schema: &Value) {
    let (mut there, mut published) = (BTreeSet::new(), BTreeSet::new());
    names(printed, &mut there);
    properties(schema, &mut published);
    assert_eq!(there, published, "left: printed, right: published");
}

/// Facts with every field filled. No `..Default`: a new field has to be filled here, and then published.
fn full_facts() -> Facts {
    let name = |text: &str| ChordName::parse(text).unwrap();
    let at = |text: &str| Position::parse(text).unwrap();
    Facts {
        lesson: LessonFacts {
            title: Some("first compás".to_owned()),
            palo: Some("tangos".to_owned()),
            meter: Some(MeterFacts {
                beats: Some(4),
                accents: vec![AccentFact::Count(2), AccentFact::Position(at("2+1/2"))],
                first: Some(12),
            }),
            tempo: Some(Tempo { low: 90, high: 110 }),
            key: Some(Key {
                tonic: NoteName::parse("A").unwrap(),
                mode: Mode::Phrygian,
            }),
            capo: Some(2),
        },
        chords: vec![ChordFacts {
            name: name("A"),
            frets: ChordShape::parse("x02220"),
        }],
        patterns: vec![PatternFacts {
            name: "v1".to_owned(),
            kind: "variation".to_owned(),
            role: Some(Role::Falseta),
            beats: Some([3, 4]),
            strokes: vec![StrokeFacts {
                at: at("3"),
                action: Action::Pluck,
                fingers: vec![Finger::P],
                strings: vec![5],
                note: NoteName::parse("C"),
                rest_stroke: Some(true),
                fret: Some(3),
                implied: Some("same as before".to_owned()),
            }],
            changes: vec![ChangeFacts {
                at: at("3"),
                chord: name("Bb"),
            }],
        }],
        cautions: vec![CautionFacts {
            line: 4,
            about: "the third finger".to_owned(),
            counts: vec![compasario::music::position::Position::count(4)],
        }],
        repeats: Some(4),
        unread: vec![UnreadFacts {
            line: 9,
            time: Some("0:41".to_owned()),
            text: "and 3 somehow".to_owned(),
            reason: "it does not say what is played".to_owned(),
            musical: true,
        }],
        readings: vec![ReadingFacts {
            line: 4,
            time: Some("0:20".to_owned()),
            what: "3: down p".to_owned(),
            implied: Some("same as 1".to_owned()),
        }],
    }
}

#[test]
fn facts_and_their_schema_name_the_same_fields() {
    same_names(&serde_json::to_value(full_facts()).unwrap(), &schema("facts"));
}

#[test]
fn findings_and_their_schema_name_the_same_fields() {
    let finding = Finding {
        place: compasario::text::Place::default(),
        severity: Severity::Error,
        rule: "a-check".to_owned(),
        message: "one thing contradicts another".to_owned(),
        help: "correct it".to_owned(),
        also: Vec::new(),
        language: compasario::text::Language::English,
    };
    let report = json::report(&[finding], &[]);
    same_names(&serde_json::to_value(report).unwrap(), &schema("findings"));
}

/// The published schema of a comparison is made from the types; `UPDATE_GOLDEN=1` writes it anew.
#[test]
fn the_schema_of_a_comparison_is_that_of_its_types() {
    let mut made = serde_json::to_value(schemars::schema_for!(compasario::compare::Comparison)).unwrap();
    made["description"] = "What `compasario compare OLD NEW --format json` prints. Fields may be added in later versions; none is renamed or removed.".into();
    let path = format!("{}/src/data/comparison.schema.json", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("UPDATE_GOLDEN").is_some() && std::env::var_os("CI").is_none() {
        std::fs::write(&path, serde_json::to_string_pretty(&made).unwrap() + "\n").unwrap();
    }
    assert_eq!(made, schema("comparison"));
}

/// The words of the contract are those of the enums.
#[test]
fn the_actions_of_the_schema_are_those_of_the_model() {
    let published = &schema("facts")["$defs"]["stroke"]["properties"]["do"]["enum"];
    for action in published.as_array().unwrap() {
        serde_json::from_value::<Action>(action.clone()).unwrap_or_else(|_| panic!("{action} is no action"));
    }
    let known = [
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
    for action in known {
        let word = serde_json::to_value(action).unwrap();
        assert!(published.as_array().unwrap().contains(&word), "{word} is not published");
    }
}
