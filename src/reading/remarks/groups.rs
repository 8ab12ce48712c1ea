use crate::music::remark::Remark;
use crate::reading::lexicon::Concept;
use crate::reading::moments::{before, token};
use crate::reading::sayings::{among, sayings};
use crate::reading::says::Kind;
use crate::reading::tokens::{Token, Tokens};

/// Fewer groups are no compás.
const LEAST: usize = 3;

/// "built as 3 and 3 and 2 and 2 and 3, so 12 in all", "3+3+2+2+2", "dos, dos, tres, tres y dos, si lo sumas salen doce".
pub fn groups(tokens: &Tokens) -> Option<Remark> {
    let few = |token: &&Token| token.number.is_some_and(is_size);
    if !tokens.says.has(Kind::Number) || tokens.iter().filter(few).count() < LEAST {
        return None;
    }
    (0..tokens.len()).find_map(|at| groups_at(tokens, at))
}

fn groups_at(tokens: &[Token], index: usize) -> Option<Remark> {
    let first = size(tokens, index)?;
    if index > 0 && parts(before(tokens, index)) && before(tokens, index - 1).number.is_some() {
        return None;
    }
    let mut sizes = vec![first];
    let (mut end, mut all_added) = (index + 1, true);
    loop {
        let next = (end..).find(|at| !parts(token(tokens, *at))).unwrap_or(end);
        let Some(part) = size(tokens, next).filter(|_| next > end) else {
            break;
        };
        all_added &= (end..next).all(|at| token(tokens, at).is_mark('+'));
        sizes.push(part);
        end = next + 1;
    }
    // Counts one after another are no groups.
    let rises = sizes.windows(2).all(|pair| matches!(pair, [one, other] if one < other));
    if sizes.len() < LEAST || rises {
        return None;
    }
    let grouped = || tokens.iter().any(|token| among(&sayings().words.grouped, &token.word));
    let total = total(tokens, end);
    let meant = all_added || total.is_some() || grouped();
    meant.then_some(Remark::Groups { parts: sizes, total })
}

fn is_size(number: i64) -> bool {
    (1..=6).contains(&number)
}

fn size(tokens: &[Token], at: usize) -> Option<i64> {
    let part = token(tokens, at).number.filter(|number| is_size(*number))?;
    let next = token(tokens, at + 1);
    let other = next.is_any(&[
        Concept::StringWord,
        Concept::FretWord,
        Concept::FingerWord,
        Concept::Times,
        Concept::ChordWord,
        Concept::BeatWord,
    ]);
    (!other && before(tokens, at).word != "s").then_some(part)
}

/// What stands between two groups.
fn parts(token: &Token) -> bool {
    token.is_mark('+')
        || token.is_mark(',')
        || token.is(Concept::And)
        || matches!(
            token.word.as_str(),
            "plus" | "mas" | "then" | "another" | "otro" | "otra"
        )
}

/// "so 12 in all", "which makes 12", "salen doce", "= 12": the sum that is said behind the groups.
fn total(tokens: &[Token], from: usize) -> Option<i64> {
    const NEAR: usize = 8;
    let goes_on = |at: &usize| !token(tokens, *at).is_mark('.') && !token(tokens, *at).is_mark(';');
    let near = || (from..(from + NEAR).min(tokens.len())).take_while(goes_on);
    let summed = |token: &Token| token.is_mark('=') || among(&sayings().words.totals, &token.word);
    let at = near().find(|at| {
        token(tokens, *at)
            .number
            .is_some_and(|number| (4..=24).contains(&number))
    })?;
    let said = (from..(at + 4).min(tokens.len()))
        .take_while(goes_on)
        .any(|at| summed(token(tokens, at)));
    token(tokens, at).number.filter(|_| said)
}
