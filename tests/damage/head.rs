//! The head of a note against its text.

use crate::damages::Damage;
use crate::gold::Gold;
use crate::text::{lines, place_in, with};
use regex::Regex;

/// `capo: 2` above a text that says so, too: another figure. Where the text says nothing of it, nobody could tell.
pub fn all(text: &str, gold: &Gold) -> Vec<Damage> {
    let mut damages = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let Some((name, value)) = line.split_once(':').filter(|(name, _)| !name.starts_with('[')) else {
            break;
        };
        let value = value.trim();
        let at = start + line.find(value).unwrap_or(0);
        let body = &text[start + line.len()..];
        let other = match name.trim() {
            "capo" | "cejilla" => gold
                .lesson
                .capo
                .map(|capo| ((capo + 1).to_string(), says_capo(body, capo))),
            "tempo" => gold.lesson.tempo.as_ref().map(|tempo| {
                let new = format!("{}-{}", tempo.low * 2, tempo.high * 2);
                let says = says_number(body, tempo.low) && says_number(body, tempo.high);
                (new, says)
            }),
            _ => None,
        };
        if let Some((new, says)) = other {
            damages.push(Damage {
                kind: "the head and the text",
                adds_up: !says,
                text: with(text, at..at + value.len(), &new),
                rules: &["said-twice-differently"],
                // It stands where the second of the two is said, and names the line of the first.
                lines: lines(text, start..text.len()),
                names: vec![new.split('-').next().unwrap_or("").to_owned()],
                what: format!("{name}: {value} -> {new}"),
            });
        }
        start += line.len();
    }
    damages
}

fn says_capo(body: &str, capo: i64) -> bool {
    let said = Regex::new(r"(?i)\b(?:capo|cejilla)\b[^.\n]{0,40}?\b(\w+)\b").unwrap();
    let is = |word: &str| word == capo.to_string() || place_in(&crate::text::ORDINALS, word) == Some(capo as usize);
    said.find_iter(body)
        .any(|found| found.as_str().split_whitespace().any(is))
}

fn says_number(body: &str, number: i64) -> bool {
    Regex::new(&format!(r"\b{number}\b")).unwrap().is_match(body)
}
