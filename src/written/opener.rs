//! Whether a line can be in the form at all, by how it begins: prose is turned away after one look.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use crate::text::fold;

use super::shorthand::{Meaning, words_at};

/// Words that begin a line of the form and are not in the shorthand.
const OPENERS: &[&str] = &[
    "title",
    "titulo",
    "lesson",
    "leccion",
    "palo",
    "language",
    "idioma",
    "recording",
    "grabacion",
    "duracion",
    "reviewed",
    "revisado",
    "revisada",
    "order",
    "orden",
    "needs",
    "necesita",
    "requiere",
    "people",
    "personas",
    "tuning",
    "afinacion",
    "lengths",
    "pulses",
    "duraciones",
    "first",
    "begins",
    "empieza",
    "metre",
    "accent",
    "acento",
    "tono",
    "advice",
    "consejo",
    "see",
    "later",
    "uses",
    "explains",
    "heard",
    "not",
    "either",
    "said",
    "del",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "uno",
    "una",
    "dos",
    "tres",
    "cuatro",
    "cinco",
    "seis",
    "siete",
    "ocho",
    "nueve",
    "diez",
    "once",
    "doce",
];

static KNOWN: LazyLock<BTreeSet<&str>> = LazyLock::new(|| OPENERS.iter().copied().collect());

/// False when no form begins like this.
pub fn may_open(text: &str) -> bool {
    let Some(first) = text.chars().next() else { return false };
    if !first.is_alphabetic() {
        return first.is_ascii_digit() || matches!(first, '&' | '+' | '½' | '!' | '?' | '/' | '(' | '×');
    }
    if text.contains('=') {
        return true;
    }
    let length = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    let word = text.get(..length).unwrap_or("");
    let numbered = matches!(word, "V" | "v" | "x") && text.get(length..).is_some_and(starts_with_digit);
    if numbered || is_pitch_like(word) {
        return true;
    }
    let opens = words_at(text).is_some_and(|(meaning, _)| meaning.role().is_some() || OPENING.contains(&meaning));
    if word.is_ascii() {
        let plain = word.to_ascii_lowercase();
        return opens || KNOWN.contains(plain.as_str());
    }
    opens || KNOWN.contains(fold(word).text.as_str())
}

const OPENING: [Meaning; 13] = [
    Meaning::SameAs,
    Meaning::SameRightHand,
    Meaning::AsCore,
    Meaning::Count,
    Meaning::Accents,
    Meaning::Tempo,
    Meaning::Capo,
    Meaning::NoCapo,
    Meaning::Key,
    Meaning::Loop,
    Meaning::Beat,
    Meaning::Then,
    Meaning::And,
];

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

/// `A`, `Bb`, `F#m7`, `lam`, `sol`: a chord line may begin so.
fn is_pitch_like(word: &str) -> bool {
    let capital = word.starts_with(|c: char| ('A'..='G').contains(&c));
    let solfa = ["do", "re", "mi", "fa", "sol", "la", "si"];
    let is_solfa = |name: &str| {
        word.get(..name.len())
            .is_some_and(|start| start.eq_ignore_ascii_case(name))
    };
    (capital && word.len() <= 5) || (word.len() <= 7 && solfa.into_iter().any(is_solfa))
}
