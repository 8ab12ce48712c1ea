//! The words of the written form, from `src/data/shorthand.toml`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use serde::Deserialize;

use crate::text::{QuickMap, WHOLE_FRONT, folded, front};

use super::item::OwnWord;
pub use super::meaning::Meaning;

struct Shorthand {
    words: QuickMap<Meaning>,
    /// What a word means by itself, and the most words in an entry that begins with it; words of at most eight letters by
    /// their fronts.
    begun: QuickMap<(Option<Meaning>, usize)>,
    begun_short: FxHashMap<u64, (Option<Meaning>, usize)>,
    signs: Vec<(String, Meaning)>,
    /// The bytes that signs begin with.
    sign_starts: [bool; 256],
    rows: BTreeMap<String, Row>,
    ordinals: QuickMap<i64>,
}

/// What a row of a stacked block holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Row {
    Counts,
    Chords,
    Fingers,
    Strokes,
    /// Sounded together with the strokes: golpes.
    Extras,
    Strings,
    Frets,
    Notes,
    LeftFingers,
    Accents,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DataFile {
    signs: BTreeMap<String, Meaning>,
    english: BTreeMap<String, Meaning>,
    spanish: BTreeMap<String, Meaning>,
    as_core: BTreeMap<String, Meaning>,
    rows: BTreeMap<String, Row>,
    ordinals: BTreeMap<String, i64>,
}

static SHORTHAND: LazyLock<Shorthand> = LazyLock::new(|| match load(include_str!("../data/shorthand.toml")) {
    Ok(shorthand) => shorthand,
    Err(error) => unreachable!("src/data/shorthand.toml is checked by a test: {error}"),
});

fn load(text: &str) -> Result<Shorthand, toml::de::Error> {
    let file: DataFile = toml::from_str(text)?;
    let mut words = file.english;
    words.extend(file.spanish);
    words.extend(file.as_core);
    let mut signs: Vec<(String, Meaning)> = file.signs.into_iter().collect();
    signs.sort_by_key(|(sign, _)| std::cmp::Reverse(sign.len()));
    let mut begun: QuickMap<(Option<Meaning>, usize)> = QuickMap::default();
    for (phrase, meaning) in &words {
        let first = phrase.split(' ').next().unwrap_or_default();
        let (alone, most) = begun.entry(first.to_owned()).or_default();
        *most = phrase.split(' ').count().max(*most);
        *alone = (first == phrase).then_some(*meaning).or(*alone);
    }
    let short = begun.iter().filter(|(word, _)| word.len() <= WHOLE_FRONT);
    let begun_short = short.map(|(word, begun)| (front(word), *begun)).collect();
    let starts: Vec<u8> = signs.iter().filter_map(|(sign, _)| sign.bytes().next()).collect();
    Ok(Shorthand {
        words: words.into_iter().collect(),
        begun,
        begun_short,
        sign_starts: std::array::from_fn(|byte| starts.iter().any(|start| usize::from(*start) == byte)),
        signs,
        rows: file.rows,
        ordinals: file.ordinals.into_iter().collect(),
    })
}

/// The sign at the start of the text: its meaning and its bytes.
pub fn sign_at(text: &str) -> Option<(Meaning, usize)> {
    let begins = text.as_bytes().first()?;
    if !SHORTHAND
        .sign_starts
        .get(usize::from(*begins))
        .is_some_and(|starts| *starts)
    {
        return None;
    }
    SHORTHAND
        .signs
        .iter()
        .find(|(sign, _)| text.starts_with(sign.as_str()))
        .map(|(sign, meaning)| (*meaning, sign.len()))
}

/// The name of a row at the start of the text, with its colon: what the row holds, and its bytes.
pub fn row_name_at(text: &str) -> Option<(Row, usize)> {
    let mut phrase = String::new();
    let mut at = 0;
    for _ in 0..2 {
        let rest = text.get(at..)?;
        let word = letters(rest);
        phrase.push_str(&folded(rest.get(..word)?));
        at += word;
        let after = text.get(at..)?;
        if let Some(row) = SHORTHAND.rows.get(&phrase) {
            let colon = usize::from(after.starts_with(':'));
            let apart = text.get(at + colon..).is_some_and(|rest| rest.starts_with([' ', '\t']));
            return apart.then_some((*row, at + colon));
        }
        let gap = separator(after);
        if word == 0 || gap == 0 {
            return None;
        }
        phrase.push(' ');
        at += gap;
    }
    None
}

/// Letters of the shortest ordinal.
pub const SHORTEST_ORDINAL: usize = 4;

/// A string named by its number in words: its number.
pub fn ordinal(word: &str) -> Option<i64> {
    // No ordinal is as short as most words of the form are.
    let long = word.len() >= SHORTEST_ORDINAL;
    long.then(|| SHORTHAND.ordinals.get(&*folded(word)).copied())?
}

/// One of the note's own words at the start of the text.
pub fn own_word_at<'o>(text: &str, own: &'o [OwnWord]) -> Option<(&'o OwnWord, usize)> {
    own.iter()
        .filter(|own| !own.word.is_empty() && text.starts_with(own.word.as_str()))
        .filter(|own| {
            let ends_in_letter = own.word.ends_with(char::is_alphanumeric);
            let rest = text.get(own.word.len()..).unwrap_or("");
            !(ends_in_letter && rest.starts_with(char::is_alphanumeric))
        })
        .max_by_key(|own| own.word.len())
        .map(|own| (own, own.word.len()))
}

/// The longest entry at the start of the text, in whole words: its meaning and its bytes.
pub fn words_at(text: &str) -> Option<(Meaning, usize)> {
    let word = letters(text);
    if word == 0 || is_pitch(text, word) {
        return None;
    }
    let letters = text.get(..word)?;
    // `w/` and `c/` end in their stroke.
    if text.as_bytes().get(word) == Some(&b'/')
        && let Some(meaning) = SHORTHAND.words.get(&format!("{}/", folded(letters)))
    {
        return Some((*meaning, word + 1));
    }
    let (alone, most) = begun(letters)?;
    let longer = (most > 1).then(|| longer_at(text, word, folded(letters).into_owned(), most));
    longer.flatten().or(alone.map(|meaning| (meaning, word)))
}

/// What a word means by itself, and the most words in an entry that begins with it.
fn begun(letters: &str) -> Option<(Option<Meaning>, usize)> {
    if letters.len() > WHOLE_FRONT || !letters.is_ascii() {
        return SHORTHAND.begun.get(&*folded(letters)).copied();
    }
    let low = letters.bytes().map(|letter| letter.to_ascii_lowercase());
    let front = low.fold(0, |front, letter| front << 8 | u64::from(letter));
    SHORTHAND.begun_short.get(&front).copied()
}

/// The longest entry of at least two words, of which the first has been read.
fn longer_at(text: &str, mut at: usize, mut phrase: String, most: usize) -> Option<(Meaning, usize)> {
    let mut found = None;
    for _ in 1..most {
        let gap = text.get(at..).map_or(0, separator);
        let rest = text.get(at + gap..)?;
        let word = letters(rest);
        if gap == 0 || word == 0 {
            break;
        }
        phrase.push(' ');
        phrase.push_str(&folded(rest.get(..word)?));
        at += gap + word;
        found = SHORTHAND.words.get(&phrase).map(|meaning| (*meaning, at)).or(found);
    }
    found
}

/// `Ab`, `D`, `F7` are pitches and chords, although `ab` and `d` are strums and `f7` is a fret.
fn is_pitch(text: &str, word: usize) -> bool {
    let mut letters = text.chars();
    let capital = letters.next().is_some_and(|c| ('A'..='G').contains(&c));
    capital && (word == 1 || (word == 2 && letters.next() == Some('b')))
}

fn letters(text: &str) -> usize {
    let plain = text.bytes().take_while(u8::is_ascii_alphabetic).count();
    if text.as_bytes().get(plain).is_none_or(u8::is_ascii) {
        return plain;
    }
    text.find(|c: char| !(c.is_alphabetic() || ('\u{300}'..='\u{36f}').contains(&c)))
        .unwrap_or(text.len())
}

fn separator(text: &str) -> usize {
    let spaces = text.len() - text.trim_start_matches(' ').len();
    if spaces > 0 {
        return spaces;
    }
    usize::from(text.starts_with('-'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::fold;

    #[test]
    fn the_data_file_can_be_read() {
        let shorthand = load(include_str!("../data/shorthand.toml")).expect("src/data/shorthand.toml");
        for word in shorthand.words.keys() {
            assert_eq!(*word, fold(word).text, "write `{word}` without capitals and accents");
            assert!(!word.contains('-'), "write `{word}` with a space for the hyphen");
        }
        assert!(shorthand.ordinals.keys().all(|word| word.len() >= SHORTEST_ORDINAL));
    }

    #[test]
    fn the_longest_entry_wins() {
        assert_eq!(words_at("rest stroke"), Some((Meaning::Apoyando, 11)));
        assert_eq!(words_at("Rest, then"), Some((Meaning::Rest, 4)));
        assert_eq!(words_at("pull-off s3"), Some((Meaning::PullOff, 8)));
        assert_eq!(words_at("Tirón"), Some((Meaning::PullOff, 6)));
        assert_eq!(words_at("w/ a"), Some((Meaning::With, 2)));
        assert_eq!(words_at("resting"), None);
        assert_eq!(sign_at("G! alone"), Some((Meaning::Golpe, 2)));
    }
}
