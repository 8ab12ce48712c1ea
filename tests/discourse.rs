//! Every rule of discourse and of clauses has a table of lessons it reads and near misses it must not (`tests/discourse/`).

#[path = "discourse/table.rs"]
mod table;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use table::Table;

const READING: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/reading");
const TABLES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/discourse");

/// Files of the rooms, and single files beside them, that hold rules.
const ROOMS: [&str; 2] = ["discourse", "clauses"];
const FILES: [&str; 21] = [
    "first_moment.rs",
    "turns.rs",
    "old_count.rs",
    "recital.rs",
    "said_over.rs",
    "stays.rs",
    "one_finger.rs",
    "count_lines.rs",
    "legend.rs",
    "rows.rs",
    "sounds.rs",
    "own_sounds.rs",
    "gestures.rs",
    "shapes_told.rs",
    "corrections.rs",
    "merge.rs",
    "voices.rs",
    "unread.rs",
    "moments.rs",
    "spans.rs",
    "slots.rs",
];

/// Files of the rooms without a rule, and why.
const NO_RULE: [(&str, &str); 2] = [
    ("discourse/mod.rs", "the state that the rules work on"),
    ("discourse/describe.rs", "a stroke put into words for the teacher"),
];

/// Cases that a careful guitarist would read and this reader does not. The list may only shrink.
const KNOWN: [(&str, &str); 9] = [
    // A finger said of "three notes" goes onto the first of them only.
    ("clauses", "three notes of the thumb's, with their names"),
    // A stroke told for two counts at once is put under the first of them.
    ("count-lines", "two counts in front of the stop"),
    // X is the little finger's letter, whatever the note says.
    ("legend", "a finger by a letter that is another finger's elsewhere"),
    // Strokes without a count are placed behind the count told last.
    ("moment", "words of the trade that tell no moment"),
    // A sign stands for one stroke, not for two.
    ("names", "the writer's own sign for a stroke"),
    // Of several fingers whose strokes are still to come the last one is kept.
    ("row-said", "two fingers, two strokes"),
    // Rows without bars between them are aligned by their columns, whether they fit or not.
    ("rows", "lists that are not of one length"),
    // "la tercera en el segundo": an ordinal is a fret only in front of the word for it.
    ("shapes-told", "in Spanish, frets by their ordinals alone"),
    // What does not fit its counts is put into the first of them.
    ("slots", "more groups than counts"),
];

const LEAST_CASES: usize = 3;
const LEAST_NEAR_MISSES: usize = 2;

fn tables() -> Vec<Table> {
    let entries = std::fs::read_dir(TABLES).expect("the tables");
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "txt"));
    paths.sort();
    let read = |path: &PathBuf| {
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        let text = std::fs::read_to_string(path).expect("a table");
        table::parse(&name, &text).unwrap_or_else(|wrong| panic!("{wrong}"))
    };
    paths.iter().map(read).collect()
}

#[test]
fn every_table_is_kept() {
    let (mut wrong, mut met) = (Vec::new(), Vec::new());
    for table in tables() {
        for case in &table.cases {
            let outcomes = table::outcomes(&table::read(case));
            let known = KNOWN.contains(&(&table.name, &case.title));
            match (table::holds(case, &outcomes), known) {
                (true, true) => met.push(format!("{}: {}", table.name, case.title)),
                (false, false) => {
                    let kind = if case.near_miss { ", a near miss" } else { "" };
                    let sides = table::side_by_side(case, &outcomes);
                    wrong.push(format!("{}.txt{kind}: {}\n{sides}", table.name, case.title));
                }
                _ => {}
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n\n"));
    assert!(met.is_empty(), "read by now, take it out of KNOWN:\n{}", met.join("\n"));
}

#[test]
fn every_known_gap_stands_in_a_table() {
    let tables = tables();
    for (name, title) in KNOWN {
        let table = tables.iter().find(|table| table.name == name);
        let stands = table.is_some_and(|table| table.cases.iter().any(|case| case.title == title));
        assert!(stands, "{name}.txt has no case `{title}`");
    }
}

#[test]
fn every_rule_has_a_table() {
    let mut files: BTreeSet<String> = FILES.iter().map(|file| (*file).to_owned()).collect();
    for room in ROOMS {
        let entries = std::fs::read_dir(Path::new(READING).join(room)).expect("a room of the reader");
        let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
        files.extend(names.map(|name| format!("{room}/{name}")));
    }
    let tables = tables();
    let told: BTreeSet<&String> = tables.iter().flat_map(|table| &table.rules).collect();
    let without: Vec<&String> = files
        .iter()
        .filter(|file| !told.contains(file) && !NO_RULE.iter().any(|(no_rule, _)| file == no_rule))
        .collect();
    assert!(without.is_empty(), "no table in tests/discourse names {without:?}");
    let gone: Vec<&&String> = told
        .iter()
        .filter(|file| !Path::new(READING).join(file).exists())
        .collect();
    assert!(gone.is_empty(), "tables of files that are not there: {gone:?}");
}

#[test]
fn every_table_is_large_enough() {
    let short = tables().into_iter().filter_map(|table| {
        let near = table.cases.iter().filter(|case| case.near_miss).count();
        let cases = table.cases.len() - near;
        let small = cases < LEAST_CASES || near < LEAST_NEAR_MISSES || table.rules.is_empty();
        small.then(|| {
            format!(
                "{}: {cases} cases, {near} near misses, rules {:?}",
                table.name, table.rules
            )
        })
    });
    let short: Vec<String> = short.collect();
    assert!(short.is_empty(), "\n{}", short.join("\n"));
}

/// A case without an outcome, or a near miss that forbids nothing, cannot fail.
#[test]
fn every_case_can_fail() {
    for table in tables() {
        for case in &table.cases {
            let said = if case.near_miss {
                !case.forbidden.is_empty()
            } else {
                !case.expected.is_empty()
            };
            assert!(
                said && !case.notes.is_empty(),
                "{}.txt: {} says nothing",
                table.name,
                case.title
            );
        }
    }
}
