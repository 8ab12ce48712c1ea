//! The rules of the house, held against the tree: the map in DEVELOPERS.md is the law.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use compasario::checks::{CHECKS, Run};
use regex::Regex;

/// Lines after which a file is two files.
const LONGEST: usize = 400;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder, sorted, as a path from the top of the project.
fn files(folder: &str, endings: &[&str]) -> Vec<PathBuf> {
    let walk = walkdir::WalkDir::new(root().join(folder)).sort_by_file_name();
    let files = walk
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_file());
    let paths = files.map(|entry| entry.path().strip_prefix(root()).unwrap().to_owned());
    let wanted = |path: &PathBuf| {
        path.extension()
            .is_some_and(|ending| endings.iter().any(|wanted| ending == *wanted))
    };
    paths.filter(wanted).collect()
}

fn text(path: &Path) -> String {
    fs::read_to_string(root().join(path)).unwrap()
}

/// The room a source file belongs to: `checks` for `src/checks/sums/told.rs`, `disk` for `src/disk.rs`.
fn room(path: &Path) -> String {
    let mut parts = path.strip_prefix("src").unwrap().components();
    let first = parts.next().unwrap().as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// The table of rooms in DEVELOPERS.md: the room and the rooms that it may use.
fn map() -> BTreeMap<String, BTreeSet<String>> {
    let row = Regex::new(r"(?m)^\| `src/([a-z_]+)(?:/|\.rs)` \|[^|]*\|([^|]*)\|$").unwrap();
    let page = text(Path::new("DEVELOPERS.md"));
    let rooms = row.captures_iter(&page).map(|row| {
        let uses = row[2].split(',').map(str::trim).filter(|name| !name.is_empty());
        (row[1].to_owned(), uses.map(str::to_owned).collect())
    });
    rooms.collect()
}

/// Code without comments and without its tests, so that only what is shipped counts.
fn shipped(code: &str) -> String {
    let code = code.split("#[cfg(test)]").next().unwrap_or(code);
    let lines = code.lines().filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn the_map_names_every_room_and_no_other() {
    let mut there: BTreeSet<String> = files("src", &["rs"]).iter().map(|path| room(path)).collect();
    there.remove("main");
    there.remove("lib");
    let mapped: BTreeSet<String> = map().into_keys().collect();
    assert_eq!(
        there, mapped,
        "left: the tree, right: the table of rooms in DEVELOPERS.md"
    );
}

#[test]
fn rooms_use_only_what_the_map_allows() {
    let map = map();
    let used = Regex::new(r"\bcrate::(?:\{([^}]*)\}|([a-z_]+))").unwrap();
    let mut wrong = Vec::new();
    // A file of tests may hold its room against another.
    let shipping = files("src", &["rs"])
        .into_iter()
        .filter(|path| !path.ends_with("tests.rs"));
    for path in shipping {
        let room = room(&path);
        let Some(allowed) = map.get(&room) else { continue };
        let code = shipped(&text(&path));
        for found in used.captures_iter(&code) {
            let names = found.get(1).or(found.get(2)).unwrap().as_str();
            for name in names
                .split(',')
                .map(|name| name.trim().split("::").next().unwrap_or(""))
            {
                if name != room && map.contains_key(name) && !allowed.contains(name) {
                    wrong.push(format!("{}: {room} may not use {name}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Packages that touch the world or carry a format have one home, so that they can be exchanged there.
#[test]
fn packages_stay_in_their_rooms() {
    let homes: &[(&str, &[&str])] = &[
        ("tera", &["pages"]),
        ("include_dir", &["pages"]),
        ("clap", &["cli", "commands"]),
        ("clap_complete", &["cli", "commands"]),
        ("clap_mangen", &["commands"]),
        ("anstream", &["commands"]),
        ("indicatif", &["commands"]),
        ("walkdir", &["intake"]),
        ("rayon", &["intake", "pipeline", "checks", "pages"]),
        ("notify", &["preview"]),
        ("ctrlc", &["preview"]),
        ("httparse", &["preview"]),
        ("tempfile", &["disk"]),
        ("rustix", &["disk", "commands"]),
        ("midly", &["exports"]),
        ("quick_xml", &["exports", "pages"]),
        ("similar", &["compare"]),
    ];
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]) {
        let (room, code) = (room(&path), shipped(&text(&path)));
        for (package, homes) in homes {
            let used = Regex::new(&format!(r"(^|[^a-z_:]){package}::"))
                .unwrap()
                .is_match(&code);
            if used && !homes.contains(&room.as_str()) {
                wrong.push(format!("{}: {package} belongs in {}", path.display(), homes.join(", ")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// All but these rooms are functions from values to values.
#[test]
fn the_world_is_touched_in_few_places() {
    let homes: &[(&str, &[&str])] = &[
        (
            r"\bstd::fs\b|\bfs::(read|write|create|remove|rename|copy|metadata|File)",
            &["intake", "disk", "commands", "preview"],
        ),
        // In `disk` only to forget what nobody asked for in a long time; no page depends on it.
        (r"\bSystemTime\b|\bInstant::now\b", &["commands", "preview", "disk"]),
        (r"\bstd::env::(var|args)|\benv::(var|args)", &["commands"]),
        (r"\be?print(ln)?!\(", &[]),
        (r"\bdbg!\(|\btodo!\(|\bunimplemented!\(", &[]),
        // Their order changes from run to run: a look-up may use them, an output may not.
        (r"\bHash(Map|Set)\b", &["text"]),
    ];
    let mut wrong = Vec::new();
    let rooms = files("src", &["rs"])
        .into_iter()
        .filter(|path| !path.ends_with("tests.rs"));
    for path in rooms {
        let (room, code) = (room(&path), shipped(&text(&path)));
        for (what, homes) in homes {
            if let Some(found) = Regex::new(what)
                .unwrap()
                .find(&code)
                .filter(|_| !homes.contains(&room.as_str()))
            {
                wrong.push(format!(
                    "{}: `{}` does not belong in {room}",
                    path.display(),
                    found.as_str()
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_file_is_longer_than_a_reader_can_hold() {
    let mut paths = files("src", &["rs"]);
    paths.extend(files("tests", &["rs", "py", "mjs"]));
    paths.extend(files("templates", &["html", "js", "css"]));
    let long = paths.iter().filter(|path| text(path).lines().count() > LONGEST);
    let long: Vec<String> = long
        .map(|path| format!("{} has {} lines", path.display(), text(path).lines().count()))
        .collect();
    assert!(long.is_empty(), "more than {LONGEST} lines:\n{}", long.join("\n"));
}

#[test]
fn every_door_says_what_it_is() {
    let doors = files("src", &["rs"])
        .into_iter()
        .filter(|path| path.ends_with("mod.rs") && path.components().count() == 3);
    let silent: Vec<String> = doors
        .filter(|path| text(path).lines().take_while(|line| line.starts_with("//!")).count() < 3)
        .map(|path| path.display().to_string())
        .collect();
    assert!(
        silent.is_empty(),
        "say what comes in, what goes out, what the room never does: {}",
        silent.join(", ")
    );
}

#[test]
fn every_check_has_its_file_and_its_fixture() {
    let sources: Vec<PathBuf> = files("src/checks", &["rs"]);
    let mut wrong = Vec::new();
    for check in CHECKS {
        let file = format!("{}.rs", check.id.replace('-', "_"));
        let has_file = sources.iter().any(|path| path.ends_with(&file));
        if matches!(check.run, Run::Elsewhere) {
            continue;
        }
        if !has_file {
            wrong.push(format!("{}: no file {file}", check.id));
        }
        if !root().join(format!("tests/checks/{}.txt", check.id)).is_file() {
            wrong.push(format!("{}: no fixture tests/checks/{}.txt", check.id, check.id));
        }
    }
    for path in files("tests/checks", &["txt"]) {
        let id = path.file_stem().unwrap().to_string_lossy().into_owned();
        if compasario::checks::find(&id).is_none() {
            wrong.push(format!("{}: no such check", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn check_ids_are_words_and_stand_once() {
    let shape = Regex::new(r"^[a-z]+(-[a-z0-9]+)*$").unwrap();
    let mut seen = BTreeSet::new();
    for check in CHECKS {
        assert!(shape.is_match(check.id), "{}", check.id);
        assert!(seen.insert(check.id), "{} stands twice", check.id);
        let example = &check.example;
        for part in [example.trips, example.right] {
            assert!(!part.trim().is_empty(), "{} has an empty part", check.id);
        }
        assert_ne!(example.trips, example.right, "{}", check.id);
    }
}

/// A rule that intake reports is explained, too.
#[test]
fn every_rule_of_intake_is_explained() {
    let rule = Regex::new(r#""((?:file|folder|head|note|private|caption|captions|time|address|language)-[a-z0-9-]+)""#)
        .unwrap();
    let mut missing = BTreeSet::new();
    for path in files("src/intake", &["rs"]) {
        for found in rule.captures_iter(&shipped(&text(&path))) {
            if compasario::checks::find(&found[1]).is_none() {
                missing.insert(found[1].to_owned());
            }
        }
    }
    assert!(missing.is_empty(), "no row in src/checks/files.rs: {missing:?}");
}

/// Nothing in the project speaks of the machine it was built on.
#[test]
fn no_file_names_this_machine() {
    let mut paths = files("src", &["rs", "toml", "json"]);
    paths.extend(files("templates", &["html", "js", "css"]));
    paths.extend(["README.md", "DEVELOPERS.md"].map(PathBuf::from));
    let here = Regex::new(r"/work/|/home/|/root/|localhost:\d").unwrap();
    let named: Vec<String> = paths
        .iter()
        .filter_map(|path| Some(format!("{}: {}", path.display(), here.find(&text(path))?.as_str())))
        .collect();
    assert!(named.is_empty(), "{}", named.join("\n"));
}
