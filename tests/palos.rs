//! The palos as data: each figure says what it rests on, and what is attested is there.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use compasario::music::palo::{self, Palo};
use toml::Value;

fn data(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/data").join(name);
    toml::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// Keys that hold a figure: a table with one of them has to say what it rests on.
const FIGURES: [&str; 10] = [
    "at", "count", "counts", "lengths", "groups", "row", "low", "high", "tonic", "claps",
];

const COMMON: &str = "common practice, no source";

/// What is wrong with the sources in a table and in all tables inside it.
fn unsourced(value: &Value, way: &str, known: &BTreeSet<String>, wrong: &mut Vec<String>) {
    match value {
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                unsourced(item, &format!("{way}[{index}]"), known, wrong);
            }
        }
        Value::Table(table) => {
            let name = table.get("slug").and_then(Value::as_str).unwrap_or(way);
            let source = table.get("source").and_then(Value::as_str);
            if FIGURES.iter().any(|key| table.contains_key(*key)) && source.is_none() {
                wrong.push(format!("{way}: a figure without a source"));
            }
            let keys = source
                .filter(|source| *source != COMMON)
                .into_iter()
                .flat_map(|source| source.split(", "));
            wrong.extend(
                keys.filter(|key| !known.contains(*key))
                    .map(|key| format!("{way}: what is {key}?")),
            );
            for (key, inside) in table {
                unsourced(inside, &format!("{name}.{key}"), known, wrong);
            }
        }
        _ => {}
    }
}

fn known_sources() -> BTreeSet<String> {
    let sources = data("sources.toml");
    let list = sources["source"].as_array().unwrap();
    list.iter()
        .map(|source| source["key"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn every_figure_has_a_source() {
    let mut wrong = Vec::new();
    unsourced(&data("palos.toml"), "palos", &known_sources(), &mut wrong);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_figure_without_a_source_is_seen() {
    let without = "[[palo]]\nslug = \"solea\"\ntempo = [{ low = 70, high = 100, per = \"count\" }]\n";
    let unknown = "[[palo]]\nslug = \"solea\"\ntempo = [{ low = 70, high = 100, source = \"NOBODY\" }]\n";
    for (text, expected) in [
        (without, "solea.tempo[0]: a figure without a source"),
        (unknown, "solea.tempo[0]: what is NOBODY?"),
    ] {
        let mut wrong = Vec::new();
        unsourced(&toml::from_str(text).unwrap(), "palos", &known_sources(), &mut wrong);
        assert_eq!(wrong, [expected]);
    }
}

/// What the sources attest of each palo (keys of `sources.toml`): the counts it is counted in, each accent set, the count
/// a round begins on, each tempo range, tonics as fingered. `free`: no count at all.
const ATTESTED: &str = "
solea                counts 12        starts 1    accents 3 6 8 10 12      [KL, MH]
solea                tempo 70 100     tempo 90 90 key E phrygian           [HOF, LAB1, W-SOL]
solea                key A phrygian                                        [JF]
solea-por-buleria    counts 12                    accents 3 6 8 10 12      [MH]
solea-por-buleria    key A phrygian                                        [W-SOL]
buleria              counts 12        starts 12   accents 12 3 6 8 10      [W-BUL, FGB]
buleria              counts 12                    accents 12 3 7 8 10      [BR04]
buleria              counts 6 3       tempo 195 240 tempo 180 240          [W-BUL, HOF]
buleria              key A phrygian                                        [W-BUL]
alegrias             counts 12                    accents 3 6 8 10 12      [W-ALG]
alegrias             tempo 120 170    tempo 160 160                        [W-ALG, AQ]
alegrias             key E major      key A major key C major              [KLC, DL]
cantinas             counts 12        key C major key E major key A major key G major [KLC]
cana                 counts 12                    accents 3 6 8 10 12      [MH]
siguiriya            counts 5 12      starts 1    accents 1 3 5 8 11       [KL, W-SIG, BR04]
siguiriya            counts 12        starts 8    accents 8 10 12 3 6      [KL, W-SIG]
siguiriya            key A phrygian                                        [W-SIG]
martinete            free                                                  [W-MAR]
guajira              counts 12        starts 12   accents 12 3 6 8 10      [W-GUA, BR04]
guajira              accents 1 4 7 9 11                                    [BR04]
petenera             counts 12        starts 12                            [W-PET]
tangos               counts 4 8                   accents 2 3 4            [FB, LAB2]
tangos               accents 2 4      tempo 110 150                        [HOF]
tangos               key A phrygian                                        [W-TAN]
tientos              counts 4                     accents 1 2+1/2          [ALB, LAB3]
rumba                counts 4                     accents 1 2+1/2 4        [W-RUM]
rumba                tempo 100 120                                         [W-RUM]
tanguillos           counts 2 6       tempo 110 130                        [LAB4, MAR]
farruca              counts 8                     accents 1 3 5 7          [FAR]
farruca              key A minor                                           [FAR, CC]
garrotin             counts 2 4                                            [W-GAR, MH]
zapateado            counts 6                     accents 1 4              [cp]
fandangos-de-huelva  counts 6 12                  accents 3 5              [KLF]
fandangos-de-huelva  accents 3 6      accents 1 4 key E phrygian           [QF, KLF]
sevillanas           counts 3                     accents 1                [SEV, MEM, QF]
malaguena            free             key E phrygian                       [QF, FAT, ORT]
taranta              free             key F# phrygian                      [W-TAR]
taranto              counts 2                                              [W-TAR]
granaina             free             key B phrygian                       [ORT, W-FLA, AND]
minera               free             key G# phrygian                      [DA, AND]
rondena              free             key C# phrygian                      [RON, W-FLA]
";

/// `accents 3 6 8` is a name and what belongs to it.
fn facts(line: &str) -> (String, Vec<(String, Vec<String>)>) {
    let line = line.split('[').next().unwrap_or("");
    let mut words = line.split_whitespace();
    let palo = words.next().unwrap_or("").to_owned();
    let mut facts: Vec<(String, Vec<String>)> = Vec::new();
    for word in words {
        let names = ["counts", "starts", "accents", "tempo", "key", "free"];
        match facts.last_mut().filter(|_| !names.contains(&word)) {
            Some((_, values)) => values.push(word.to_owned()),
            None => facts.push((word.to_owned(), Vec::new())),
        }
    }
    (palo, facts)
}

fn has(palo: &Palo, name: &str, values: &[String]) -> bool {
    let whole = |value: &String| value.parse::<i64>().unwrap();
    match name {
        "free" => palo.free && palo.compas.is_empty() && palo.tempo.is_empty(),
        "counts" => values
            .iter()
            .map(whole)
            .all(|counts| palo.counted_in(counts).next().is_some()),
        "starts" => palo
            .compas
            .iter()
            .any(|way| way.starts.iter().any(|start| start.count == whole(&values[0]))),
        "accents" => palo.compas.iter().flat_map(|way| &way.accents).any(|set| {
            let said: Vec<String> = set.at.iter().map(ToString::to_string).collect();
            said == values
        }),
        "tempo" => palo
            .tempo
            .iter()
            .any(|range| (i64::from(range.low), i64::from(range.high)) == (whole(&values[0]), whole(&values[1]))),
        "key" => palo.keys.iter().any(|key| {
            let mode = serde_json::to_value(key.mode).unwrap();
            key.tonic.to_string() == values[0] && mode == values[1].as_str()
        }),
        other => panic!("what is {other}?"),
    }
}

#[test]
fn what_is_attested_is_there() {
    let mut palos = BTreeSet::new();
    let mut wrong = Vec::new();
    for line in ATTESTED.lines().filter(|line| !line.trim().is_empty()) {
        let (slug, facts) = facts(line);
        let palo = palo::find(&slug).unwrap_or_else(|| panic!("no {slug}"));
        palos.insert(slug.clone());
        let missing = facts.iter().filter(|(name, values)| !has(palo, name, values));
        wrong.extend(missing.map(|(name, values)| format!("{slug}: {name} {}", values.join(" "))));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(palos.len() >= 20, "{}", palos.len());
}
