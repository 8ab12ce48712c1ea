//! The one place that says what address a thing has. The first holder keeps an address; a second gets a number.

use crate::text::fold;

use super::people::People;

pub const HOME: &str = "index.html";
pub const PALOS: &str = "palos/index.html";
pub const CHORDS: &str = "chords/index.html";
pub const TECHNIQUES: &str = "techniques/index.html";
pub const GLOSSARY: &str = "glossary.html";
pub const READING: &str = "reading-the-drawings.html";
pub const SOURCES: &str = "sources.html";
pub const CHANGES: &str = "changes.html";
pub const FEED: &str = "feed.xml";
pub const SITE_MAP: &str = "sitemap.xml";
pub const STYLE: &str = "assets/style.css";
pub const RECORDING_SCRIPT: &str = "assets/recording.js";

pub fn lesson(slug: &str) -> String {
    format!("lessons/{slug}.html")
}

/// A lesson's practice.
pub fn practice(slug: &str) -> String {
    format!("practice/{slug}.html")
}

/// Practice across the lessons of a palo.
pub fn palo_practice(slug: &str) -> String {
    format!("practice/palos/{slug}.html")
}

/// The same lesson as one file to send to a telephone.
pub fn one_file(slug: &str) -> String {
    format!("to-send/{slug}.html")
}

pub fn palo(slug: &str) -> String {
    format!("palos/{slug}.html")
}

pub fn technique(id: &str) -> String {
    format!("techniques/{id}.html")
}

pub fn chord(anchor: &str) -> String {
    format!("{CHORDS}#{anchor}")
}

pub fn term(anchor: &str) -> String {
    format!("{GLOSSARY}#{anchor}")
}

pub fn source(key: &str) -> String {
    format!("{SOURCES}#{}", source_anchor(key))
}

pub fn source_anchor(key: &str) -> String {
    format!("source-{}", slug(key))
}

/// From a page to the site's root: `../` for each folder it lies in.
pub fn root(page: &str) -> String {
    "../".repeat(page.matches('/').count())
}

/// Names that some systems keep for themselves, and ours.
const KEPT: [&str; 8] = ["index", "con", "nul", "prn", "aux", "com1", "lpt1", ""];

/// Lower case ASCII with hyphens: `Soleá, 2nd` is `solea-2nd`. Never empty.
pub fn slug(text: &str) -> String {
    let mut out = String::new();
    for letter in fold(text).text.chars() {
        match letter {
            'a'..='z' | '0'..='9' => out.push(letter),
            '#' | '♯' => out.push_str("-sharp-"),
            '♭' => out.push_str("-flat-"),
            _ => out.push('-'),
        }
    }
    let parts: Vec<&str> = out.split('-').filter(|part| !part.is_empty()).collect();
    let joined: String = parts.join("-").chars().take(80).collect();
    let joined = joined.trim_matches('-').to_owned();
    if KEPT.contains(&joined.as_str()) {
        format!("n-{joined}").trim_end_matches('-').to_owned()
    } else {
        joined
    }
}

/// Gives out addresses, each once.
#[derive(Debug, Default)]
pub struct Register {
    taken: Vec<String>,
}

impl Register {
    /// Exactly this address; None when it is taken.
    pub fn take(&mut self, address: &str) -> Option<String> {
        let free = !self.taken.iter().any(|taken| taken == address);
        free.then(|| {
            self.taken.push(address.to_owned());
            address.to_owned()
        })
    }

    /// The wanted address, or the first of `-2`, `-3`, … that is free.
    pub fn give(&mut self, wanted: &str) -> String {
        let mut address = wanted.to_owned();
        let mut number = 2;
        while self.taken.contains(&address) {
            address = format!("{wanted}-{number}");
            number += 1;
        }
        self.taken.push(address.clone());
        address
    }
}

/// A lesson's slug, with no name in it that must not be published.
pub fn lesson_slug(id: &str, people: &People) -> String {
    slug(&people.hide(&id.replace(['-', '_', '.'], " ")))
}

/// A chord's anchor: `Bb` and `B` must differ, and so must `A7` and `a7`.
pub fn chord_anchor(name: &str) -> String {
    let mut out = String::from("chord-");
    let mut letters = name.chars().peekable();
    if let Some(root) = letters.next() {
        out.extend(root.to_lowercase());
    }
    for letter in letters {
        match letter {
            'b' if out.len() == 7 => out.push_str("-flat-"),
            '#' => out.push_str("-sharp-"),
            letter if letter.is_ascii_alphanumeric() => out.extend(letter.to_lowercase()),
            _ => out.push('-'),
        }
    }
    out.split('-')
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slugs_are_plain_and_never_empty() {
        let table = [
            ("Soleá por bulería", "solea-por-buleria"),
            ("  <b>\"../x\"</b> ", "b-x-b"),
            ("CON", "n-con"),
            ("…", "n"),
            ("Niño 2", "nino-2"),
        ];
        for (text, expected) in table {
            assert_eq!(slug(text), expected);
        }
    }

    #[test]
    fn the_first_holder_keeps_an_address() {
        let mut register = Register::default();
        assert_eq!(
            [register.give("a"), register.give("a"), register.give("a")],
            ["a", "a-2", "a-3"]
        );
    }

    #[test]
    fn chords_that_differ_have_anchors_that_differ() {
        let names = [
            "B", "Bb", "Bbm", "Bm", "B7", "Bb7", "F#", "F#m", "A(b9)", "A", "Am", "Amaj7",
        ];
        let anchors: std::collections::BTreeSet<String> = names.iter().map(|name| chord_anchor(name)).collect();
        assert_eq!(anchors.len(), names.len(), "{anchors:?}");
        assert_eq!(chord_anchor("F#m"), "chord-f-sharp-m");
    }
}
