//! Damages that need the facts of a lesson: in speech as in typed notes, the text is held against the gold.

use std::collections::BTreeSet;

use regex::Captures;

use crate::damages::Damage;
use crate::gold::{Gold, Pattern, Struck};
use crate::oracle::{pitch_class, shape_fits, sounds};
use crate::text::{ORDINALS, SPANISH, across_captions, lines, listed_fret, place_in, string_number, with, words};

pub fn all(text: &str, gold: &Gold) -> Vec<Damage> {
    let mut damages = shapes(text, gold);
    damages.extend(notes(text));
    damages.extend(numbers(text, gold));
    damages.extend(accents(text, gold));
    damages.extend(spans(text, gold));
    damages.extend(rows(text, gold));
    damages
}

/// "E is open, 2, 2, 1, open, open": each fret one higher.
fn shapes(text: &str, gold: &Gold) -> Vec<Damage> {
    let words = words(text);
    let told: Vec<(usize, i32, String)> = (0..words.len())
        .filter_map(|index| listed_fret(&words, index).map(|(fret, next)| (index, fret, next)))
        .collect();
    let mut damages = Vec::new();
    for chord in &gold.chords {
        let Some(frets) = &chord.frets else { continue };
        let played: Vec<(usize, i32)> = frets
            .char_indices()
            .filter_map(|(at, fret)| Some((at, fret.to_digit(10)? as i32)))
            .collect();
        let is_there = |window: &&[(usize, i32, String)]| {
            let near = window.windows(2).all(|pair| pair[1].0 - pair[0].0 <= 8);
            near && window
                .iter()
                .map(|told| told.1)
                .eq(played.iter().map(|played| played.1))
        };
        let Some(window) = told.windows(played.len().max(1)).find(is_there) else {
            continue;
        };
        for ((index, fret, next), (at, _)) in window.iter().zip(&played) {
            if *fret == 0 {
                continue;
            }
            let new = format!("{}{}{}", &frets[..*at], fret + 1, &frets[at + 1..]);
            let minor = chord.name[1..].trim_start_matches(['b', '#']).starts_with('m') && !chord.name.contains("maj");
            let root = &chord.name[..chord.name[1..].chars().take_while(|mark| "b#".contains(*mark)).count() + 1];
            let first = words[window[0].0].range.start;
            let last = words[window[window.len() - 1].0].range.end;
            damages.push(Damage {
                kind: "a shape and its name",
                adds_up: shape_fits(root, minor, &new) != Some(false),
                text: with(text, words[*index].range.clone(), next),
                rules: &["shape-contradicts-name"],
                lines: lines(text, first.saturating_sub(160)..last),
                names: vec![new.clone(), chord.name.clone()],
                what: format!("{} {frets} -> {new}", chord.name),
            });
        }
    }
    damages
}

/// A name of a pitch as it is said, in letters.
fn letters(name: &str) -> Option<String> {
    let name = name.to_lowercase();
    let mut parts = name.split_whitespace();
    let first = parts.next()?;
    let letter = match first {
        "do" => "C",
        "re" => "D",
        "mi" => "E",
        "fa" => "F",
        "sol" => "G",
        "la" => "A",
        "si" => "B",
        _ if first.len() == 1 => &first.to_uppercase(),
        _ => return None,
    };
    let mark = match parts.next() {
        Some("sharp" | "sostenido") => "#",
        Some("flat" | "bemol") => "b",
        _ => "",
    };
    Some(format!("{letter}{mark}"))
}

/// The next name up the scale, said in the same language.
fn another(name: &str) -> String {
    const SOLFA: [&str; 7] = ["do", "re", "mi", "fa", "sol", "la", "si"];
    let first = name.split_whitespace().next().unwrap_or("").to_lowercase();
    match SOLFA.iter().position(|known| *known == first) {
        Some(at) => SOLFA[(at + 1) % 7].to_owned(),
        None => {
            let letter = first.to_uppercase().chars().next().unwrap_or('A');
            ((b'A' + (letter as u8 - b'A' + 1) % 7) as char).to_string()
        }
    }
}

const PITCH: &str = r"(?:[A-G](?:_sharp|_flat)?|(?:do|re|mi|fa|sol|la|si)(?:_sostenido|_bemol)?)";

/// "fifth string, third fret, C": another fret, another name.
fn notes(text: &str) -> Vec<Damage> {
    let english = format!(
        r"\b(first|second|third|fourth|fifth|sixth)_string,?_(?:(first|second|third|fourth|fifth|sixth|seventh)_fret|open),?_(?:which_is_|that's_|it's_)?({PITCH})\b"
    );
    let spanish = format!(
        r"\b(primera|segunda|tercera|cuarta|quinta|sexta)(?:_cuerda)?,?_(?:en_el_traste_(uno|dos|tres|cuatro|cinco|seis|siete)|al_aire),?_(?:que_es_)?({PITCH})\b"
    );
    let mut damages = Vec::new();
    for (pattern, list) in [(english, &ORDINALS), (spanish, &SPANISH)] {
        for found in across_captions(&pattern).captures_iter(text) {
            damages.extend(note(text, &found, list));
        }
    }
    damages
}

fn note(text: &str, found: &Captures, list: &[&str; 13]) -> Vec<Damage> {
    let string = string_number(&found[1]).unwrap();
    let fret = found.get(2).and_then(|fret| place_in(list, fret.as_str())).unwrap_or(0);
    let name = letters(&found[3]).unwrap();
    if pitch_class(&name) != Some(sounds(string, fret as i32)) {
        return Vec::new();
    }
    let damage = |group: usize, by: &str, fret: usize, name: &str| Damage {
        kind: "a fret and its note",
        adds_up: pitch_class(name) == Some(sounds(string, fret as i32)),
        text: with(text, found.get(group).unwrap().range(), by),
        rules: &["note-contradicts-fret"],
        lines: lines(text, found.get(0).unwrap().range()),
        names: vec![
            if fret == 0 {
                format!("string {string} open|la cuerda {string} al aire")
            } else {
                format!("string {string} fret {fret}|la cuerda {string} en el traste {fret}")
            },
            name.to_owned(),
        ],
        what: format!("string {string} fret {fret} {name}"),
    };
    let other = another(&found[3]);
    let mut damages = vec![damage(3, &other, fret, &letters(&other).unwrap())];
    if fret > 0 {
        damages.push(damage(2, list[fret + 1], fret + 1, &name));
    }
    damages
}

/// "5 is a triplet", "6, cuatro semicorcheas": the other number for the same notes.
fn numbers(text: &str, gold: &Gold) -> Vec<Damage> {
    let said = across_captions(
        r"\b(\d+)\b[^.\n]{0,40}?\b(a_triplet|triplet|un_tresillo|tresillo|four_semiquavers|four_sixteenths|cuatro_semicorcheas)\b",
    );
    let mut damages = Vec::new();
    for found in said.captures_iter(text) {
        let words = found[2].to_lowercase();
        let three = words.contains("triplet") || words.contains("tresillo");
        let notes = if three { 3 } else { 4 };
        let parts = |position: &str, count: &str| position == count || position.starts_with(&format!("{count}+"));
        let divided = gold.patterns.iter().any(|pattern| {
            let in_count = pattern.strokes.iter().filter(|stroke| parts(&stroke.at, &found[1]));
            let moments: BTreeSet<String> = in_count.map(|stroke| stroke.at.clone()).collect();
            moments.len() == notes
        });
        // "5: the same triplet" has no list beside it.
        let alike = found[0].contains("same") || found[0].contains("mism");
        if !divided || alike {
            continue;
        }
        let spanish = words.contains("tresillo") || words.contains("cuatro");
        let (by, names) = match (three, spanish) {
            (true, false) => ("four semiquavers", ["4", "3"]),
            (true, true) => ("cuatro semicorcheas", ["4", "3"]),
            (false, false) => ("a triplet", ["three|tres notas", "4"]),
            (false, true) => ("un tresillo", ["three|tres notas", "4"]),
        };
        damages.push(Damage {
            kind: "a number and its list",
            adds_up: false,
            text: with(text, found.get(2).unwrap().range(), by),
            rules: &["too-few-notes", "notes-in-triplet"],
            lines: lines(text, found.get(0).unwrap().range()),
            names: names.map(str::to_owned).to_vec(),
            what: format!("{words} -> {by}"),
        });
    }
    damages
}

/// The accents of the gold in a row: the last one past the compás.
fn accents(text: &str, gold: &Gold) -> Vec<Damage> {
    let (Some(beats), wanted) = (gold.lesson.meter.beats, gold.accents()) else {
        return Vec::new();
    };
    if wanted.len() < 2 || wanted.iter().any(|accent| accent.contains('+')) {
        return Vec::new();
    }
    let between = r"(?:,?_(?:and_|y_)?(?:on_|en_)?(?:el_)?)";
    let row = across_captions(&format!(
        r"\b(?:acc|accents?|weight|acentos?|peso|lean)\b[^.]{{0,50}}?\b{}\b",
        wanted
            .iter()
            .map(|accent| format!("({accent})"))
            .collect::<Vec<_>>()
            .join(between)
    ));
    let Some(found) = row.captures(text) else {
        return Vec::new();
    };
    // A core may go straight through two compases: its accents do so, too.
    let cores = gold.patterns.iter().filter(|pattern| pattern.kind == "core");
    let past = cores
        .filter_map(|core| core.beats)
        .map(|beats| beats[1])
        .max()
        .unwrap_or(0)
        .max(beats)
        + 1;
    vec![Damage {
        kind: "an accent and the compás",
        adds_up: false,
        text: with(text, found.get(wanted.len()).unwrap().range(), &past.to_string()),
        rules: &["accent-past-compas"],
        lines: lines(text, found.get(0).unwrap().range()),
        names: vec![format!("on {past}|en el {past}"), beats.to_string()],
        what: format!("accents {} -> {past} of {beats}", wanted.join(" ")),
    }]
}

/// "replaces 4-6", "takes the place of 10, 11 and 12": the last count left out, for which strokes are given all the same.
fn spans(text: &str, gold: &Gold) -> Vec<Damage> {
    let said = across_captions(
        r"\b(?:takes_the_place_of|in_place_of|instead_of|replaces|en_lugar_del?|cambiamos)_((?:el_)?(\d+)(?:-(\d+)|(?:,?_(?:and_|y_)?(?:el_)?\d+)+))\b",
    );
    let mut damages = Vec::new();
    for found in said.captures_iter(text) {
        let listed = &found[1];
        let counts: Vec<i64> = listed
            .split(|letter: char| !letter.is_ascii_digit())
            .filter_map(|number| number.parse().ok())
            .collect();
        let (first, last) = (counts[0], counts[counts.len() - 1]);
        let whole = found.get(3).is_some() || counts.windows(2).all(|pair| pair[1] == pair[0] + 1);
        let replaced = gold
            .patterns
            .iter()
            .find(|pattern| pattern.kind != "core" && pattern.beats == Some([first, last]));
        let Some(pattern) = replaced.filter(|_| whole && first < last) else {
            continue;
        };
        // What runs on runs on from there, and what is as in the core is the core's.
        let runs_on = pattern.strokes.iter().any(|stroke| stroke.count() > last);
        let core = gold.patterns.iter().find(|pattern| pattern.kind == "core");
        let as_in_core = core.is_some_and(|core| on(core, last) == on(pattern, last));
        let shorter = match found.get(3) {
            Some(_) => format!("{first}-{}", last - 1),
            None => listed[..listed.trim_end_matches(|letter: char| letter.is_ascii_digit()).len()]
                .trim_end_matches(|letter: char| !letter.is_ascii_digit())
                .to_owned(),
        };
        let told = if first == last - 1 {
            first.to_string()
        } else {
            format!("{first}-{}", last - 1)
        };
        let start = found.get(0).unwrap().start();
        damages.push(Damage {
            kind: "a variation's counts and its strokes",
            adds_up: on(pattern, last).is_empty() || runs_on || as_in_core,
            text: with(text, found.get(1).unwrap().range(), &shorter),
            rules: &["variation-past-its-span"],
            // The strokes stand below; they are what is out of place.
            lines: lines(text, start..text.len()),
            names: vec![
                format!("place of {told},|sustituye a {told},"),
                format!("strokes for {last}|toques para {last}"),
            ],
            what: format!("{first}-{last} -> {told}"),
        });
    }
    damages
}

/// What a pattern has on a count.
fn on(pattern: &Pattern, count: i64) -> Vec<&Struck> {
    pattern
        .strokes
        .iter()
        .filter(|stroke| stroke.count() == count)
        .collect()
}

/// "F, E, D, C, B flat" behind the notes it says over: one name another.
fn rows(text: &str, gold: &Gold) -> Vec<Damage> {
    let row = across_captions(&format!(r"(?:[.:]|\bso)_({PITCH}(?:,_(?:and_)?{PITCH}){{2,}})\b"));
    let name = across_captions(&format!(r"\b{PITCH}\b"));
    let told: Vec<Vec<String>> = gold
        .patterns
        .iter()
        .map(|pattern| {
            pattern
                .strokes
                .iter()
                .filter_map(|stroke| stroke.note.clone())
                .collect()
        })
        .collect();
    let is_told = |row: &[String]| {
        told.iter()
            .any(|notes| notes.windows(row.len()).any(|window| window == row))
    };
    let mut damages = Vec::new();
    for found in row.captures_iter(text) {
        let whole = found.get(1).unwrap();
        let names: Vec<regex::Match> = name.find_iter(whole.as_str()).collect();
        let said: Vec<String> = names.iter().filter_map(|name| letters(name.as_str())).collect();
        if said.len() != names.len() || !is_told(&said) {
            continue;
        }
        for (index, name) in names.iter().enumerate() {
            let other = another(name.as_str());
            let mut changed = said.clone();
            changed[index] = letters(&other).unwrap();
            let range = whole.start() + name.start()..whole.start() + name.end();
            damages.push(Damage {
                kind: "a recited row and its notes",
                adds_up: is_told(&changed),
                text: with(text, range, &other),
                rules: &["recited-row-differs"],
                lines: lines(text, whole.range()),
                names: vec![changed[index].clone(), said[index].clone()],
                what: format!("{} -> {}", said.join(" "), changed.join(" ")),
            });
        }
    }
    damages
}
