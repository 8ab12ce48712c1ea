//! How free text, names and pitches are spelled so that they can be told from the rest of a line.

use crate::music::pitch::NoteName;
use crate::text::ClockTime;

/// Text as it stands where nothing in it could be taken for something else, otherwise in quotes.
pub fn plain_or_quoted(text: &str) -> String {
    if is_plain(text) { text.to_owned() } else { quoted(text) }
}

/// The same for a caution, whose text may not begin like the counts it names.
pub fn caution_text(text: &str) -> String {
    if is_plain(text) && !text.starts_with(['(', '!']) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

/// One entry of a list whose entries stand apart by commas.
pub fn list_entry(text: &str) -> String {
    if is_plain(text) && !text.contains([',', '~', '"']) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

fn is_plain(text: &str) -> bool {
    let framed = text.contains(['[', ']', '\\', '\n', '\r']) || text.contains(" ~") || text.starts_with(['~', '"']);
    let quotes_closed = text.matches('"').count().is_multiple_of(2);
    !text.is_empty() && text == text.trim() && !framed && quotes_closed
}

pub fn quoted(text: &str) -> String {
    let mut written = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => written.extend(['\\', letter]),
            '\n' => written.push_str("\\n"),
            '\r' => written.push_str("\\r"),
            other => written.push(other),
        }
    }
    written.push('"');
    written
}

/// The mark close behind one thing: `~alternating`, `~"the same hand"`.
pub fn close_mark(rule: &str) -> String {
    let word = !rule.is_empty() && rule.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_');
    if word {
        format!("~{rule}")
    } else {
        format!("~{}", quoted(rule))
    }
}

/// `12:31` or `12:31.5`.
pub fn duration(length: ClockTime) -> String {
    let milliseconds = length.milliseconds % 1000;
    if milliseconds == 0 {
        length.to_string()
    } else {
        format!("{length}.{milliseconds:03}")
    }
}

/// Six pitches with octaves from string 6 to string 1 (scientific pitch notation: C4 is MIDI 60).
pub fn tuning_text(tuning: [u8; 6]) -> String {
    let pitches: Vec<String> = tuning.iter().rev().map(|number| pitch_text(*number)).collect();
    pitches.join(" ")
}

fn pitch_text(number: u8) -> String {
    const NAMES: [(char, i8); 12] = [
        ('C', 0),
        ('C', 1),
        ('D', 0),
        ('D', 1),
        ('E', 0),
        ('F', 0),
        ('F', 1),
        ('G', 0),
        ('G', 1),
        ('A', 0),
        ('A', 1),
        ('B', 0),
    ];
    let (letter, alter) = NAMES.get(usize::from(number % 12)).copied().unwrap_or(('C', 0));
    let octave = i16::from(number / 12) - 1;
    format!("{}{octave}", NoteName::new(letter, alter))
}
