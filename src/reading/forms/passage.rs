use super::super::clauses::{RIGHT_FINGER, fingers_one_by_one, fingers_or_sign, right_fingers};
use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::sayings::{among, sayings};
use super::super::says::{Needs, Says};
use super::super::statement::{Located, Passage, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::hand::Finger;

/// One of these is said of every passage.
const SAID: [Concept; 10] = [
    Concept::All,
    Concept::Unit,
    Concept::RestStroke,
    Concept::FreeStroke,
    Concept::Alternating,
    Concept::Picado,
    Concept::Golpe,
    Concept::Tap,
    Concept::FingerM,
    Concept::FingerP,
];

pub const NEEDS: [Needs; 1] = [Needs::Here(Says::NOTHING.mark('=').meaning(&SAID))];

/// "all p, all rest stroke", "single notes all rest stroke", "index and middle alternating", "golpe always with a".
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let has = |concept: Concept| asked.says(concept);
    // "p dn, slow enough that one hears every string"
    let of_strings =
        |at: usize| token(tokens, at + 1).is(Concept::StringWord) && !token(tokens, at + 1).word.ends_with('s');
    let all = (0..tokens.len()).any(|at| token(tokens, at).is(Concept::All) && !of_strings(at))
        || has(Concept::Unit)
            && tokens
                .iter()
                .any(|token| matches!(token.word.as_str(), "notes" | "notas" | "note"));
    let mut passage = Passage::default();
    let is_count = |(index, token): (usize, &Token)| {
        token.number.is_some_and(|n| n <= 13)
            && !super::super::moments::before(tokens, index).is_any(&[Concept::StringWord])
            && !token.joined
    };
    let counts = asked.has_number() && tokens.iter().enumerate().any(is_count);
    // "sustituye el 4, el 5 y el 6, y es de pulgar y apoyando": the counts are those that it covers.
    let lies = asked.context.typed && tokens.iter().any(|token| among(&sayings().words.lies, &token.word));
    let covers = (has(Concept::Replaces) || lies && has(Concept::Idea)) && !asked.says_any(&STRUCK);
    let described = !counts || all || has(Concept::Alternating) || covers;
    if described && has(Concept::RestStroke) && !negated(asked, Concept::RestStroke) && !is_planted(tokens) {
        passage.rest_stroke = Some(true);
    } else if described
        && has(Concept::FreeStroke)
        && (all || has(Concept::Alternating) || !counts)
        && !negated(asked, Concept::FreeStroke)
    {
        passage.rest_stroke = Some(false);
    }
    let lists = has(Concept::Alternating) || has(Concept::Picado);
    let listed = if lists { listed_fingers(asked) } else { Vec::new() };
    // "index and middle one after the other, and the index begins"
    let in_turn = |token: &Token| {
        matches!(
            token.word.as_str(),
            "one after the other" | "uno detras de otro" | "uno tras otro" | "uno y otro"
        )
    };
    let two = || listed_fingers(asked);
    let alone = !counts && asked.in_pattern && !asked.says_any(&STRUCK);
    if alone && tokens.iter().any(in_turn) && two().len() == 2 {
        passage.alternating = true;
        passage.fingers = alternation(asked, two());
    } else if let Some(fingers) = said_by_turns(asked) {
        passage.alternating = true;
        passage.fingers = fingers;
    } else if has(Concept::Alternating) && listed.len() >= 2 {
        passage.alternating = true;
        passage.fingers = alternation(asked, listed.clone());
    } else if let Some(fingers) = begins_with(asked, &listed) {
        passage.alternating = true;
        passage.fingers = fingers;
    } else if all && !has(Concept::Golpe) && !has(Concept::Tap) && !is_supposed(tokens) {
        let whole = sole_finger(asked);
        let beside =
            (0..tokens.len()).any(|at| token(tokens, at).is(Concept::All) && finger_of_all(asked, at + 1).is_some());
        if let Some(finger) = whole.filter(|_| !counts || beside || has(Concept::RestStroke)) {
            passage.fingers = vec![finger];
            passage.every = !of_notes(tokens);
        }
    }
    // "El picado apartadlo": one that has been told.
    let known = tokens
        .iter()
        .position(|token| token.is(Concept::Picado))
        .is_some_and(|at| at > 0 && matches!(token(tokens, at - 1).word.as_str(), "el" | "the") && listed.is_empty());
    if !counts && passage.fingers.is_empty() && on_the_basses(asked) {
        passage.fingers.extend(sole_finger(asked));
    }
    if passage.fingers.is_empty() && asked.in_pattern && !asked.context.typed && has(Concept::FingerP) {
        passage.fingers.extend(only_a_finger(asked));
    }
    if covers && passage.fingers.is_empty() {
        passage.fingers.extend(plays_its_notes(asked));
    }
    if has(Concept::Picado) && asked.in_pattern && (asked.context.typed || !known) {
        passage.picado = true;
        if passage.fingers.is_empty() && listed.len() == 2 {
            passage.alternating = true;
            passage.fingers = listed;
        }
    }
    passage.string = one_string(asked);
    let golpe = super::strum_fingers::golpe_always(asked).or_else(|| super::strum_fingers::every_strum(asked));
    let mut out = Vec::new();
    let start = token(tokens, 0).start;
    let end = tokens.last().map_or(0, |token| token.end);
    if let Some(golpe) = golpe {
        out.push(Located {
            statement: Statement::Passage(golpe),
            start,
            end,
        });
    }
    if passage != Passage::default() {
        out.push(Located {
            statement: Statement::Passage(passage),
            start,
            end,
        });
    }
    out
}

/// Played or placed: a clause of its own strokes.
pub(super) const STRUCK: [Concept; 6] = [
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::StringWord,
    Concept::FretWord,
    Concept::Negation,
];

/// "it's only the thumb, and one note to each count", "es sólo el pulgar": the finger of every note.
fn only_a_finger(asked: &Asked) -> Option<Finger> {
    let tokens = asked.tokens;
    (0..tokens.len()).find_map(|at| {
        let only = matches!(token(tokens, at).word.as_str(), "only" | "just" | "solo");
        let thumb =
            at + 1 + usize::from(token(tokens, at + 1).is(Concept::Article) || token(tokens, at + 1).word == "el");
        let next = token(tokens, thumb + 1);
        let closes = next.mark.is_some() || next.word.is_empty() || next.is(Concept::And);
        let led = at == 0 || token(tokens, at - 1).is(Concept::Is);
        (only && led && closes && token(tokens, thumb).is(Concept::FingerP)).then_some(Finger::P)
    })
}

/// "it's the thumb on the bass strings", "los bordones van con el pulgar": single notes, and no stroke by itself.
fn on_the_basses(asked: &Asked) -> bool {
    let tokens = asked.tokens;
    let basses = |at: usize| {
        let word = token(tokens, at).word.as_str();
        matches!(word, "basses" | "bordones") || word == "bass" && token(tokens, at + 1).is(Concept::StringWord)
    };
    let struck = asked.says_any(&[Concept::Down, Concept::Up, Concept::Golpe, Concept::Negation]);
    let played = asked.says(Concept::FingerP) && !struck && asked.in_pattern && !asked.context.typed;
    played && (0..tokens.len()).any(basses)
}

/// "van tres bordones con el pulgar", "es de pulgar y apoyando": the finger of what takes the place of some counts.
fn plays_its_notes(asked: &Asked) -> Option<Finger> {
    let tokens = asked.tokens;
    let notes = asked.says_any(&[Concept::RestStroke, Concept::FreeStroke])
        || tokens.iter().any(|token| {
            matches!(
                token.word.as_str(),
                "notas" | "bordones" | "bajos" | "notes" | "basses" | "bajada" | "subida" | "escala" | "run" | "scale"
            )
        });
    let named = listed_fingers(asked);
    let [finger] = named.as_slice() else {
        return None;
    };
    let led = (1..tokens.len()).any(|at| {
        let previous = token(tokens, at - 1);
        let article = usize::from(previous.is(Concept::Article) && at > 1);
        let lead = token(tokens, at - 1 - article);
        let named = super::super::clauses::named_finger(token(tokens, at)).is_some();
        let apart = asked.context.typed && lead.is_mark(',') && token(tokens, at + 1).mark.is_some();
        named && (apart || lead.is(Concept::With) || matches!(lead.word.as_str(), "de" | "with"))
    });
    (notes && led).then_some(*finger)
}

/// "all p", "todo con el pulgar": the index behind the finger.
fn finger_of_all(asked: &Asked, mut at: usize) -> Option<usize> {
    while token(asked.tokens, at).is_any(&[Concept::With, Concept::Article, Concept::Is]) {
        at += 1;
    }
    right_fingers(asked.tokens, at, asked.context).map(|(_, _, end)| end)
}

/// "single notes, all on the second string", "todo en la quinta cuerda": the string of every note.
fn one_string(asked: &Asked) -> Option<u8> {
    let tokens = asked.tokens;
    if !asked.says(Concept::All) || !asked.says(Concept::StringWord) || asked.says(Concept::FretWord) {
        return None;
    }
    let all = tokens.iter().position(|token| token.is(Concept::All))?;
    // "on string 4"
    let of_a_string = |at: usize| at > 0 && token(tokens, at - 1).is(Concept::StringWord);
    let numbered = (0..tokens.len()).any(|at| {
        let here = token(tokens, at);
        here.number.is_some() && !here.joined && !of_a_string(at)
    });
    let mut strings = (0..tokens.len()).filter_map(|at| {
        let here = token(tokens, at);
        let named = token(tokens, at + 1).is(Concept::StringWord);
        let nth = here
            .ordinal
            .filter(|_| named)
            .or(here.number.filter(|_| of_a_string(at)));
        let led = nth.filter(|nth| (1..=6).contains(nth));
        led.and_then(|string| u8::try_from(string).ok())
            .map(|string| (at, string))
    });
    let (at, string) = strings.next()?;
    let near = at.abs_diff(all) <= 6 || at < all;
    (near && strings.next().is_none() && !numbered).then_some(string)
}

/// "single notes all p", "todas las notas con p": strums are not meant.
fn of_notes(tokens: &[Token]) -> bool {
    tokens
        .iter()
        .any(|token| matches!(token.word.as_str(), "note" | "notes" | "nota" | "notas"))
}

fn negated(asked: &Asked, concept: Concept) -> bool {
    let at = asked.tokens.iter().position(|token| token.is(concept)).unwrap_or(0);
    (at.saturating_sub(3)..at).any(|index| token(asked.tokens, index).is(Concept::Negation))
}

/// "el pulgar se queda apoyado cerca de la boca": where the hand leans on the guitar, and no stroke.
fn is_planted(tokens: &[Token]) -> bool {
    tokens.iter().any(|token| {
        matches!(
            token.word.as_str(),
            "boca" | "tapa" | "la tapa" | "puente" | "soundhole" | "sound hole" | "bridge" | "rosette" | "roseta"
        )
    })
}

/// "if the index goes all the way across, you'll get a low E": what is not done.
fn is_supposed(tokens: &[Token]) -> bool {
    let all = tokens.iter().position(|token| token.is(Concept::All)).unwrap_or(0);
    tokens.iter().take(all).any(|token| token.is(Concept::Condition))
}

/// "index middle index middle, you start with the index": two fingers said over by turns, in the order they are said.
fn said_by_turns(asked: &Asked) -> Option<Vec<Finger>> {
    let is_finger = |token: &&Token| token.says().any_of(RIGHT_FINGER);
    if asked.context.typed || !asked.in_pattern || asked.tokens.iter().filter(is_finger).count() < 4 {
        return None;
    }
    let mut at = 0;
    while at < asked.tokens.len() {
        let (row, end) = fingers_one_by_one(asked.tokens, at, asked.context);
        if let [one, other, again, once_more, ..] = row.as_slice() {
            let turns = one == again && other == once_more && one != other;
            return turns.then(|| vec![*one, *other]);
        }
        at = end.max(at + 1);
    }
    None
}

fn listed_fingers(asked: &Asked) -> Vec<Finger> {
    let mut fingers = Vec::new();
    let mut index = 0;
    while index < asked.tokens.len() {
        match fingers_or_sign(asked.tokens, index, asked.context) {
            Some((found, end)) => {
                for finger in found {
                    if !fingers.contains(&finger) {
                        fingers.push(finger);
                    }
                }
                index = end;
            }
            None => index += 1,
        }
    }
    fingers
}

/// "index and middle alternating, middle first": the one that begins stands first.
fn alternation(asked: &Asked, mut fingers: Vec<Finger>) -> Vec<Finger> {
    fingers.truncate(2);
    let first = asked.tokens.iter().position(|token| {
        matches!(
            token.word.as_str(),
            "first" | "primero" | "starting with" | "empezando" | "starting" | "starts" | "begins" | "empieza"
        )
    });
    if let Some(at) = first {
        let behind = !matches!(token(asked.tokens, at).word.as_str(), "first" | "primero");
        let near = (if behind { at } else { at.saturating_sub(2) }..at + 5)
            .find_map(|index| right_fingers(asked.tokens, index, asked.context).filter(|(found, ..)| found.len() == 1));
        if let Some((found, ..)) = near
            && fingers.get(1) == found.first()
        {
            fingers.swap(0, 1);
        }
    }
    fingers
}

/// "Picado, alternating, and you begin with the middle": index and middle, from the one named.
fn begins_with(asked: &Asked, listed: &[Finger]) -> Option<Vec<Finger>> {
    let beginning = |token: &Token| matches!(token.word.as_str(), "beginning" | "empezando");
    let [first] = listed else {
        return None;
    };
    let begins = asked.says(Concept::Begins) || asked.tokens.iter().any(beginning);
    let second = match first {
        Finger::I => Finger::M,
        Finger::M => Finger::I,
        _ => return None,
    };
    (begins && asked.says(Concept::Picado)).then(|| vec![*first, second])
}

fn sole_finger(asked: &Asked) -> Option<Finger> {
    let fingers = listed_fingers(asked);
    match fingers.as_slice() {
        [only] => Some(*only),
        _ => {
            let typed = asked.context.typed && asked.tokens.iter().any(|token| token.is(Concept::All));
            let letter = asked.tokens.windows(2).find_map(|pair| match pair {
                [all, letter] if all.is(Concept::All) && letter.raw.len() == 1 => match letter.raw.as_str() {
                    "p" => Some(Finger::P),
                    "i" => Some(Finger::I),
                    "m" => Some(Finger::M),
                    "a" => Some(Finger::A),
                    _ => None,
                },
                _ => None,
            });
            letter.filter(|_| typed)
        }
    }
}
