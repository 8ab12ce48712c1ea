//! Where thoughts begin in a transcript that has no marks.

use super::going_on::goes_on;
use super::lexicon::Language;
use super::sayings::{among, sayings};
use super::sentences::words_in;
use crate::music::fretboard::Guitar;
use crate::text::Begins;

/// Words that begin a thought in a transcript without any punctuation.
const ENGLISH_TURNS: [&[&str]; 14] = [
    &["okay"],
    &["ok"],
    &["so"],
    &["now"],
    &["right"],
    &["alright"],
    &["well"],
    &["and", "then"],
    &["then"],
    &["on", "the", "and"],
    &["and", "on"],
    &["anyway"],
    &["but"],
    &["because"],
];
const SPANISH_TURNS: [&[&str]; 16] = [
    &["bueno"],
    &["vale"],
    &["entonces"],
    &["luego"],
    &["y", "luego"],
    &["ahora"],
    &["pues"],
    &["y", "en", "el"],
    &["o", "sea"],
    &["venga"],
    &["total"],
    &["pero"],
    &["porque"],
    &["y", "despues"],
    &["y", "después"],
    &["y", "ya"],
];

/// Words and where they begin; between two of them stands one space.
type Words<'a> = Vec<(usize, &'a str)>;

fn words_of(text: &str) -> Words<'_> {
    let mut words = Vec::with_capacity(text.len() / 4);
    let mut start = 0;
    let spaces = text.bytes().enumerate().filter(|(_, byte)| *byte == b' ');
    for at in spaces.map(|(at, _)| at).chain([text.len()]) {
        words.push((start, text.get(start..at).unwrap_or("")));
        start = at + 1;
    }
    words
}

/// Where the words begin that begin a thought. The first and the last word of the text do not: nothing would be cut.
fn turns_begin(words: &Words, language: Language) -> Vec<usize> {
    let turns: &[&[&str]] = match language {
        Language::English => &ENGLISH_TURNS,
        Language::Spanish => &SPANISH_TURNS,
    };
    let mut begins = Begins::NOTHING;
    turns.iter().for_each(|turn| begins.add(turn.first()));
    let opens = |(_, (_, word)): &(usize, &(usize, &str))| {
        begins.fits(Some(word)) && turns.iter().any(|turn| turn.first() == Some(word))
    };
    let openings: Vec<(usize, usize)> = words
        .iter()
        .enumerate()
        .filter(opens)
        .map(|(index, (at, _))| (index, *at))
        .collect();
    let mut begin = Vec::new();
    for turn in turns {
        // "so so": said twice it is one turn.
        let mut free = 1;
        for (index, at) in openings.iter().copied() {
            let rest = words.get(index..).unwrap_or(&[]);
            let said = rest.len() > turn.len() && turn.iter().zip(rest).all(|(wanted, (_, word))| wanted == word);
            if said && index >= free {
                begin.push(at);
                free = index + turn.len() + 1;
            }
        }
    }
    begin
}

/// Where "y en el 4", "el 3 es", "on three", "four is" begin, in a transcript without marks.
fn counts_begin(words: &Words, language: Language) -> Vec<usize> {
    let word = |index: usize| words.get(index).map_or("", |(_, word)| *word);
    let count = |index: usize| {
        word(index).parse::<u8>().is_ok_and(|number| number <= 12)
            || super::numbers::cardinal(word(index), language).is_some_and(|number| (1..=12).contains(&number))
    };
    let begins = |index: usize| match language {
        Language::Spanish => {
            let again = || matches!(word(index - 1), "vez" | "todavía" | "todavia" | "ya");
            let on_a_chord =
                || word(index + 1) == "la" && (again() || among(&sayings().words.standing, word(index - 1)));
            word(index) == "en"
                && !on_a_chord()
                && !is_its_fret(words, index)
                && !stops_a_chord(words, index)
                && matches!(word(index + 1), "el" | "la")
                && (count(index + 2) || word(index + 2) == "y")
                || word(index) == "el" && count(index + 1) && matches!(word(index + 2), "es" | "ya" | "igual" | "lo")
        }
        Language::English => {
            let led = || {
                matches!(
                    word(index - 1),
                    "so" | "and" | "then" | "now" | "right" | "okay" | "yeah"
                )
            };
            word(index) == "on" && led() && (count(index + 1) || word(index + 1) == "the" && word(index + 2) == "and")
                || matches!(word(index + 1), "is" | "you're")
                    && count(index)
                    && !(count(index - 1) && count(index.saturating_sub(2)))
                    && !names_a_seventh(word(index - 1), word(index))
        }
    };
    (1..words.len())
        .filter(|index| {
            begins(*index)
                && !matches!(
                    word(index - 1),
                    "que"
                        | "as"
                        | "and"
                        | "como"
                        | "same"
                        | "from"
                        | "to"
                        | "of"
                        | "next"
                        | "first"
                        | "second"
                        | "third"
                        | "last"
                        | "this"
                        | "that"
                        | "number"
                        | "variation"
                        | "other"
                        | "each"
                        | "another"
                )
                && !among(&sayings().words.leading_to, word(index - 1))
        })
        .map(|index| {
            let linked = matches!(word(index - 1), "y" | "and" | "then");
            words
                .get(if linked { index - 1 } else { index })
                .map_or(0, |(at, _)| *at)
        })
        .filter(|at| *at > 0)
        .collect()
}

/// Where "first variation", "la segunda variación" begin.
fn variations_begin(words: &Words, language: Language) -> Vec<usize> {
    let word = |index: usize| words.get(index).map_or("", |(_, word)| *word);
    let named = |index: usize| {
        matches!(word(index + 1), "variation" | "variacion" | "variación")
            && super::numbers::ordinal(word(index), language).is_some()
    };
    let opening = |index: usize| index - usize::from(matches!(word(index - 1), "the" | "la"));
    let found = (1..words.len()).filter(|index| named(*index)).map(opening);
    found
        .filter_map(|index| words.get(index).map(|(at, _)| *at))
        .filter(|at| *at > 0)
        .collect()
}

/// "quinta en el dos si": in front of the name that sounds there, the number behind a string is its fret.
fn is_its_fret(words: &Words, index: usize) -> bool {
    let word = |index: usize| words.get(index).map_or("", |(_, word)| *word);
    let back = if word(index - 1) == "cuerda" { 2 } else { 1 };
    let string = index
        .checked_sub(back)
        .and_then(|at| super::numbers::ordinal(word(at), Language::Spanish));
    let fret = super::numbers::cardinal(word(index + 2), Language::Spanish).or(word(index + 2).parse().ok());
    let name = super::solfa::name_of(word(index + 3));
    let (Some(string), Some(fret), Some(name)) = (string, fret, name) else {
        return false;
    };
    let place = (u8::try_from(string), u8::try_from(fret));
    matches!(place, (Ok(string), Ok(fret)) if Guitar::STANDARD.gives(string, fret, name) == Some(true))
}

/// "el mi menor es la sexta al aire la quinta en el dos": where a chord is being told, the number behind a string is its fret.
fn stops_a_chord(words: &Words, index: usize) -> bool {
    let word = |index: usize| words.get(index).map_or("", |(_, word)| *word);
    let back = if word(index - 1) == "cuerda" { 2 } else { 1 };
    let string = index
        .checked_sub(back)
        .filter(|at| super::numbers::ordinal(word(*at), Language::Spanish).is_some_and(|nth| nth <= 6));
    let is_played = |at: usize| among(&sayings().words.striking, word(at));
    let named = |at: usize| {
        let quality = matches!(word(at + 1), "bemol" | "menor" | "mayor" | "septima" | "séptima");
        super::solfa::name_of(word(at)).is_some() && (quality || at > 0 && word(at - 1) == "el")
    };
    let is_chord = |at: usize| among(&sayings().words.of_a_chord, word(at)) || named(at);
    let told = string.and_then(|at| (0..at).rev().find(|at| is_chord(*at) || is_played(*at)));
    told.is_some_and(is_chord)
}

/// "e seven is": the end of a chord's name, no count.
fn names_a_seventh(before: &str, number: &str) -> bool {
    matches!(number, "7" | "seven")
        && matches!(
            before,
            "a" | "b" | "c" | "d" | "e" | "f" | "g" | "flat" | "sharp" | "minor"
        )
}

/// A stretch of fewer words is not cut.
const LONG: usize = 20;

/// A long stretch without a comma or stop is cut before the words that begin a thought; the parts go out.
pub fn soften(text: &str, from: usize, to: usize, language: Language, out: &mut Vec<(usize, usize)>) {
    let part = text.get(from..to).unwrap_or("");
    let parted = || part.bytes().any(|byte| matches!(byte, b',' | b';' | b':'));
    // So many words with a space between them take up this many bytes at least.
    let long = part.len() >= LONG * 2 - 1 && !parted() && words_in(part, LONG) >= LONG;
    if !long {
        out.push((from, to));
        return;
    }
    let lower = part.to_ascii_lowercase();
    let words = words_of(&lower);
    let mut cuts = turns_begin(&words, language);
    cuts.extend(counts_begin(&words, language));
    cuts.extend(variations_begin(&words, language));
    cuts.sort_unstable();
    cuts.dedup();
    let mut start = from;
    for cut in cuts {
        let told = text.get(start..from + cut).unwrap_or("");
        let follows = part.get(cut..).unwrap_or("");
        if goes_on(told, follows, language) {
            continue;
        }
        if from + cut > start + 4 {
            out.push((start, from + cut));
            start = from + cut;
        }
    }
    out.push((start, to));
}
