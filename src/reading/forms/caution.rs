use super::super::lexicon::Concept;
use super::super::says::Kind;
use super::super::tokens::{Token, Tokens};

/// Whether a sentence warns: a marked warning, or a prohibition that a typed note shouts.
pub fn is_caution(tokens: &Tokens, text: &str, typed: bool) -> bool {
    if !typed && !tokens.says.means(Concept::Caution) {
        return false;
    }
    let trimmed = text.trim_start();
    let shouted = typed && (trimmed.starts_with("! ") || trimmed.starts_with("!!") || trimmed.starts_with("¡ojo"));
    let marked = tokens.iter().enumerate().any(|(index, token)| {
        token.is(Concept::Caution)
            && !tokens
                .get(index.wrapping_sub(1))
                .is_some_and(|before| before.is(Concept::Negation))
            && !(token.word == "watch"
                && index > 0
                && !tokens.get(index - 1).is_some_and(|before| {
                    before.mark.is_some() || matches!(before.word.as_str(), "and" | "please" | "do" | "so")
                }))
    });
    let forbids = tokens.iter().take(3).any(|token| token.is(Concept::Negation)) && trimmed.ends_with('!')
        || trimmed.contains('!') && tokens.iter().take(3).any(|token| token.is(Concept::Negation));
    let musical = tokens.iter().any(|token| {
        token.number.is_some()
            || token.is_any(&[
                Concept::Down,
                Concept::Up,
                Concept::Golpe,
                Concept::Alzapua,
                Concept::Rasgueado,
                Concept::StringWord,
                Concept::FretWord,
                Concept::FingerWord,
                Concept::FingerP,
                Concept::FingerI,
                Concept::FingerA,
                Concept::FingerM,
                Concept::FingerX,
                Concept::Triplet,
                Concept::Slur,
                Concept::PullOff,
            ])
    });
    let counts = tokens.iter().any(|token| token.number.is_some() && !token.spelled);
    let warns_off = tokens
        .first()
        .is_some_and(|first| matches!(first.word.as_str(), "don't" | "dont" | "never" | "do not" | "nunca"))
        && tokens.get(1).is_some_and(|verb| verb.mark.is_none());
    shouted || marked || typed && (forbids || warns_off && counts) && musical
}

/// Whether a sentence speaks of music at all.
pub fn is_musical(tokens: &[Token]) -> bool {
    tokens.iter().any(|token| {
        token.is_any(&[
            Concept::Down,
            Concept::Up,
            Concept::Golpe,
            Concept::Alzapua,
            Concept::Rasgueado,
            Concept::StringWord,
            Concept::FretWord,
            Concept::FingerWord,
            Concept::FingerP,
            Concept::FingerI,
            Concept::FingerA,
            Concept::FingerM,
            Concept::FingerX,
            Concept::Triplet,
            Concept::Slur,
            Concept::PullOff,
            Concept::HammerOn,
            Concept::ChordWord,
            Concept::Barre,
            Concept::Picado,
            Concept::AccentWord,
            Concept::BeatWord,
            Concept::Flat,
            Concept::Sharp,
            Concept::LeftHand,
            Concept::RightHand,
            Concept::Damp,
            Concept::Tap,
            Concept::Open,
            Concept::Semiquavers,
            Concept::TempoWord,
        ]) || token.number.is_some()
    })
}

/// Somebody asks.
pub const ASKS: [&str; 6] = ["pregunta", "pregunto", "preguntaba", "preguntan", "asks", "asked"];

/// Whether a sentence asks.
pub fn is_question(tokens: &[Token], text: &str) -> bool {
    // "Un alumno pregunta si …"
    let asked = || {
        tokens.windows(2).any(|pair| match pair {
            [verb, link] => {
                verb.has(Kind::Asks)
                    && ASKS.contains(&verb.word.as_str())
                    && matches!(link.word.as_str(), "si" | "if" | "whether")
            }
            _ => false,
        })
    };
    text.trim_end().ends_with('?') || asked()
}
