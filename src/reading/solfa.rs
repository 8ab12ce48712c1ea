//! Spanish names of notes and chords: "si bemol", `lam`, "el la".

use super::clauses::FINGERS;
use super::lexicon::{Concept, Language};
use super::moments::{before, token};
use super::pitch_words::{PitchWord, may_follow_root, quality_after};
use super::sayings::{among, sayings};
use super::spans::span_at;
use super::tokens::{Token, compact};
use crate::music::chord::ChordName;
use crate::music::pitch::{NoteName, SOLFA};

/// A bare Spanish name of a note.
pub fn bare_name(token: &Token) -> Option<NoteName> {
    name_of(&token.word)
}

/// The note that a word names in Spanish.
pub fn name_of(word: &str) -> Option<NoteName> {
    let named = SOLFA.iter().find(|(name, _)| *name == word);
    named.map(|(_, letter)| NoteName::new(*letter, 0))
}

/// "si bemol", "la menor", `lam`, `mi7`, `sol#`. A bare name counts only where its neighbours make it one.
pub fn solfa(tokens: &[Token], index: usize, language: Language, typed: bool) -> Option<PitchWord> {
    if !tokens.get(index).is_some_and(|token| may_begin_with_solfa(&token.raw)) {
        return None;
    }
    let (text, length) = compact(tokens, index);
    let lower = crate::text::folded(&text);
    let (name, letter) = SOLFA
        .iter()
        .filter(|(name, _)| lower.starts_with(name))
        .max_by_key(|(name, _)| name.len())?;
    let rest = lower.get(name.len()..).unwrap_or("");
    let raw_rest = text.get(name.len()..).unwrap_or("");
    let mut word = PitchWord {
        root: NoteName::new(*letter, 0),
        quality: String::new(),
        added: String::new(),
        qualified: false,
        length,
    };
    let rest = if let Some(after) = rest.strip_prefix(['#', '♯']) {
        word.root.alter = 1;
        after
    } else if let Some(after) = rest.strip_prefix('♭').or(rest.strip_prefix('b')) {
        word.root.alter = -1;
        after
    } else {
        rest
    };
    match rest {
        "" => {}
        "m" if raw_rest.ends_with('M') => word.qualified = true,
        "m" | "7" | "m7" | "maj7" => {
            rest.clone_into(&mut word.quality);
            word.qualified = true;
        }
        _ => {
            word.quality = printed_quality(raw_rest)?;
            word.qualified = true;
        }
    }
    let marked = word.qualified || word.root.alter != 0;
    quality_after(tokens, index, &mut word, typed);
    let named = marked || word.qualified || word.root.alter != 0;
    (named || bare_solfa(tokens, index, word.length, language)).then_some(word)
}

/// Whether a word as written begins with the first letter of a sol-fa name.
fn may_begin_with_solfa(raw: &str) -> bool {
    let first = raw.as_bytes().first().map(u8::to_ascii_lowercase);
    matches!(first, Some(b'd' | b'r' | b'm' | b'f' | b's' | b'l' | 0x80..))
}

/// What printed charts write behind a root: `7M`, `m7b5`, `7sus4`. A figure has to stand in it: `lame` is a word.
fn printed_quality(rest: &str) -> Option<String> {
    let rest = rest.trim_start_matches(['#', '♯', '♭']);
    let rest = rest.strip_prefix('b').unwrap_or(rest);
    let figure = rest.contains(|sign: char| sign.is_ascii_digit());
    let chord = ChordName::parse(&format!("C{rest}")).filter(|_| figure)?;
    Some(chord.quality)
}

/// Whether a folded word may begin a sol-fa name: `la`, `sib`, `lam`, `remaj`.
pub fn may_begin_solfa(word: &str) -> bool {
    let [b'd' | b'r' | b'm' | b'f' | b's' | b'l', b'o' | b'e' | b'i' | b'a', ..] = word.as_bytes() else {
        return false;
    };
    let behind = SOLFA.iter().find_map(|(name, _)| word.strip_prefix(name));
    behind.is_some_and(may_follow_root)
}

/// A bare `la`, `mi`, `si`… is a note after "el", "nota", an opening bracket, or among other notes.
fn bare_solfa(tokens: &[Token], index: usize, length: usize, language: Language) -> bool {
    let before = index.checked_sub(1).and_then(|at| tokens.get(at));
    let after = tokens.get(index + length);
    let is_name = |token: Option<&Token>| token.is_some_and(|token| SOLFA.iter().any(|(name, _)| *name == token.word));
    let bracketed = before.is_some_and(|token| token.is_mark('(')) && after.is_some_and(|token| token.is_mark(')'));
    if bracketed {
        return true;
    }
    if language != Language::Spanish {
        return false;
    }
    let word = tokens.get(index).map_or("", |token| token.word.as_str());
    // "la sexta no se toca": the article of a string.
    if word == "la" && after.is_some_and(|token| token.ordinal.is_some() || token.is(Concept::StringWord)) {
        return false;
    }
    let closes = after.is_none_or(|token| token.mark.is_some());
    let introduced = before.is_some_and(|token| {
        matches!(
            token.word.as_str(),
            "el" | "del" | "al" | "nota" | "un" | "este" | "ese" | "acorde"
        )
    });
    // `7: fa.`
    let of_a_count = closes
        && before.is_some_and(|token| token.is_mark(':'))
        && index
            .checked_sub(2)
            .and_then(|at| tokens.get(at))
            .is_some_and(|token| token.number.is_some());
    if of_a_count {
        return true;
    }
    // "El tres. La. Pulgar abajo."
    let raw = tokens.get(index).map_or("", |token| token.raw.as_str());
    let stands_alone = index >= 2
        && raw.starts_with(char::is_uppercase)
        && before.is_some_and(|token| token.is_mark('.'))
        && after.is_some_and(|token| token.is_mark('.'))
        && tokens.get(index - 2).is_some_and(|token| token.number.is_some());
    if stands_alone && word != "si" {
        return true;
    }
    // `1 do.`
    let in_front = index == 1 && before.is_some_and(|token| token.number.is_some() && !token.spelled);
    if in_front && after.is_none_or(|token| token.is_mark('.')) {
        return true;
    }
    let behind_a_count = before.is_some_and(|token| token.number.is_some() || token.word == "y");
    if behind_a_count && place_stands_at(tokens, index + length) {
        return true;
    }
    // "La desde el 1": a capital in front of what a chord does.
    let capital = tokens
        .get(index)
        .is_some_and(|token| token.raw.starts_with(char::is_uppercase));
    let acts = after.is_some_and(|token| {
        matches!(
            token.word.as_str(),
            "desde" | "cae" | "entra" | "regresa" | "vuelve" | "llega"
        )
    });
    if capital && acts {
        return true;
    }
    // "mi del nueve al doce"
    if span_at(tokens, index + length + 1).is_some() && after.is_some_and(|token| token.word == "del") {
        return true;
    }
    // "va en el acorde de la índice abajo"
    let of_a_chord = index >= 2
        && before.is_some_and(|token| token.word == "de")
        && tokens.get(index - 2).is_some_and(|token| token.is(Concept::ChordWord));
    let parted = after.is_none_or(|token| {
        token.number.is_some()
            || token.is_any(&FINGERS.map(|(concept, _)| concept))
            || token.is_any(&[Concept::And, Concept::With, Concept::On])
    });
    if of_a_chord && (closes || parted || word != "la") {
        return true;
    }
    // "siete do con el pulgar", "doce fa cuarta cuerda"
    let counted = before.is_some_and(|token| token.number.is_some() && !token.joined);
    let played = after.is_some_and(|token| {
        token.ordinal.is_some() || token.is(Concept::With) || token.is_any(&FINGERS.map(|(concept, _)| concept))
    });
    if counted && played && !matches!(word, "la" | "si") {
        return true;
    }
    // "en el ocho la otra vez"
    let back = word == "la"
        && after.is_some_and(|token| matches!(token.word.as_str(), "otra" | "otra vez"))
        && before.is_some_and(|token| token.number.is_some());
    if back {
        return true;
    }
    if word != "si" && stands_on_it(tokens, index) {
        return true;
    }
    // "En el 3, fa: …"
    let finger = tokens
        .get(index + length + 1)
        .is_some_and(|next| next.is_any(&FINGERS.map(|(concept, _)| concept)));
    let parted = after.is_some_and(|token| token.is_mark(':') || token.is_mark(',') && finger);
    let of_the_count = typed_comma(tokens, index) && parted && word != "si";
    if of_the_count {
        return true;
    }
    // "La menor en el 1, sol en el 4, fa en el 7": a name in front of its count.
    let link = |at: usize| tokens.get(at).map_or("", |token| token.word.as_str());
    let at = index + length + 1;
    let at = at + usize::from(link(at) == "el");
    let counted = matches!(link(index + length), "en" | "desde")
        && tokens
            .get(at)
            .is_some_and(|token| token.number.is_some_and(|number| (1..=12).contains(&number)))
        && tokens
            .get(at + 1)
            .is_none_or(|token| token.mark.is_some() || token.is(Concept::And));
    let opens = before.is_none_or(|token| token.mark.is_some() || token.is(Concept::And) || token.word == "otra vez");
    if counted && opens && word != "si" {
        return true;
    }
    let masculine = introduced && (closes || word != "si");
    let sounded = closes
        && before.is_some_and(|token| {
            matches!(
                token.word.as_str(),
                "es" | "suena" | "en" | "de" | "sale" | "a" | "con" | "por" | "sobre" | "sigue" | "viene" | "entra"
            ) || token.is(Concept::Play)
        });
    let comma = |token: Option<&Token>| token.is_some_and(|token| token.is_mark(','));
    let listed = comma(after) && is_name(tokens.get(index + length + 1))
        || comma(before)
            && index >= 2
            && (is_name(tokens.get(index - 2)) || tokens.get(index - 2).is_some_and(|token| token.is(Concept::Flat)))
        || (is_name(before) && word != "la" && closes);
    masculine || sounded || listed
}

/// Behind "en el 3," or "3,".
fn typed_comma(tokens: &[Token], index: usize) -> bool {
    let counted = index
        .checked_sub(2)
        .is_some_and(|at| token(tokens, at).number.is_some());
    before(tokens, index).is_mark(',') && counted
}

/// "estamos en la y va el pulgar", "volvemos a do y ahí va": the chord, and no article of "la y".
pub fn stands_on_it(tokens: &[Token], index: usize) -> bool {
    let lead = before(tokens, index).word.as_str();
    let verb = index.checked_sub(2).map_or("", |at| token(tokens, at).word.as_str());
    let adverb = matches!(verb, "otra vez" | "vez" | "todavia" | "todos" | "ya");
    let verb = match index.checked_sub(3) {
        Some(at) if adverb => token(tokens, at).word.as_str(),
        _ => verb,
    };
    // "y el diez otra vez en la y es un rasgueado"
    // "estamos en el la y el pulgar toca", "o sea la nota la y"
    let again = lead == "en" && adverb || matches!(lead, "el" | "al" | "nota");
    let stands = again || matches!(lead, "en" | "a") && among(&sayings().words.standing, verb);
    let next = token(tokens, index + 1);
    let noun = next.ordinal.is_some() || next.is_any(&[Concept::StringWord, Concept::LeftHand, Concept::RightHand]);
    stands && !noun && (next.mark.is_some() || next.word.is_empty() || next.is_any(&[Concept::And, Concept::Is]))
}

/// Where a note is fingered stands here, behind its name: `5 mi, 6ª al aire`, `la (3ª, traste 2)`.
pub fn place_stands_at(tokens: &[Token], at: usize) -> bool {
    let mark = tokens.get(at);
    let place = tokens.get(at + 1).is_some_and(|place| {
        place.ordinal.is_some()
            || place.is(Concept::StringWord)
            || place.number.is_some_and(|string| (1..=6).contains(&string))
    });
    place && mark.is_some_and(|mark| mark.is_mark(',') || mark.is_mark('('))
}
