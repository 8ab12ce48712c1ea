//! A note as this test reads it: its words with their places, whatever kind of file it is.

use regex::Regex;

/// A pattern in which `_` is any white space, also where one caption ends and the next begins.
pub fn across_captions(pattern: &str) -> Regex {
    let gap = r"(?:\s|\n\n?(?:\d+\n)?[\d:.,]+ --> [\d:.,]+[^\n]*\n)+";
    Regex::new(&format!("(?i){}", pattern.replace('_', gap))).unwrap()
}

/// The text with a stretch of it replaced.
pub fn with(text: &str, range: std::ops::Range<usize>, by: &str) -> String {
    format!("{}{by}{}", &text[..range.start], &text[range.end..])
}

/// The lines, from 1, that a stretch of a text stands on.
pub fn lines(text: &str, range: std::ops::Range<usize>) -> Vec<u32> {
    let line = |at: usize| text[..at].matches('\n').count() as u32 + 1;
    (line(range.start)..=line(range.end)).collect()
}

/// A word with its bytes; marks are left out, and so are the times of captions.
#[derive(Debug, Clone)]
pub struct Word {
    pub text: String,
    pub range: std::ops::Range<usize>,
}

pub fn words(text: &str) -> Vec<Word> {
    let word = Regex::new(r"(?m)^.* --> .*$|^\d+$|^\[[\d:]+\]|[\p{L}\d']+").unwrap();
    let times = |found: &str| found.contains("-->") || found.starts_with('[') || found.contains('\n');
    word.find_iter(text)
        .filter(|found| !times(found.as_str()))
        .map(|found| Word {
            text: found.as_str().to_lowercase(),
            range: found.range(),
        })
        .collect()
}

/// Numbers from 0 on, as each language says them.
pub const ENGLISH: [&str; 13] = [
    "open", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];
pub const SPANISH: [&str; 13] = [
    "aire", "uno", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once", "doce",
];
pub const ORDINALS: [&str; 13] = [
    "open", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
    "twelfth",
];
const STRINGS: [&str; 6] = ["primera", "segunda", "tercera", "cuarta", "quinta", "sexta"];

pub fn place_in(list: &[&str], word: &str) -> Option<usize> {
    list.iter().position(|known| *known == word.to_lowercase())
}

/// `fifth`, `quinta`: the number of a string.
pub fn string_number(word: &str) -> Option<usize> {
    place_in(&ORDINALS, word)
        .filter(|number| (1..=6).contains(number))
        .or(place_in(&STRINGS, word).map(|at| at + 1))
}

/// The fret that a word says where frets are listed, and the word for the next fret.
pub fn listed_fret(words: &[Word], index: usize) -> Option<(i32, String)> {
    let word = words[index].text.as_str();
    if let Ok(number) = word.parse::<i32>() {
        return (number <= 9).then(|| (number, (number + 1).to_string()));
    }
    let before_fret = words.get(index + 1).is_some_and(|next| next.text == "fret");
    for (list, counts) in [(&ENGLISH, true), (&SPANISH, true), (&ORDINALS, before_fret)] {
        if let Some(fret) = place_in(list, word).filter(|_| counts) {
            return Some((
                fret as i32,
                list.get(fret + 1).map_or(String::new(), |next| (*next).to_owned()),
            ));
        }
    }
    None
}
