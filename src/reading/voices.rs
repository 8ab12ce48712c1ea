//! Who of several voices is the teacher, and what of the others she affirms.

use super::lexicon::Concept;
use super::moments::token;
use super::sayings::{among, sayings};
use super::sentences::Sentence;
use super::tokens::{Token, Tokens};

/// Of several voices the one that says most; none where there is only one.
pub fn main_speaker(sentences: &[Sentence]) -> Option<String> {
    let mut voices: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for sentence in sentences {
        if let Some(speaker) = sentence.speaker.as_deref() {
            *voices.entry(speaker).or_default() += sentence.text.len();
        }
    }
    (voices.len() > 1)
        .then(|| {
            voices
                .into_iter()
                .max_by_key(|(_, length)| *length)
                .map(|(name, _)| name.to_owned())
        })
        .flatten()
}

/// Of each sentence, whether it is another voice's and the teacher's next words say that it is so: "Eso es.", "Exactly."
pub fn affirmed(sentences: &[Sentence], tokenised: &[Tokens], teacher: Option<&str>) -> Vec<bool> {
    let Some(teacher) = teacher else {
        return vec![false; sentences.len()];
    };
    let mut affirmed = vec![false; sentences.len()];
    let mut says_so = false;
    for (at, sentence) in sentences.iter().enumerate().rev() {
        let tokens = tokenised.get(at).map_or(&[][..], |tokens| tokens);
        let others = sentence.speaker.as_deref().is_some_and(|speaker| speaker != teacher);
        match affirmed.get_mut(at).filter(|_| others) {
            Some(of_this) => *of_this = says_so,
            // The first of the teacher's sentences behind is the one that stands.
            None => says_so = affirms(tokens),
        }
    }
    affirmed
}

/// "Yes", "eso es", with no "but" behind it.
fn affirms(tokens: &[Token]) -> bool {
    let words = &sayings().words;
    let opens = among(&words.affirming, &token(tokens, 0).word)
        || token(tokens, 0).is(Concept::And) && among(&words.affirming, &token(tokens, 1).word)
        || matches!(token(tokens, 0).word.as_str(), "eso" | "that's" | "asi")
            && matches!(token(tokens, 1).word.as_str(), "es" | "it" | "right" | "mismo");
    let but = tokens
        .iter()
        .take(8)
        .any(|token| matches!(token.word.as_str(), "but" | "pero" | "except" | "salvo"));
    opens && !but
}
