//! The catalogues against what uses them, and the colours against the contrast that eyes need.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn texts(folder: &str, ending: &str) -> Vec<String> {
    let walk = walkdir::WalkDir::new(root().join(folder)).sort_by_file_name();
    let files: Vec<PathBuf> = walk.into_iter().map(|entry| entry.unwrap().path().to_owned()).collect();
    let wanted = files
        .into_iter()
        .filter(|path| path.to_string_lossy().ends_with(ending));
    wanted.map(|path| fs::read_to_string(path).unwrap()).collect()
}

fn keys() -> BTreeSet<String> {
    let text = fs::read_to_string(root().join("src/data/labels.en.toml")).unwrap();
    let table: toml::Table = toml::from_str(&text).unwrap();
    table.keys().cloned().collect()
}

/// What a template calls `t.something`.
fn asked_by_templates() -> BTreeSet<String> {
    let word = regex::Regex::new(r"\bt\.([a-z_]+)").unwrap();
    let texts = texts("templates", ".html");
    texts
        .iter()
        .flat_map(|text| word.captures_iter(text))
        .map(|found| found[1].to_owned())
        .collect()
}

#[test]
fn every_label_is_used_and_every_label_used_is_there() {
    let keys = keys();
    let templates = asked_by_templates();
    let missing: Vec<&String> = templates.iter().filter(|key| !keys.contains(*key)).collect();
    assert!(missing.is_empty(), "templates ask for {missing:?}");
    let code = texts("src/pages", ".rs");
    let shipped: Vec<&str> = code
        .iter()
        .map(|text| text.split("#[cfg(test)]").next().unwrap())
        .collect();
    let code = shipped.join("\n");
    let used = |key: &&String| {
        let stem = key.trim_end_matches("_one").trim_end_matches("_many");
        templates.contains(*key) || code.contains(&format!("\"{key}\"")) || code.contains(&format!("\"{stem}\""))
    };
    let idle: Vec<&String> = keys.iter().filter(|key| !used(key)).collect();
    assert!(idle.is_empty(), "nobody uses {idle:?}");
    // Labels by their full name in code must be there too; those built from a stem end in _one and _many.
    let asked = regex::Regex::new(r#"(?:get|fill)\(\s*"([a-z_]+)""#).unwrap();
    for found in asked.captures_iter(&code) {
        assert!(keys.contains(&found[1]), "the code asks for {}", &found[1]);
    }
}

/// The contrast of two colours: relative luminance as WCAG 2.2 defines it (w3.org/TR/WCAG22, "contrast ratio").
fn contrast(one: &str, other: &str) -> f64 {
    let luminance = |colour: &str| {
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    };
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn contrast_is_computed_as_the_standard_says() {
    // Black on white is 21:1, a colour on itself 1:1, by the standard's own definition.
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#8c2c1c", "#8c2c1c") - 1.0).abs() < 1e-9);
}

#[test]
fn colours_can_be_told_from_the_paper() {
    let style = fs::read_to_string(root().join("templates/assets/style.css")).unwrap();
    let (light, dark) = style.split_once("prefers-color-scheme: dark").unwrap();
    for (name, part) in [("light", light), ("dark", dark)] {
        let colour = |name: &str| {
            let (_, after) = part.split_once(&format!("--{name}: #")).unwrap();
            format!("#{}", &after[..6])
        };
        for ground in ["paper", "sheet", "tint"] {
            // 4.5:1 for text (1.4.3), 3:1 for lines that carry meaning (1.4.11).
            for (ink, least) in [
                ("ink", 4.5),
                ("soft", 4.5),
                ("right", 4.5),
                ("left", 4.5),
                ("link", 4.5),
                ("line", 3.0),
            ] {
                let ratio = contrast(&colour(ink), &colour(ground));
                assert!(
                    ratio >= least,
                    "{name}: {ink} on {ground} is {ratio:.2}:1, less than {least}"
                );
            }
        }
    }
}
