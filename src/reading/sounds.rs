//! Words of the trade by their sound: a recogniser that does not know them writes what it hears, "go pay", "so lay are".
//! What the table of mishearings does not hold is found here, in sentences about music, and reported like the rest.

use std::borrow::Cow;
use std::sync::LazyLock;

use super::lexicon::{Concept, Language, Lexicon, misheard_terms};
use super::pieces::Piece;
use super::sounding::{SOUNDS, Sounds, order_of, sounds_in_english, sounds_of};
use crate::intake::{Note, NoteKind};

/// A term with how it sounds.
struct Sounding {
    term: &'static str,
    sounds: Sounds,
    is_palo: bool,
}

static TERMS: LazyLock<Vec<Sounding>> = LazyLock::new(|| {
    misheard_terms()
        .map(|term| Sounding {
            term,
            sounds: sounds_of(term),
            is_palo: crate::music::palo::find(&term.replace(' ', "-")).is_some(),
        })
        .filter(|sounding| sounding.sounds.length >= 5)
        .collect()
});

/// Terms that begin with the same sound and end with the same.
#[derive(Default)]
struct Alike {
    terms: Vec<&'static Sounding>,
    /// How many sounds words may have that are near to one of them, at least and at most.
    least: usize,
    most: usize,
}

/// The terms by the sounds that they begin and end with.
struct ByEnds {
    alike: Vec<Alike>,
    /// For each sound that a term begins with a bit for each that such a term ends with: most words end otherwise.
    ends: [u32; SOUNDS],
}

static BY_ENDS: LazyLock<ByEnds> = LazyLock::new(|| {
    let mut by_ends: Vec<Alike> = Vec::new();
    by_ends.resize_with(SOUNDS * SOUNDS, Alike::default);
    for sounding in TERMS.iter() {
        let alike = place_of(&sounding.sounds).and_then(|at| by_ends.get_mut(at));
        let Some(alike) = alike else { continue };
        let length = sounding.sounds.length;
        let shortest = length.saturating_sub(MOST_AMISS).max(LEAST);
        alike.least = if alike.terms.is_empty() {
            shortest
        } else {
            alike.least.min(shortest)
        };
        alike.most = alike.most.max(length + MOST_AMISS);
        alike.terms.push(sounding);
    }
    let ends = |first: &[Alike]| {
        let ended = first.iter().enumerate().filter(|(_, alike)| !alike.terms.is_empty());
        ended.fold(0, |ends, (last, _)| ends | 1 << last)
    };
    let mut each = by_ends.chunks(SOUNDS).map(ends);
    let ends = std::array::from_fn(|_| each.next().unwrap_or(0));
    ByEnds { alike: by_ends, ends }
});

/// Where terms stand that begin and end with the same sounds.
fn place_of(sounds: &Sounds) -> Option<usize> {
    let (first, last) = (sounds.heard().first()?, sounds.heard().last()?);
    Some(order_of(*first)? * SOUNDS + order_of(*last)?)
}

/// Words with fewer sounds are no term.
const LEAST: usize = 4;

/// Words taken together at most.
const LONGEST: usize = 4;

/// A palo is named in the first sentences.
const OPENING: usize = 12;

/// Adds what was heard in this note for words of the trade.
pub fn learn_sounds(note: &Note, sentences: &[Vec<Piece>], language: Language, lexicon: &mut Lexicon) {
    if note.kind != NoteKind::Spoken || language != Language::English {
        return;
    }
    let all = sentences.iter().enumerate();
    let found: Vec<(String, &str)> = all
        .flat_map(|(nth, pieces)| heard(pieces, nth < OPENING, lexicon))
        .collect();
    for (heard, term) in found {
        lexicon.add_misheard(&heard, term);
    }
}

/// The words of a sentence as they are said: letters, figures and apostrophes that have grown together.
fn said<'a>(pieces: &'a [Piece]) -> Vec<Cow<'a, str>> {
    let mut words: Vec<Cow<str>> = Vec::with_capacity(pieces.len());
    let mut end = None;
    for piece in pieces {
        if piece.mark.is_some_and(|mark| mark != '\'') {
            end = None;
            continue;
        }
        match words.last_mut().filter(|_| end == Some(piece.start)) {
            Some(word) => word.to_mut().push_str(&piece.folded),
            None => words.push(Cow::Borrowed(&*piece.folded)),
        }
        end = Some(piece.end);
    }
    words
}

/// What sounds like a term in a sentence, with the term.
fn heard(pieces: &[Piece], opening: bool, lexicon: &Lexicon) -> Vec<(String, &'static str)> {
    let words = said(pieces);
    let musical = words.iter().filter(|word| is_of_music(word, lexicon)).take(2).count() == 2;
    if !musical && !opening {
        return Vec::new();
    }
    let sounds: Vec<Sounds> = words.iter().map(|word| sounds_in_english(word)).collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        match near_term(&words, &sounds, at, lexicon) {
            Some((length, sounding)) if musical || sounding.is_palo && opening => {
                out.push((words.get(at..at + length).unwrap_or(&[]).join(" "), sounding.term));
                at += length;
            }
            _ => at += 1,
        }
    }
    out
}

/// The term that most words from one on sound like, and how many words they are.
fn near_term(
    words: &[Cow<str>],
    sounds: &[Sounds],
    at: usize,
    lexicon: &Lexicon,
) -> Option<(usize, &'static Sounding)> {
    let by_ends = &*BY_ENDS;
    let rest = sounds.get(at..)?;
    let first = order_of(*rest.iter().find_map(|sounds| sounds.heard().first())?)?;
    let ends = by_ends.ends.get(first).copied().filter(|ends| *ends != 0)?;
    let first = first * SOUNDS;
    let by_ends = by_ends.alike.get(first..first + SOUNDS)?;
    // How many sounds so many words have, and which is the last.
    let (mut length, mut last) = (0, None);
    let mut found = None;
    for (taken, sounds) in rest
        .iter()
        .take(LONGEST)
        .enumerate()
        .map(|(at, sounds)| (at + 1, sounds))
    {
        length += sounds.length;
        last = sounds.last.or(last);
        let alike = last
            .filter(|last| ends & 1 << last != 0)
            .and_then(|last| by_ends.get(last));
        let Some(alike) = alike.filter(|alike| (alike.least..=alike.most).contains(&length)) else {
            continue;
        };
        let near = alike.near(rest.get(..taken)?, length);
        let meant = near.filter(|sounding| {
            let window = words.get(at..at + taken);
            window.is_some_and(|window| is_meant(window, sounding, lexicon))
        });
        found = meant.map(|sounding| (taken, sounding)).or(found);
    }
    found
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
        known.token.number.is_some() || known.alone().is_some_and(|concepts| concepts.contains_any(&OF_MUSIC))
    })
}

/// Whether a window of words can be a mishearing of the term that it sounds like: it holds no term, and no word known.
fn is_meant(window: &[Cow<str>], sounding: &Sounding, lexicon: &Lexicon) -> bool {
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

impl Alike {
    /// The first of them with nearly the same sounds.
    fn near(&self, sounds: &[Sounds], length: usize) -> Option<&'static Sounding> {
        let kinds = sounds.iter().fold(0, |kinds, sounds| kinds | sounds.kinds);
        let fits = |sounding: &&&Sounding| {
            let (term, allowed) = (sounding.sounds.heard(), sounding.allowed(sounds.len()));
            term.len().abs_diff(length) <= allowed
                && kinds_amiss(sounding.sounds.kinds, kinds) <= allowed
                && differ(term, sounds) <= allowed
        };
        self.terms.iter().find(fits).copied()
    }
}

/// How many kinds of sounds only one of two sides has, at most: in so many sounds they differ at least.
fn kinds_amiss(one: u32, other: u32) -> usize {
    let only = |some: u32, others: u32| (some & !others).count_ones() as usize;
    only(one, other).max(only(other, one))
}

/// In how many sounds some words differ from a term.
fn differ(term: &[u8], sounds: &[Sounds]) -> usize {
    let heard: Vec<u8> = sounds.iter().flat_map(|sounds| sounds.heard()).copied().collect();
    strsim::generic_levenshtein(&term.to_vec(), &heard)
}

impl Sounding {
    /// How many sounds of so many words may differ.
    fn allowed(&self, words: usize) -> usize {
        let short_palo = self.is_palo && self.sounds.length <= 6;
        if short_palo {
            0
        } else {
            allowed(self.sounds.length, words)
        }
    }
}

/// In no more sounds may anything differ.
const MOST_AMISS: usize = 2;

/// How many sounds may differ: a single word is more easily another word than several are.
fn allowed(sounds: usize, words: usize) -> usize {
    match (sounds, words) {
        (0..=6, 1) => 0,
        (0..=8, _) => 1,
        _ => MOST_AMISS,
    }
}

#[cfg(test)]
mod tests {
    use super::super::sounding::MOST;
    use super::*;
    use crate::reading::lexicon::lexicon;
    use crate::reading::pieces::pieces;

    #[test]
    fn no_term_has_as_many_sounds_as_are_remembered() {
        let longest = TERMS.iter().map(|sounding| sounding.sounds.length).max();
        assert!(longest.is_some_and(|longest| longest + 2 < MOST), "{longest:?}");
    }

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
            let found = heard(&pieces(sentence), true, lexicon(Language::English));
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
            let found = heard(&pieces(sentence), true, lexicon(Language::English));
            assert!(found.is_empty(), "{sentence}: {found:?}");
        }
    }
}
