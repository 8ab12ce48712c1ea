//! Words of the trade by their sound: a recogniser that does not know them writes what it hears, "go pay", "so lay are".
//! What the table of mishearings does not hold is found here, in sentences about music, and reported like the rest.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use smol_str::{SmolStr, SmolStrBuilder};

use super::lexicon::{Concept, Language, Lexicon, misheard_terms};
use super::sentences::Sentence;
use crate::intake::{Note, NoteKind};
use crate::text::folded;

/// A term with how it sounds.
struct Sounding {
    term: &'static str,
    key: SmolStr,
    is_palo: bool,
}

static TERMS: LazyLock<Vec<Sounding>> = LazyLock::new(|| {
    misheard_terms()
        .map(|term| Sounding {
            term,
            key: key(term),
            is_palo: crate::music::palo::find(&term.replace(' ', "-")).is_some(),
        })
        .filter(|sounding| sounding.key.len() >= 5)
        .collect()
});

/// The terms by their first sound.
static BY_FIRST: LazyLock<BTreeMap<u8, Vec<&Sounding>>> = LazyLock::new(|| {
    let mut by_first: BTreeMap<u8, Vec<&Sounding>> = BTreeMap::new();
    for sounding in TERMS.iter() {
        if let Some(first) = sounding.key.bytes().next() {
            by_first.entry(first).or_default().push(sounding);
        }
    }
    by_first
});

/// Words taken together at most.
const LONGEST: usize = 4;

/// A palo is named in the first sentences.
const OPENING: usize = 12;

/// Adds what was heard in this note for words of the trade.
pub fn learn_sounds(note: &Note, sentences: &[Sentence], language: Language, lexicon: &mut Lexicon) {
    if note.kind != NoteKind::Spoken || language != Language::English {
        return;
    }
    let all = sentences.iter().enumerate();
    let found: Vec<(String, &str)> = all
        .flat_map(|(nth, sentence)| heard(&sentence.text, nth < OPENING, lexicon))
        .collect();
    for (heard, term) in found {
        lexicon.add_misheard(&heard, term);
    }
}

/// What sounds like a term in a sentence, with the term.
fn heard(sentence: &str, opening: bool, lexicon: &Lexicon) -> Vec<(String, &'static str)> {
    let folded = folded(sentence);
    let words: Vec<&str> = folded
        .split(|letter: char| !letter.is_alphanumeric() && letter != '\'')
        .filter(|word| !word.is_empty())
        .collect();
    let musical = words.iter().filter(|word| is_of_music(word, lexicon)).take(2).count() == 2;
    if !musical && !opening {
        return Vec::new();
    }
    let sounds: Vec<SmolStr> = words.iter().map(|word| english_key(word)).collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let first = sounds.iter().skip(at).find_map(|key| key.bytes().next());
        let terms = first
            .and_then(|first| BY_FIRST.get(&first))
            .map_or(&[][..], Vec::as_slice);
        let lengths = (1..=LONGEST).filter(|_| !terms.is_empty());
        let found = lengths.rev().find_map(|length| {
            let window = words.get(at..at + length)?;
            let sounding = near(terms, sounds.get(at..at + length)?)?;
            is_meant(window, sounding, lexicon).then_some((length, sounding))
        });
        match found {
            Some((length, sounding)) if musical || sounding.is_palo && opening => {
                out.push((words.get(at..at + length).unwrap_or(&[]).join(" "), sounding.term));
                at += length;
            }
            _ => at += 1,
        }
    }
    out
}

/// Words that speak of music.
const OF_MUSIC: [Concept; 14] = [
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerM,
    Concept::FingerA,
    Concept::Down,
    Concept::Up,
    Concept::StringWord,
    Concept::FretWord,
    Concept::ChordWord,
    Concept::BeatWord,
    Concept::Golpe,
    Concept::Strum,
    Concept::Variation,
    Concept::Play,
];

fn is_of_music(word: &str, lexicon: &Lexicon) -> bool {
    lexicon.known(word).is_some_and(|known| {
        let alone = known.longest(&[word]);
        known.token.number.is_some() || alone.is_some_and(|(_, concepts)| concepts.contains_any(&OF_MUSIC))
    })
}

/// Whether a window of words can be a mishearing of the term that it sounds like: it holds no term, and no word known.
fn is_meant(window: &[&str], sounding: &Sounding, lexicon: &Lexicon) -> bool {
    let holds_a_term = window.len() > 1
        && window
            .iter()
            .any(|word| TERMS.iter().any(|sounding| sounding.term == *word));
    let known = holds_a_term || window.len() == 1 && !window.iter().all(|word| lexicon.concepts(word).is_empty());
    let first = window.first().and_then(|first| lexicon.known(first));
    let listed = first.and_then(|first| first.meant(window));
    let heard_so = listed.is_some_and(|(length, _)| length >= window.len());
    !known && !heard_so && window.join(" ") != sounding.term
}

/// The first of some terms with nearly the same sounds, and the same at their end.
fn near(terms: &[&'static Sounding], sounds: &[SmolStr]) -> Option<&'static Sounding> {
    let length: usize = sounds.iter().map(SmolStr::len).sum();
    let last = sounds.iter().rev().find_map(|key| key.bytes().last())?;
    if length < 4 {
        return None;
    }
    let allowed = |sounding: &Sounding| {
        let short_palo = sounding.is_palo && sounding.key.len() <= 6;
        if short_palo {
            0
        } else {
            allowed(sounding.key.len(), sounds.len())
        }
    };
    let alike = |sounding: &&&Sounding| {
        sounding.key.len().abs_diff(length) <= allowed(sounding) && sounding.key.as_bytes().last() == Some(&last)
    };
    let mut fitting = terms.iter().filter(alike);
    fitting
        .find(|sounding| strsim::levenshtein(&sounding.key, &sounds.concat()) <= allowed(sounding))
        .copied()
}

/// How many sounds may differ: a single word is more easily another word than several are.
fn allowed(sounds: usize, words: usize) -> usize {
    match (sounds, words) {
        (0..=6, 1) => 0,
        (0..=8, _) => 1,
        _ => 2,
    }
}

/// An English word's sounds: a silent e, an h and an r behind a vowel at its end are not heard.
fn english_key(word: &str) -> SmolStr {
    let ends = |word: &str, letters: &[char]| word.ends_with(letters);
    let word = word
        .strip_suffix('h')
        .filter(|stem| ends(stem, &['a', 'e', 'o']))
        .unwrap_or(word);
    let silent = |stem: &&str| stem.chars().nth(1).is_some() && !ends(stem, &['a', 'e', 'i', 'o', 'u', 'y']);
    let spoken = word.strip_suffix('e').filter(silent).unwrap_or(word);
    match spoken.strip_suffix('r') {
        Some(stem) if ends(stem, &['e', 'o']) && stem.len() > 1 => {
            key(&format!("{}a", stem.get(..stem.len() - 1).unwrap_or(stem)))
        }
        Some(stem) if ends(stem, &['a', 'u', 'i', 'o']) => key(stem),
        _ => key(spoken),
    }
}

/// How letters sound, one letter a sound: spellings that English and Spanish give the same sound come out the same.
fn key(text: &str) -> SmolStr {
    let mut out = SmolStrBuilder::new();
    let mut before = None;
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let (sound, taken) = match spelling(rest.as_bytes()) {
            Some((sound, taken)) => (sound, taken),
            None => (rest.get(..letter.len_utf8()).unwrap_or(""), letter.len_utf8()),
        };
        for sound in sound.chars() {
            if before != Some(sound) {
                out.push(sound);
            }
            before = Some(sound);
        }
        rest = rest.get(taken..).unwrap_or("");
    }
    out.finish()
}

/// The sound of a spelling at the front that is not its letter's, and how many letters it has.
fn spelling(text: &[u8]) -> Option<(&'static str, usize)> {
    let sound = match text {
        [b'g', b'u', b'i', ..] => ("gi", 3),
        [b'g', b'u', b'e', ..] => ("ge", 3),
        [b'g', b'u', b'a', ..] => ("ua", 3),
        [b'q', b'u', ..] | [b'c', b'k', ..] => ("k", 2),
        [b'p', b'h', ..] => ("f", 2),
        [b'c', b'h', ..] => ("C", 2),
        [b's', b'h', ..] => ("s", 2),
        [b't', b'h', ..] => ("t", 2),
        [b'l', b'l', ..] | [b'e', b'e', ..] => ("i", 2),
        [b'a' | b'e', b'y' | b'i', ..] => ("e", 2),
        [b'o', b'o', ..] => ("u", 2),
        [b'o', b'w' | b'a', ..] | [b'a', b'w', ..] => ("o", 2),
        [b'c', b'e', ..] => ("se", 2),
        [b'c', b'i', ..] => ("si", 2),
        [b'c', ..] => ("k", 1),
        [b'z' | b'x', ..] => ("s", 1),
        [b'y', ..] => ("i", 1),
        [b'w', ..] => ("u", 1),
        [b'v', ..] => ("b", 1),
        [b'j', ..] => ("h", 1),
        [b' ' | b'\'', ..] => ("", 1),
        _ => return None,
    };
    Some(sound)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::lexicon;

    #[test]
    fn terms_are_known_by_their_sound() {
        let table = [
            ("the thumb goes down and with it the go pay on two", "go pay", "golpe"),
            ("so lay are and that is what you are getting", "so lay are", "solea"),
            (
                "index and middle, a pick ahdo from the second string",
                "pick ahdo",
                "picado",
            ),
            ("the gahro teen is in four", "gahro teen", "garrotin"),
            (
                "on three a rass gay adoh with four fingers down",
                "rass gay adoh",
                "rasgueado",
            ),
            (
                "it is all thumb and every note down to the string is apple yando",
                "apple yando",
                "apoyando",
            ),
        ];
        for (sentence, wanted, term) in table {
            let found = heard(sentence, true, lexicon(Language::English));
            assert!(
                found.iter().any(|(heard, read)| heard == wanted && *read == term),
                "{sentence}: {found:?}"
            );
        }
    }

    #[test]
    fn ordinary_speech_is_left_alone() {
        let table = [
            "you go and pay the man before the second verse, two of you",
            "play the remote control song on the top string, thumb down",
            "come past the door and put your thumb on the string",
            "we take a bunch of grapes and three apples down to the fan club",
        ];
        for sentence in table {
            let found = heard(sentence, true, lexicon(Language::English));
            assert!(found.is_empty(), "{sentence}: {found:?}");
        }
    }
}
