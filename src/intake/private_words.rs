use std::sync::LazyLock;

use super::private::{Mark, MarkKind};
use crate::text::fold;

/// What is said before something private, folded.
const BEGIN: &[&str] = &[
    "this stays between us",
    "this is just between us",
    "this stays private",
    "the private part starts here",
    "start of the private part",
    "esto queda entre nosotros",
    "esto queda entre nosotras",
    "esto se queda entre nosotros",
    "esto se queda entre nosotras",
    "empieza lo privado",
];

/// What is said after it, folded.
const END: &[&str] = &[
    "end of the private part",
    "end of private part",
    "end of the private bit",
    "fin de lo privado",
    "fin de la parte privada",
    "se acabo lo privado",
];

/// Letters by which a recogniser may miss an opening phrase. An ending has to be exact: what is missed there stays private.
const MISHEARD_LETTERS: usize = 2;

/// One word of one of these stands in every phrase.
const ANCHORS: &[&str] = &[
    "between", "private", "entre", "privado", "privada", "nosotros", "nosotras",
];

struct Word {
    text: String,
    /// A word of one of the phrases, or one letter off it.
    is_anchor: bool,
    start: usize,
    end: usize,
}

/// Marks that were said: capitals, accents, punctuation and line ends between their words do not matter.
pub(super) fn spoken_marks(text: &str) -> Vec<Mark> {
    let words = words(text);
    let mut marks: Vec<Mark> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let found = words.get(at..).and_then(phrase_at);
        // A misheard phrase may seem to begin a word early: where it fits better, there it is.
        let fits_later = |found: &Found| {
            let later = words.get(at + 1..).and_then(phrase_at);
            later.is_some_and(|later| later.distance < found.distance)
        };
        match found.filter(|found| !fits_later(found)) {
            Some(found) => {
                let first = words.get(at).map_or(0, |word| word.start);
                let last = words.get(at + found.words - 1).map_or(first, |word| word.end);
                marks.push(Mark {
                    range: first..last,
                    kind: found.kind,
                });
                at += found.words;
            }
            None => at += 1,
        }
    }
    marks
}

/// Longest window that any phrase needs: its words, and one more where the recogniser parted one.
const WINDOW: usize = 6;

/// A phrase to listen for.
struct Phrase {
    /// Without the spaces: a recogniser parts and joins words as it likes.
    letters: String,
    bag: Bag,
    kind: MarkKind,
    /// Letters by which it may be missed.
    allowed: usize,
}

static PHRASES: LazyLock<Vec<Phrase>> = LazyLock::new(|| {
    let phrase = |kind, allowed| {
        move |words: &&str| Phrase {
            letters: words.replace(' ', ""),
            bag: Bag::of(words),
            kind,
            allowed,
        }
    };
    let ends = END.iter().map(phrase(MarkKind::End, 0));
    ends.chain(BEGIN.iter().map(phrase(MarkKind::Stretch, MISHEARD_LETTERS)))
        .collect()
});

/// How often each letter stands in a text: texts whose letters differ much are far apart, and need not be measured.
#[derive(Debug, Clone, Copy, Default)]
struct Bag {
    counts: [u8; 26],
}

impl Bag {
    fn of(text: &str) -> Self {
        let mut bag = Self::default();
        bag.add(text);
        bag
    }

    fn add(&mut self, text: &str) {
        for byte in text.bytes().filter(u8::is_ascii_lowercase) {
            if let Some(count) = self.counts.get_mut(usize::from(byte - b'a')) {
                *count = count.saturating_add(1);
            }
        }
    }

    /// Letters that one has and the other has not: an exchanged letter makes two of them.
    fn apart(&self, other: &Self) -> usize {
        let pairs = self.counts.iter().zip(&other.counts);
        pairs.map(|(one, two)| usize::from(one.abs_diff(*two))).sum()
    }
}

/// A phrase at the front of some words.
struct Found {
    kind: MarkKind,
    words: usize,
    /// Letters by which it was missed.
    distance: usize,
}

fn phrase_at(words: &[Word]) -> Option<Found> {
    let window = words.get(..WINDOW.min(words.len()))?;
    if !window.iter().any(|word| word.is_anchor) {
        return None;
    }
    let mut joined = String::new();
    let mut letters = Bag::default();
    let mut best: Option<Found> = None;
    for (index, word) in window.iter().enumerate() {
        joined.push_str(&word.text);
        letters.add(&word.text);
        for phrase in PHRASES.iter() {
            let length = phrase.letters.len().abs_diff(joined.len());
            if length > phrase.allowed || letters.apart(&phrase.bag) > 2 * phrase.allowed {
                continue;
            }
            let distance = strsim::osa_distance(&joined, &phrase.letters);
            if distance <= phrase.allowed && best.as_ref().is_none_or(|best| distance < best.distance) {
                best = Some(Found {
                    kind: phrase.kind,
                    words: index + 1,
                    distance,
                });
            }
        }
    }
    best
}

fn is_anchor(word: &str) -> bool {
    ANCHORS.iter().any(|anchor| at_most_one_off(word, anchor)) || word == "tween" || word == "otros"
}

/// The same word, or one letter put in, left out or exchanged. Asked of every word of every note, so it does not measure distances.
fn at_most_one_off(one: &str, two: &str) -> bool {
    let same = one.bytes().zip(two.bytes()).take_while(|(one, two)| one == two).count();
    fn rest(text: &str, from: usize) -> Option<&[u8]> {
        text.as_bytes().get(from..)
    }
    match one.len().abs_diff(two.len()) {
        0 => rest(one, same + 1) == rest(two, same + 1),
        1 if one.len() > two.len() => rest(one, same + 1) == rest(two, same),
        1 => rest(one, same) == rest(two, same + 1),
        _ => false,
    }
}

fn words(text: &str) -> Vec<Word> {
    let folded = fold(text);
    let mut words = Vec::new();
    let mut start = None;
    for (at, letter) in folded.text.char_indices().chain([(folded.text.len(), ' ')]) {
        match (letter.is_alphanumeric(), start) {
            (true, None) => start = Some(at),
            (false, Some(begin)) => {
                let text = folded.text.get(begin..at).unwrap_or("").to_owned();
                words.push(Word {
                    is_anchor: is_anchor(&text),
                    text,
                    start: folded.source_offset(begin),
                    end: folded.source_offset(at),
                });
                start = None;
            }
            (true, Some(_)) | (false, None) => {}
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::at_most_one_off;

    #[test]
    fn words_one_letter_off() {
        for (one, two, expected) in [
            ("between", "between", true),
            ("betwen", "between", true),
            ("betweens", "between", true),
            ("bitween", "between", true),
            ("etween", "between", true),
            ("betwean", "between", true),
            ("bitwen", "between", false),
            ("tween", "between", false),
            ("", "a", true),
        ] {
            assert_eq!(at_most_one_off(one, two), expected, "{one} {two}");
        }
    }
}
