use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::remarks::is_heard;
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::key::{Key, Mode};
use crate::music::pitch::NoteName;

pub const KEY_NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.kind(&[Kind::Name]).meaning(&[
    Concept::Phrygian,
    Concept::PorMedio,
    Concept::PorArriba,
    Concept::PorTaranta,
    Concept::PorGranaina,
    Concept::PorMinera,
    Concept::PorRondena,
]))];

/// "in A minor", "A phrygian", "por medio", "estamos en la frigio".
pub fn key(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let (toques, modes) = (
        asked.says_any(&TOQUES.map(|(concept, _)| concept)),
        may_have_mode(asked),
    );
    if !toques && !modes {
        return Vec::new();
    }
    for index in 0..tokens.len() {
        let named = || toque(tokens, index).filter(|_| toques);
        let found = named().or_else(|| modes.then(|| moded(asked, index)).flatten());
        if let Some((key, end)) = found {
            return vec![Located {
                statement: Statement::Key(key),
                start: token(tokens, index).start,
                end: token(tokens, end.saturating_sub(1)).end,
            }];
        }
    }
    Vec::new()
}

/// Hand positions by their names, and the tonic of each.
const TOQUES: [(Concept, NoteName); 6] = [
    (Concept::PorMedio, NoteName { letter: 'A', alter: 0 }),
    (Concept::PorArriba, NoteName { letter: 'E', alter: 0 }),
    (Concept::PorTaranta, NoteName { letter: 'F', alter: 1 }),
    (Concept::PorGranaina, NoteName { letter: 'B', alter: 0 }),
    (Concept::PorMinera, NoteName { letter: 'G', alter: 1 }),
    (Concept::PorRondena, NoteName { letter: 'C', alter: 1 }),
];

/// Whether a pitch of the sentence may be one of a mode: the mode is said, or the note opens with its key.
fn may_have_mode(asked: &Asked) -> bool {
    let said =
        || asked.says_any(&[Concept::Major, Concept::Minor]) || asked.tokens.iter().any(|token| token.raw == "M");
    asked.says(Concept::Phrygian) || !asked.in_pattern && (asked.opening || said())
}

fn toque(tokens: &[Token], index: usize) -> Option<(Key, usize)> {
    let here = token(tokens, index);
    let named = TOQUES.iter().find(|(concept, _)| here.is(*concept));
    let tonic = named.map(|(_, tonic)| *tonic)?;
    let negated = before(tokens, index).is(Concept::Negation);
    (!negated).then_some((
        Key {
            tonic,
            mode: Mode::Phrygian,
        },
        index + 1,
    ))
}

fn moded(asked: &Asked, index: usize) -> Option<(Key, usize)> {
    let tokens = asked.tokens;
    let word = asked.name_at(index).cloned().or_else(|| bare_with_mode(asked, index))?;
    let end = index + word.length;
    // "with the capo there it comes out in B minor": what the hand plays is in another key.
    let capo = asked.says(Concept::Capo) || asked.previous.says.means(Concept::Capo);
    if capo && is_heard(tokens, index) {
        return None;
    }
    if token(tokens, end).is(Concept::Phrygian) {
        return Some((
            Key {
                tonic: word.root,
                mode: Mode::Phrygian,
            },
            end + 1,
        ));
    }
    let spoken_mode = tokens
        .get(index..end)?
        .iter()
        .any(|token| token.is_any(&[Concept::Major, Concept::Minor]) || token.raw == "M");
    let short = word.quality == "m" && !spoken_mode;
    let placed = before(tokens, index).is_any(&[Concept::KeyWord])
        || matches!(
            before(tokens, index).word.as_str(),
            "in" | "en" | "key" | "of" | "it's" | "so" | "de" | "="
        );
    // "the key is C major", "la tonalidad es re mayor"
    let told = before(tokens, index).is(Concept::Is)
        && (index.saturating_sub(4)..index).any(|at| token(tokens, at).is(Concept::KeyWord));
    // "Key: E major"
    let headed = before(tokens, index).is_mark(':') && index >= 2 && token(tokens, index - 2).is(Concept::KeyWord);
    let placed = placed || told || headed;
    let mode = if word.quality.starts_with('m') && !word.quality.starts_with("maj") {
        Mode::Minor
    } else {
        Mode::Major
    };
    let alone =
        asked.opening && spoken_mode && (before(tokens, index).mark.is_some() || before(tokens, index).word.is_empty());
    let alone = alone || heads_a_line(asked, index, end) && spoken_mode;
    let named_before = (0..index).any(|at| matches!(token(tokens, at).word.as_str(), "in" | "en"))
        && before(tokens, index).mark.is_some();
    let strong = spoken_mode && (placed || named_before) || short && placed && asked.opening || alone;
    (strong && !asked.in_pattern && !token(tokens, end).is(Concept::ChordWord) && !word.quality.contains('7'))
        .then_some((Key { tonic: word.root, mode }, end))
}

/// `A major, open position`: a typed line that opens with the key and names no chord, fret or count behind it.
fn heads_a_line(asked: &Asked, index: usize, end: usize) -> bool {
    let tokens = asked.tokens;
    let parted =
        token(tokens, end).mark.is_some() && !token(tokens, end).is_mark(':') || token(tokens, end).word.is_empty();
    let plain = (end..tokens.len()).all(|at| {
        let pitch = asked.name_at(at);
        // "A major, capo 2"
        let capo = (at.saturating_sub(2)..at).any(|at| token(tokens, at).is(Concept::Capo));
        (token(tokens, at).number.is_none() || capo)
            && pitch.is_none()
            && !token(tokens, at).is_any(&[Concept::FingerWord, Concept::FretWord])
    });
    (!asked.context.typed || asked.opens_line) && index == 0 && parted && plain
}

/// "la frigio", "la menor" at the head of a Spanish note: the mode makes the name a name.
fn bare_with_mode(asked: &Asked, index: usize) -> Option<super::super::pitch_words::PitchWord> {
    let here = token(asked.tokens, index);
    let letter = match here.word.as_str() {
        "do" => 'C',
        "re" => 'D',
        "mi" => 'E',
        "fa" => 'F',
        "sol" => 'G',
        "la" => 'A',
        "si" => 'B',
        _ => return None,
    };
    token(asked.tokens, index + 1)
        .is(Concept::Phrygian)
        .then(|| super::super::pitch_words::PitchWord {
            root: NoteName::new(letter, 0),
            quality: String::new(),
            added: String::new(),
            qualified: true,
            length: 1,
        })
}

fn lies_down(token: &Token) -> bool {
    among(&sayings().words.lying, token.word.split(' ').next().unwrap_or(""))
}

pub const CAPO_NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.meaning(&[Concept::Capo]))];

/// "capo on the second fret", "capo 3", "la cejilla la tengo puesta al tres".
pub fn capo(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let Some(word) = tokens.iter().position(|token| token.is(Concept::Capo)) else {
        return Vec::new();
    };
    let negated = (word.saturating_sub(2)..word + 1)
        .any(|at| before(tokens, at + 1).is(Concept::Negation) && !before(tokens, at + 1).is(Concept::Capo))
        || before(tokens, word).is(Concept::Negation);
    // "El Si bemol, con su cejilla": the barre of a chord's shape.
    let lead = before(tokens, word);
    let of_a_name = || lead.is(Concept::With) && (0..word).any(|at| asked.name_at(at).is_some());
    let spanish = asked.context.language == Language::Spanish;
    let of_a_chord = matches!(lead.word.as_str(), "su" | "its") || spanish && of_a_name();
    // "cejilla en el uno con el dedo uno tumbado": a finger lies over the strings, and that is a barre.
    let flat = tokens.iter().any(|token| token.is(Concept::FingerWord)) && tokens.iter().any(lies_down);
    if negated || of_a_chord || flat {
        return Vec::new();
    }
    let fret = |index: usize| {
        let here = token(tokens, index);
        let next = token(tokens, index + 1);
        let other = next.is_any(&[
            Concept::FingerWord,
            Concept::StringWord,
            Concept::BeatWord,
            Concept::Times,
            Concept::Unit,
            Concept::ChordWord,
        ]);
        here.number
            .or(here.ordinal)
            .filter(|fret| (0..=12).contains(fret) && !other && !here.word.is_empty())
    };
    let found = (word + 1..(word + 12).min(tokens.len()))
        .take_while(|index| {
            !token(tokens, *index).is_any(&[Concept::FingerWord, Concept::TempoWord, Concept::Condition])
                && (!token(tokens, *index).is_mark('.')
                    || matches!(token(tokens, index + 1).word.as_str(), "al" | "on" | "en"))
        })
        .find_map(|index| fret(index).map(|fret| (index, fret)))
        .or_else(|| {
            let joined = before(tokens, word);
            let with_fret = joined.is(Concept::FretWord) && word >= 2;
            with_fret.then(|| fret(word - 2).map(|fret| (word - 2, fret))).flatten()
        });
    let lies = tokens.iter().any(|token| token.is(Concept::FingerWord));
    match found {
        Some((index, fret)) if !lies || token(tokens, index + 1).is(Concept::FretWord) => {
            let Ok(value) = u8::try_from(fret) else {
                return Vec::new();
            };
            vec![Located {
                statement: Statement::Capo(value),
                start: token(tokens, word.min(index)).start,
                end: token(tokens, word.max(index)).end,
            }]
        }
        _ => Vec::new(),
    }
}
