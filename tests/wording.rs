//! The words of findings: each check says what it finds, why it matters, what is wrong and what would mend it, in both
//! languages, and a note is spoken to in its own.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use compasario::checks;
use compasario::pipeline;
use compasario::text::Language;
use regex::Regex;

type Tables = BTreeMap<String, BTreeMap<String, String>>;

fn tables(language: &str) -> Tables {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("src/data/findings.{language}.toml"));
    toml::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn every_check_has_its_words_and_no_words_are_left_over() {
    let rules: BTreeSet<&str> = checks::rules().map(|rule| rule.id).collect();
    for language in ["en", "es"] {
        let tables = tables(language);
        let told: BTreeSet<&str> = tables
            .keys()
            .map(String::as_str)
            .filter(|table| *table != "phrases")
            .collect();
        assert_eq!(told, rules, "{language}: the words, and the checks");
        for (rule, words) in tables.iter().filter(|(table, _)| *table != "phrases") {
            for key in ["finds", "matters"] {
                assert!(
                    words.get(key).is_some_and(|text| text.ends_with('.')),
                    "{language} {rule}: {key}"
                );
            }
            for key in ["message", "help"] {
                let says = |known: &&String| known.as_str() == key || known.starts_with(&format!("{key}_"));
                assert!(words.keys().any(|known| says(&known)), "{language} {rule}: {key}");
            }
        }
    }
}

/// A phrase that code asks for is there; what is not asked for by its name is asked for by parts of it.
#[test]
fn every_phrase_that_is_asked_for_is_there() {
    let asked = Regex::new(r#"phrase\(\s*"([a-z_]+)""#).unwrap();
    let phrases = &tables("en")["phrases"];
    let mut found = 0;
    for entry in walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/checks")) {
        let path = entry.unwrap().into_path();
        if path.extension().is_none_or(|ending| ending != "rs") {
            continue;
        }
        for key in asked.captures_iter(&fs::read_to_string(&path).unwrap()) {
            found += 1;
            assert!(phrases.contains_key(&key[1]), "{}: {}", path.display(), &key[1]);
        }
    }
    assert!(found > 5, "{found} phrases");
}

/// One note in both languages, with the same mistakes.
#[test]
fn a_spanish_note_is_spoken_to_in_spanish() {
    let both = [
        (
            "tangos.notes.txt",
            "[0:00] Tangos por medio (A phrygian)\n[0:07] Count 4. Accents 2 3 5. Tempo 112\n[0:14] A x02210\n\
             [0:20] 1-4 A: 1 golpe (a), 2 i dn, & i up, 3 i dn, & i up, 4 p dn\n[0:30] V1, replaces 3\n\
             [0:34] 3 p s5 f3 (D), & p s5 f1 (Bb)\n",
        ),
        (
            "tangos.es.notes.txt",
            "[0:00] Tangos por medio (la frigio)\n[0:07] compás de 4, acentos 2 3 5. tempo 112\n[0:14] A x02210\n\
             [0:20] 1-4 A: 1 golpe (a), 2 i ab, y i arr, 3 i ab, y i arr, 4 p ab\n[0:30] V1, sustituye a 3\n\
             [0:34] 3 p s5 f3 (re), y p s5 f1 (si bemol)\n",
        ),
    ];
    let told = both.map(|(name, text)| {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        let findings = pipeline::review(&path).unwrap().findings;
        let told = findings
            .iter()
            .map(|finding| (finding.rule.clone(), finding.message.clone(), finding.language));
        told.collect::<Vec<_>>()
    });
    let rules =
        |told: &[(String, String, Language)]| -> Vec<String> { told.iter().map(|(rule, _, _)| rule.clone()).collect() };
    let [english, spanish] = told;
    assert_eq!(
        rules(&english),
        ["accent-past-compas", "shape-contradicts-name", "note-contradicts-fret"]
    );
    assert_eq!(rules(&english), rules(&spanish));
    assert!(english.iter().all(|(_, _, language)| *language == Language::English));
    let messages: Vec<&str> = spanish.iter().map(|(_, message, _)| message.as_str()).collect();
    assert_eq!(
        messages,
        [
            "hay un acento en el 5, pero el compás tiene 4 tiempos",
            "x02210 se da para A, pero suena A E A C E: no hay C#, la tercera mayor, sino C",
            "la cuerda 5 en el traste 3 se llama D, pero suena C",
        ]
    );
}
