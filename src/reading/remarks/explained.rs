use crate::music::remark::Remark;
use crate::reading::lexicon::Concept;
use crate::reading::moments::token;
use crate::reading::sayings::{among, any_among, sayings};
use crate::reading::tokens::{Token, Tokens};

/// "Rest stroke, that is, the finger lands on the next string", "tirando, o sea, que el dedo no toca la vecina".
pub fn stroke_explained(tokens: &Tokens) -> Option<Remark> {
    let stroke = |token: &Token| token.is_any(&[Concept::RestStroke, Concept::FreeStroke]);
    if !tokens.says.means_any(&[Concept::RestStroke, Concept::FreeStroke]) {
        return None;
    }
    let named = tokens.iter().position(stroke)?;
    let words = &sayings().words;
    let explains = |at: &usize| {
        let here = token(tokens, *at);
        let pair = [here.word.as_str(), token(tokens, at + 1).word.as_str()].join(" ");
        here.is_mark('=') || among(&words.explaining, &here.word) || among(&words.explaining, &pair)
    };
    let from = (named + 1..tokens.len()).find(explains)?;
    let next_string = |at: usize| any_among(&words.next_string, &token(tokens, at).word);
    let lands = |at: usize| any_among(&words.landing, &token(tokens, at).word);
    let neighbour = (from..tokens.len()).any(next_string);
    let landing =
        (from..tokens.len()).find(|at| lands(*at) || token(tokens, *at).is(Concept::RestStroke) && *at > named)?;
    let whole = neighbour || token(tokens, landing).is(Concept::RestStroke);
    let negated = (landing.saturating_sub(3)..landing).any(|at| token(tokens, at).is(Concept::Negation));
    whole.then(|| Remark::StrokeExplained {
        rest_stroke: token(tokens, named).is(Concept::RestStroke),
        lands: !negated,
    })
}
