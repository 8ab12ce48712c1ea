use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::pitch_words::pitch_at;
use super::super::placed::{Placed, placed_fingers};
use super::super::says::{Kind, Needs, Says};
use super::super::shape_word::shape_at;
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::chord::{ChordName, ChordShape, Fingered};

pub const NEEDS: [Needs; 2] = [
    Needs::Here(SAID_IN_A_ROW),
    Needs::Here(Says::NOTHING.kind(&[Kind::Name])),
];

const SAID_IN_A_ROW: Says = Says::NOTHING.kind(&[Kind::Number, Kind::SaidFret]);

/// Frets of a row of six that are no numbers.
pub const SAID_FRETS: [&str; 13] = [
    "x", "equis", "mute", "muted", "muda", "nada", "nought", "naught", "open", "zero", "oh", "cero", "al aire",
];

/// `A = x02220`, `Bb x13331 (LH 1 bars, 2 3 4 on top)`, `E 022100, B7 x21202`.
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let mut out = Vec::new();
    let mut index = 0;
    while index < tokens.len() {
        let here = token(tokens, index);
        // `xx3210`: two crosses are one word.
        if !here.says().any_of(SAID_IN_A_ROW) && !here.word.starts_with('x') {
            index += 1;
            continue;
        }
        let Some((shape, length)) = shape_at(tokens, index).or_else(|| spoken_row(tokens, index)) else {
            index += 1;
            continue;
        };
        let named = chord_before(asked, index).or_else(|| only_chord(asked, index));
        if let Some((chord, start)) = named.or_else(|| chord_just_named(asked, index)) {
            let behind = index + length;
            let next = (behind..tokens.len())
                .find(|at| shape_at(tokens, *at).is_some())
                .unwrap_or(tokens.len());
            out.push(Located {
                statement: Statement::WholeShape {
                    chord,
                    shape,
                    fingers: fingers(tokens.get(behind..next).unwrap_or(&[]), &shape),
                },
                start,
                end: token(tokens, behind - 1).end,
            });
        }
        index += length;
    }
    out
}

/// "nought two two one nought nought", "equis cero dos dos dos cero": six strings said in a row, from the sixth on unless
/// the row is said to begin at the first. Counts said in their order are none.
fn spoken_row(tokens: &[Token], index: usize) -> Option<(ChordShape, usize)> {
    if !token(tokens, index).says().any_of(SAID_IN_A_ROW) {
        return None;
    }
    let mut frets: [Option<u8>; 7] = [None; 7];
    let mut said = 0;
    let mut at = index;
    while let Some(next) = frets.get_mut(said) {
        let here = token(tokens, at);
        if said > 0 && (here.is_mark(',') || here.is(Concept::Then)) {
            at += 1;
            continue;
        }
        if said == 0 && left_out(tokens, at) {
            said += 1;
            at += 1;
            continue;
        }
        let fret = match here.word.as_str() {
            "x" | "equis" | "mute" | "muted" | "muda" | "nada" => None,
            "nought" | "naught" | "open" | "zero" | "oh" | "cero" | "al aire" => Some(0),
            _ => match here
                .number
                .and_then(|number| u8::try_from(number).ok())
                .filter(|fret| *fret <= 12)
            {
                Some(fret) => Some(fret),
                None => break,
            },
        };
        *next = fret;
        said += 1;
        at += 1;
    }
    let frets = frets.get(..said).filter(|frets| frets.len() == 6)?;
    let counted = frets
        .windows(2)
        .all(|pair| matches!(pair, [Some(a), Some(b)] if *b == a + 1));
    let continued = index > 0 && before(tokens, index).number.is_some();
    let mut frets = <[Option<u8>; 6]>::try_from(frets)
        .ok()
        .filter(|_| !counted && !continued)?;
    let behind: Vec<&str> = (at..at + 6).map(|at| token(tokens, at).word.as_str()).collect();
    if behind.first().is_some_and(|word| matches!(*word, "de" | "from"))
        && behind
            .iter()
            .take(3)
            .any(|word| matches!(*word, "fina" | "prima" | "thin" | "top"))
    {
        frets.reverse();
    }
    Some((ChordShape { frets }, at - index))
}

/// "nothing on six, then 3, 2, open, 1, open": the string that does not sound stands for its fret.
fn left_out(tokens: &[Token], at: usize) -> bool {
    let number = token(tokens, at).number == Some(6) || token(tokens, at).ordinal == Some(6);
    let silent = |word: &Token| matches!(word.word.as_str(), "nothing" | "nada" | "leave" | "skip");
    number && (at.saturating_sub(3)..at).any(|at| silent(token(tokens, at)))
}

/// The chord that a shape belongs to: named up to four tokens before it.
fn chord_before(asked: &Asked, index: usize) -> Option<(ChordName, usize)> {
    let far = if asked.context.typed { 6 } else { 20 };
    (index.saturating_sub(far)..index).rev().find_map(|at| {
        let named = pitch_at(
            asked.tokens,
            at,
            asked.context.language,
            asked.context.typed || index - at <= 6,
        );
        let bare = named.is_none();
        // "Sol, desde la sexta, 3, 2, ...": a name that opens what is said may stand further off.
        let opens = !asked.context.typed && (at == 0 || at == 1 && before(asked.tokens, at).is(Concept::And));
        let near = index - at <= if opens { 14 } else { 6 };
        let word = named.or_else(|| small_name(asked, at).filter(|_| near))?;
        let reaches = at + word.length <= index;
        let gap = asked.tokens.get(at + word.length..index)?;
        let other_shape = (at + word.length..index).any(|at| spoken_row(asked.tokens, at).is_some());
        let spoken = !asked.context.typed && !bare && !other_shape;
        let linked = spoken
            || gap.iter().all(|token| {
                token.mark.is_some()
                    || token.is_any(&[Concept::ChordWord, Concept::Is, Concept::Minor, Concept::Major])
                    || matches!(token.word.as_str(), "shape" | "that" | "goes" | "which" | "que" | "va")
                    || opens && leads_to_a_row(token)
            });
        (reaches && linked).then(|| (word.chord(), token(asked.tokens, at).start))
    })
}

/// Words between a chord's name and its frets: "desde la sexta", "con la ceja entera", "from the fifth string".
fn leads_to_a_row(token: &Token) -> bool {
    let words = [
        Concept::Barre,
        Concept::With,
        Concept::StringWord,
        Concept::Article,
        Concept::On,
    ];
    let small = matches!(
        token.word.as_str(),
        "desde" | "from" | "tambien" | "also" | "entera" | "entero" | "full" | "que" | "the"
    );
    token.is_any(&words) || token.ordinal.is_some() || small
}

/// "two chords, A. So that's x zero two two two zero": the name that closes the sentence before.
fn chord_just_named(asked: &Asked, index: usize) -> Option<(ChordName, usize)> {
    let last = asked.previous.iter().rposition(|token| token.mark.is_none())?;
    let here = token(asked.previous, last);
    let shows = |word: &str| matches!(word, "that's" | "it's" | "son" | "es");
    let shown = (0..index).any(|at| token(asked.tokens, at).word.split(' ').any(shows));
    let named = pitch_at(asked.previous, last, asked.context.language, asked.context.typed).map(|word| word.chord());
    let chords = asked.previous.iter().any(|token| token.is(Concept::ChordWord)) || asked.previous.len() <= 3;
    let letter = here.raw == "a" && asked.context.language == Language::English && chords;
    let chord = named.or_else(|| letter.then(|| ChordName::parse("A"))?)?;
    (shown && index <= 4 && !asked.context.typed).then(|| (chord, token(asked.tokens, index).start))
}

/// "(E7 gets a guest appearance near the end, 020100)": one chord and one shape in the sentence belong together.
fn only_chord(asked: &Asked, index: usize) -> Option<(ChordName, usize)> {
    let tokens = asked.tokens;
    let named = |at: usize| pitch_at(tokens, at, asked.context.language, true).filter(|word| word.qualified);
    let mut names = (0..tokens.len()).filter(|at| named(*at).is_some());
    let (at, None) = (names.next()?, names.next()) else {
        return None;
    };
    let shapes = (0..tokens.len()).filter(|at| shape_at(tokens, *at).is_some()).count();
    (at < index && shapes == 1).then(|| named(at).map(|word| (word.chord(), token(tokens, at).start)))?
}

/// A chord written small in front of its shape: `am x02210`, `la x02220`.
fn small_name(asked: &Asked, index: usize) -> Option<super::super::pitch_words::PitchWord> {
    let here = token(asked.tokens, index);
    let first = here.word.chars().next()?;
    let typed = asked.context.typed && here.word.len() <= 3 && ('a'..='g').contains(&first);
    if !typed {
        return solfa_name(here);
    }
    let mut name = first.to_ascii_uppercase().to_string();
    name.push_str(here.word.get(1..)?);
    let Some(chord) = ChordName::parse(&name) else {
        // `Do = x32010`
        return solfa_name(here);
    };
    Some(super::super::pitch_words::PitchWord {
        root: chord.root,
        quality: chord.quality,
        added: chord.added,
        qualified: true,
        length: 1,
    })
}

pub fn solfa_name(here: &Token) -> Option<super::super::pitch_words::PitchWord> {
    let root = super::super::solfa::bare_name(here)?;
    Some(super::super::pitch_words::PitchWord {
        root,
        quality: String::new(),
        added: String::new(),
        qualified: true,
        length: 1,
    })
}

/// Left-hand fingers behind a shape: "LH 1 on s2 f1, 2 on s4 f2", or "(LH 2 3 4)" given to the stopped strings from low to high.
fn fingers(tokens: &[Token], shape: &ChordShape) -> Vec<Fingered> {
    let placed = placed_fingers(tokens);
    if !placed.is_empty() {
        return placed.iter().filter_map(|placed| fingered(placed, shape)).collect();
    }
    let said_hand = tokens
        .iter()
        .position(|token| token.is_any(&[Concept::LeftHand, Concept::FingerWord]));
    let Some(from) = said_hand.filter(|_| !tokens.iter().any(|token| token.is(Concept::Barre))) else {
        return Vec::new();
    };
    let numbers = tokens.iter().skip(from).filter_map(|token| token.number);
    let bare: Vec<u8> = numbers.filter(|n| (1..=4).contains(n)).map(|n| n as u8).collect();
    let stopped: Vec<(u8, u8)> = (1..=6)
        .rev()
        .filter_map(|string| shape.fret(string).filter(|fret| *fret > 0).map(|fret| (string, fret)))
        .collect();
    if stopped.len() != bare.len() {
        return Vec::new();
    }
    let pairs = stopped.iter().zip(bare);
    let on = |((string, fret), finger): (&(u8, u8), u8)| Fingered {
        finger,
        string: *string,
        fret: *fret,
        to_string: *string,
    };
    pairs.map(on).collect()
}

/// A finger that lies down covers the strings that the shape stops at its fret or above.
fn fingered(placed: &Placed, shape: &ChordShape) -> Option<Fingered> {
    let covered = || (1..=6).filter(|string| shape.fret(*string).is_some_and(|fret| fret >= placed.fret));
    let (string, to_string) = match placed.string {
        Some(string) => (string, string),
        None if placed.lies => (covered().min()?, covered().max()?),
        None => return None,
    };
    Some(Fingered {
        finger: placed.finger,
        string,
        fret: placed.fret,
        to_string,
    })
}
