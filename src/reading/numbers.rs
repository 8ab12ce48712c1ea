//! Numbers said as words, English and Spanish.

use super::lexicon::Language;

/// The numbers that a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Numbers {
    pub cardinal: Option<i64>,
    pub ordinal: Option<i64>,
}

/// All words of a language that name numbers.
pub fn words(language: Language) -> impl Iterator<Item = (&'static str, Numbers)> {
    let units = ENGLISH.iter().chain(&SPANISH).chain(&ENGLISH_ORDINALS);
    let pairs = SPANISH_ORDINALS.iter().chain(&TENS).map(|(word, _)| word);
    let named = units.chain(pairs).chain(["prima"].iter());
    named.map(move |word| {
        let (cardinal, ordinal) = (cardinal(word, language), ordinal(word, language));
        (*word, Numbers { cardinal, ordinal })
    })
}

const ENGLISH: [&str; 21] = [
    "zero",
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
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
];

const SPANISH: [&str; 21] = [
    "cero",
    "uno",
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
    "trece",
    "catorce",
    "quince",
    "dieciseis",
    "diecisiete",
    "dieciocho",
    "diecinueve",
    "veinte",
];

const ENGLISH_ORDINALS: [&str; 13] = [
    "zeroth", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
];

const SPANISH_ORDINALS: [(&str, i64); 16] = [
    ("primer", 1),
    ("primera", 1),
    ("primero", 1),
    ("segunda", 2),
    ("segundo", 2),
    ("tercer", 3),
    ("tercera", 3),
    ("tercero", 3),
    ("cuarta", 4),
    ("cuarto", 4),
    ("quinta", 5),
    ("quinto", 5),
    ("sexta", 6),
    ("sexto", 6),
    ("septimo", 7),
    ("octavo", 8),
];

const TENS: [(&str, i64); 18] = [
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("seventy", 70),
    ("eighty", 80),
    ("ninety", 90),
    ("hundred", 100),
    ("treinta", 30),
    ("cuarenta", 40),
    ("cincuenta", 50),
    ("sesenta", 60),
    ("setenta", 70),
    ("ochenta", 80),
    ("noventa", 90),
    ("cien", 100),
    ("ciento", 100),
];

/// The number a word names, 0 to 20 and the tens to 100. `a` and `un` are no numbers.
pub fn cardinal(word: &str, language: Language) -> Option<i64> {
    let units = match language {
        Language::English => &ENGLISH,
        Language::Spanish => &SPANISH,
    };
    if let Some(at) = units.iter().position(|unit| *unit == word) {
        return i64::try_from(at).ok();
    }
    if language == Language::Spanish && word == "una" {
        return None;
    }
    TENS.iter().find(|(ten, _)| *ten == word).map(|(_, value)| *value)
}

/// The place a word names: `fifth` → 5, `quinta` → 5.
pub fn ordinal(word: &str, language: Language) -> Option<i64> {
    match language {
        Language::English => {
            if let Some(at) = ENGLISH_ORDINALS.iter().position(|name| *name == word) {
                return i64::try_from(at).ok();
            }
            None
        }
        Language::Spanish if word == "prima" => Some(1),
        Language::Spanish => SPANISH_ORDINALS
            .iter()
            .find(|(name, _)| *name == word)
            .map(|(_, at)| *at),
    }
}
