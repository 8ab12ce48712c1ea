use crate::reading::lexicon::Concept;
use crate::reading::moments::token;
use crate::reading::sayings::{among, sayings};
use crate::reading::tokens::{Token, Tokens};

/// Words between the verb and what is filled.
const NEAR: usize = 6;

/// "it fills all three counts", "llena los tres tiempos": something is played on every count that a variation takes.
pub fn fills(tokens: &Tokens) -> bool {
    if !tokens.says.means_any(&[Concept::BeatWord, Concept::All]) {
        return false;
    }
    let verb = |at: &usize| among(&sayings().words.filling, &token(tokens, *at).word);
    (0..tokens.len()).filter(verb).any(|at| all_counts(tokens, at))
}

/// "all three counts", "los tres tiempos", "the whole of them", right behind the verb.
fn all_counts(tokens: &[Token], verb: usize) -> bool {
    let negated = (verb.saturating_sub(3)..verb).any(|at| token(tokens, at).is(Concept::Negation));
    let behind = || (verb + 1..verb + NEAR).take_while(|at| token(tokens, *at).mark.is_none());
    let counted = |at: usize| token(tokens, at).number.is_some() && token(tokens, at + 1).is(Concept::BeatWord);
    let all = behind().any(|at| token(tokens, at).is(Concept::All));
    let counts = behind().any(|at| token(tokens, at).is(Concept::BeatWord));
    !negated && (all && counts || behind().any(counted))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::{Language, lexicon};
    use crate::reading::tokens::tokens;

    #[test]
    fn every_count_of_a_variation() {
        let table = [
            (
                Language::English,
                "it replaces 4 to 6, on F, and it fills all three counts",
                true,
            ),
            (Language::English, "and it fills the three counts", true),
            (Language::Spanish, "sustituye del 4 al 6 y llena los tres tiempos", true),
            (Language::Spanish, "y ocupa todos los tiempos, sin silencios", true),
            (Language::English, "it does not fill all three counts", false),
            (Language::English, "the golpe fills the room", false),
            (Language::Spanish, "llena la sala con tres golpes", false),
        ];
        for (language, text, expected) in table {
            let tokens = Tokens::of(tokens(text, language, lexicon(language)));
            assert_eq!(fills(&tokens), expected, "{text}");
        }
    }
}
