//! Words of the trade by their sound: a recogniser that does not know them writes what it hears, "go pay", "so lay are".
//! What the table of mishearings does not hold is found here, in sentences about music, and reported like the rest.

use std::borrow::Cow;
use std::sync::LazyLock;

use super::lexicon::{Concept, Language, Lexicon, misheard_terms};
use super::sentences::Sentence;
use crate::intake::{Note, NoteKind};
use crate::text::fold;

/// A term with how it sounds.
struct Sounding {
    term: &'static str,
    key: String,
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

/// Words taken together at most.
const LONGEST: usize = 4;

/// A palo is named in the first sentences.
const OPENING: usize = 12;

/// The lexicon with what was heard in this note for words of the trade.
pub fn with_sounds<'a>(
    note: &Note,
    sentences: &[Sentence],
    language: Language,
    lexicon: Cow<'a, Lexicon>,
) -> Cow<'a, Lexicon> {
    if note.kind != NoteKind::Spoken || language != Language::English {
        return lexicon;
    }
    let found: Vec<(String, &str)> = sentences
        .iter()
        .enumerate()
        .flat_map(|(nth, sentence)| heard(&sentence.text, nth < OPENING, &lexicon))
        .collect();
    if found.is_empty() {
        return lexicon;
    }
    let mut own = lexicon.into_owned();
    for (heard, term) in found {
        own.add_misheard(&heard, term);
    }
    Cow::Owned(own)
}

/// What sounds like a term in a sentence, with the term.
fn heard(sentence: &str, opening: bool, lexicon: &Lexicon) -> Vec<(String, &'static str)> {
    let folded = fold(sentence).text;
    let words: Vec<&str> = folded
        .split(|letter: char| !letter.is_alphanumeric() && letter != '\'')
        .filter(|word| !word.is_empty())
        .collect();
    let musical = words.iter().filter(|word| is_of_music(word, lexicon)).count();
    let sounds: Vec<String> = words.iter().map(|word| english_key(word)).collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let found = (1..=LONGEST).rev().find_map(|length| {
            let window = words.get(at..at + length)?;
            let key = sounds.get(at..at + length)?.concat();
            term_like(window, &key, lexicon).map(|sounding| (length, window.join(" "), sounding))
        });
        match found {
            Some((length, heard, sounding)) if musical >= 2 || sounding.is_palo && opening => {
                out.push((heard, sounding.term));
                at += length;
            }
            _ => at += 1,
        }
    }
    out
}

fn is_of_music(word: &str, lexicon: &Lexicon) -> bool {
    let concepts = lexicon.concepts(word);
    concepts.contains_any(&[
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
    ]) || super::numbers::cardinal(word, Language::English).is_some()
}

/// The term that a window of words sounds like: nearly the same sounds, with the same at both ends.
fn term_like(window: &[&str], key: &str, lexicon: &Lexicon) -> Option<&'static Sounding> {
    let holds_a_term = window.len() > 1
        && window
            .iter()
            .any(|word| TERMS.iter().any(|sounding| sounding.term == *word));
    let known = holds_a_term || window.len() == 1 && !window.iter().all(|word| lexicon.concepts(word).is_empty());
    if known || key.len() < 4 {
        return None;
    }
    let first = window.first().and_then(|first| lexicon.known(first));
    let listed = first.and_then(|first| first.meant(window));
    if listed.is_some_and(|(length, _)| length >= window.len()) {
        return None;
    }
    let ends = |key: &str| (key.bytes().next(), key.bytes().last());
    let near = |sounding: &&Sounding| {
        let short_palo = sounding.is_palo && sounding.key.len() <= 6;
        let allowed = if short_palo {
            0
        } else {
            allowed(sounding.key.len(), window.len())
        };
        ends(&sounding.key) == ends(key)
            && sounding.key.len().abs_diff(key.len()) <= allowed
            && strsim::levenshtein(&sounding.key, key) <= allowed
    };
    let itself = |sounding: &Sounding| window.join(" ") == sounding.term;
    TERMS.iter().find(near).filter(|sounding| !itself(sounding))
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
fn english_key(word: &str) -> String {
    let word = word
        .strip_suffix('h')
        .filter(|stem| stem.ends_with(['a', 'e', 'o']))
        .unwrap_or(word);
    let letters: Vec<char> = word.chars().collect();
    let vowel = |at: usize| letters.get(at).is_some_and(|letter| "aeiouy".contains(*letter));
    let length = letters.len();
    let silent = length > 2 && letters.last() == Some(&'e') && !vowel(length - 2);
    let spoken: String = letters.iter().take(length - usize::from(silent)).collect();
    let spoken = match spoken.strip_suffix('r') {
        Some(stem) if stem.ends_with(['e', 'o']) && stem.len() > 1 => {
            format!("{}a", &stem.get(..stem.len() - 1).unwrap_or(stem))
        }
        Some(stem) if stem.ends_with(['a', 'u', 'i', 'o']) => stem.to_owned(),
        _ => spoken,
    };
    key(&spoken)
}

/// How letters sound, one letter a sound: spellings that English and Spanish give the same sound come out the same.
fn key(text: &str) -> String {
    const SPELLINGS: [(&str, &str); 30] = [
        ("gui", "gi"),
        ("gue", "ge"),
        ("gua", "ua"),
        ("qu", "k"),
        ("ck", "k"),
        ("ph", "f"),
        ("ch", "C"),
        ("sh", "s"),
        ("th", "t"),
        ("ll", "i"),
        ("ay", "e"),
        ("ai", "e"),
        ("ey", "e"),
        ("ei", "e"),
        ("ee", "i"),
        ("oo", "u"),
        ("ow", "o"),
        ("oa", "o"),
        ("aw", "o"),
        ("ce", "se"),
        ("ci", "si"),
        ("c", "k"),
        ("z", "s"),
        ("x", "s"),
        ("y", "i"),
        ("w", "u"),
        ("v", "b"),
        ("j", "h"),
        (" ", ""),
        ("'", ""),
    ];
    let mut out = String::new();
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let spelling = SPELLINGS.iter().find(|(spelled, _)| rest.starts_with(spelled));
        let (sound, taken) = match spelling {
            Some((spelled, sound)) => ((*sound).to_owned(), spelled.len()),
            None => (letter.to_string(), letter.len_utf8()),
        };
        for sound in sound.chars() {
            if !out.ends_with(sound) {
                out.push(sound);
            }
        }
        rest = rest.get(taken..).unwrap_or("");
    }
    out
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
