//! In a transcript without marks: where a thought goes on, though the words that follow could begin one.

use super::lexicon::Language;
use super::numbers::cardinal;
use super::sayings::{among, sayings};

/// Whether what was told goes on with the words that follow.
pub fn goes_on(told: &str, follows: &str, language: Language) -> bool {
    names_the_capo(told, follows)
        || says_where_it_is(told, follows)
        || stands_behind_its_stroke(told, follows, language)
        || lists_accents(told, follows, language)
        || lists_what_goes(told, follows, language)
        || goes_on_with_frets(told, follows, language)
        || closes_with_the_and(told, follows)
}

/// "then open two two one open": a chord's shape goes on where frets follow one another.
fn goes_on_with_frets(told: &str, follows: &str, language: Language) -> bool {
    let words = follows
        .split_whitespace()
        .skip_while(|word| matches!(*word, "and" | "then" | "y" | "luego" | "entonces"));
    let frets: Vec<&str> = words.take(3).take_while(|word| is_fret(word, language)).collect();
    let of_strings = || {
        [" open", "string", "cuerda", "aire"]
            .iter()
            .any(|word| told.contains(word))
    };
    // "then the next three are open"
    let mut next = follows
        .split_whitespace()
        .skip_while(|word| matches!(*word, "and" | "then" | "the"));
    let next_ones = next.next() == Some("next") && next.take(4).any(is_open);
    next_ones || frets.len() >= 2 && (frets.iter().any(|word| is_open(word)) || of_strings())
}

/// "index up on the and | still on the E7": the and belongs to the stroke in front of it.
fn closes_with_the_and(told: &str, follows: &str) -> bool {
    let strokes = [
        "down",
        "up",
        "golpe",
        "tap",
        "upstroke",
        "downstroke",
        "upstrum",
        "downstrum",
    ];
    let struck = told
        .split_whitespace()
        .last()
        .is_some_and(|word| strokes.contains(&word));
    let behind = follows
        .strip_prefix("on the and")
        .map(|rest| rest.split_whitespace().next());
    let tells = [
        "of", "it's", "is", "you", "we", "the", "there's", "index", "thumb", "middle", "ring", "a", "another",
    ];
    struck && behind.is_some_and(|word| word.is_none_or(|word| !tells.contains(&word)))
}

/// "the index takes the third string | on the and of seven": where no count stands in front of what is played, the one
/// behind it tells its moment.
fn stands_behind_its_stroke(told: &str, follows: &str, language: Language) -> bool {
    let told = told.to_ascii_lowercase();
    let (leads, links, ands): (&[&str], &[&str], &[&str]) = match language {
        Language::English => (
            &["on the and", "on ", "at "],
            &[" and ", " then ", " so "],
            &["so", "then", "and"],
        ),
        Language::Spanish => (
            &["en el ", "en la "],
            &[" y ", " luego ", " entonces "],
            &["y", "luego"],
        ),
    };
    let placed = leads.iter().any(|lead| follows.starts_with(lead));
    let linked = told.split_whitespace().last().is_some_and(|word| ands.contains(&word));
    if !placed || linked {
        return false;
    }
    let from = links
        .iter()
        .filter_map(|link| told.rfind(link).map(|at| at + link.len()))
        .max();
    let part = told.get(from.unwrap_or(0)..).unwrap_or("");
    let words: Vec<&str> = part.split_whitespace().collect();
    let counted = words.iter().enumerate().any(|(at, word)| {
        let led = at.checked_sub(1).and_then(|at| words.get(at)).copied().unwrap_or("");
        let other = matches!(
            led,
            "fret" | "string" | "finger" | "traste" | "cuerda" | "dedo" | "capo" | "to"
        );
        !other && is_number(word, language)
    });
    !counted && words.iter().any(|word| plays(word)) && !leads_its_stroke(follows, leads, links)
}

/// "en el uno la sexta al aire en el dos la quinta": what is played stands behind each count, up to the last one before
/// the talk is linked on.
fn leads_its_stroke(follows: &str, leads: &[&str], links: &[&str]) -> bool {
    let ends = links.iter().filter_map(|link| follows.find(link)).min();
    let run = follows.get(..ends.unwrap_or(follows.len())).unwrap_or("");
    let behind: Vec<&str> = leads
        .iter()
        .flat_map(|lead| run.match_indices(lead).map(|(at, _)| at))
        .filter_map(|at| run.get(at..))
        .filter(|rest| rest.split_whitespace().nth(2) != Some("traste"))
        .collect();
    let shortest = behind.iter().min_by_key(|rest| rest.len());
    behind.len() > 1 && shortest.is_some_and(|rest| rest.split_whitespace().any(plays))
}

/// "la cejilla perdón | en el uno": where the capo is.
fn names_the_capo(told: &str, follows: &str) -> bool {
    let near = told.split_whitespace().rev().take(2);
    let capo = near.into_iter().any(|word| matches!(word, "cejilla" | "capo"));
    capo && follows.starts_with("en el ")
}

/// "el golpe es solo | en el doce": the verb waits for the count.
fn says_where_it_is(told: &str, follows: &str) -> bool {
    let mut words = told.split_whitespace().rev();
    let last = words.next().map(|word| {
        if matches!(word, "solo" | "only") {
            words.next().unwrap_or("")
        } else {
            word
        }
    });
    let golpe = || {
        words
            .clone()
            .take(3)
            .any(|word| matches!(word, "golpe" | "tap" | "knock"))
    };
    matches!(last, Some("es" | "is")) && (follows.starts_with("en el ") || follows.starts_with("on ")) && golpe()
}

/// Words without which nothing is played.
fn plays(word: &str) -> bool {
    among(&sayings().words.played, word)
}

/// A number in figures or in words.
fn is_number(word: &str, language: Language) -> bool {
    word.parse::<u8>().is_ok() || cardinal(word, language).is_some()
}

fn is_fret(word: &str, language: Language) -> bool {
    is_open(word) || is_number(word, language)
}

fn is_open(word: &str) -> bool {
    matches!(word, "open" | "abierta" | "aire" | "cero" | "zero" | "nought" | "oh")
}

/// "the weight is on two and on four | and then on six": a list of accents goes on where a count is all that follows.
fn lists_accents(told: &str, follows: &str, language: Language) -> bool {
    let accents = || {
        let told = told.to_ascii_lowercase();
        ["weight", "accent", "stress", "acento", "carga", "peso"]
            .iter()
            .any(|word| told.contains(word))
    };
    let mut words = follows.split_whitespace().skip_while(|word| {
        matches!(
            *word,
            "and" | "then" | "on" | "y" | "luego" | "en" | "el" | "del" | "the" | "of"
        )
    });
    let count = words.next().is_some_and(|word| is_number(word, language));
    // "el uno es el flojo": what a count is like.
    let describes = words.next().is_some_and(|word| matches!(word, "es" | "is" | "va"));
    let led = ["y en ", "en ", "and on ", "on "]
        .iter()
        .any(|lead| follows.starts_with(lead));
    let by_itself = describes && !led;
    count && !by_itself && accents()
}

/// "ese reemplaza el siete | y el ocho es un picado": the last of the counts that go.
fn lists_what_goes(told: &str, follows: &str, language: Language) -> bool {
    let is_count = |word: &str| is_number(word, language);
    let mut words = told.split_whitespace().rev();
    let counted = words.next().is_some_and(is_count);
    let goes = |word: &str| among(&sayings().words.going, word);
    let linked = follows.starts_with("y el ") || follows.starts_with("and ");
    counted && linked && words.take(4).any(goes)
}
