use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;

pub const NEEDS: [Needs; 1] = [Needs::Here(
    Says::NOTHING
        .kind(&[Kind::Number, Kind::Length])
        .meaning(&[Concept::All]),
)];

/// "12 counts", "count it in 8", `compas de 4`, "1 is short … 3 is long", "each count splits in three".
pub fn read(asked: &Asked) -> Vec<Located> {
    let mut out = Vec::new();
    if asked.says.has(Kind::Length) {
        out.extend(super::lengths::lengths(asked));
    }
    out.extend(parts(asked));
    if asked.in_pattern {
        return out;
    }
    out.extend(beats(asked));
    let first = first(asked);
    let whole = row_from_twelve(asked.tokens).filter(|_| asked.tokens.iter().any(|token| token.number == Some(11)));
    if let Some(at) = whole.filter(|_| !out.iter().any(|said| matches!(said.statement, Statement::Beats(_)))) {
        out.push(located(asked.tokens, at, at, Statement::Beats(12)));
    }
    out.extend(first);
    out
}

pub(super) fn located(tokens: &[Token], from: usize, to: usize, statement: Statement) -> Located {
    Located {
        statement,
        start: token(tokens, from).start,
        end: token(tokens, to).end,
    }
}

/// As many counts as a compás may have.
fn is_length(number: i64) -> bool {
    (2..=16).contains(&number)
}

/// "6 to the round", "8 to a bar".
fn is_round(token: &Token) -> bool {
    matches!(
        token.word.as_str(),
        "round" | "the round" | "compas" | "bar" | "the bar" | "cycle" | "the cycle"
    )
}

/// Who counts otherwise.
fn is_somebody_else(token: &Token) -> bool {
    among(&sayings().words.others, &token.word)
}

fn beats(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if !tokens.iter().any(|token| token.number.is_some_and(is_length)) {
        return None;
    }
    let ours = |token: &Token| {
        matches!(
            token.word.as_str(),
            "i count"
                | "i"
                | "we"
                | "i'm"
                | "we're"
                | "our"
                | "my"
                | "i'll"
                | "cuento"
                | "contamos"
                | "nosotros"
                | "yo"
        )
    };
    let others_at = tokens.iter().position(is_somebody_else);
    let first_number = tokens.iter().position(|token| token.number.is_some());
    let about_them = others_at
        .zip(first_number)
        .is_some_and(|(others, number)| others < number);
    if about_them && !tokens.iter().any(ours) {
        return None;
    }
    let mut best: Option<(u8, usize, i64)> = None;
    for (index, here) in tokens.iter().enumerate() {
        let Some(number) = here.number.filter(|number| is_length(*number)) else {
            continue;
        };
        let next = token(tokens, index + 1);
        let previous = before(tokens, index);
        let told_of = previous.is_any(&[Concept::Last])
            || previous.ordinal.is_some()
            || matches!(previous.word.as_str(), "bars" | "another");
        let theirs = others_at.is_some_and(|at| {
            at < index
                && !tokens
                    .iter()
                    .take(index)
                    .skip(at)
                    .any(|token| token.is_mark(',') || token.word == "but" || token.word == "pero")
        });
        let some_of = next.is(Concept::BeatWord) && matches!(token(tokens, index + 2).word.as_str(), "of" | "de");
        // "bars of 3, and I count four of them": so many bars.
        let some_of = some_of || next.word == "of them" || next.word == "of" && token(tokens, index + 2).word == "them";
        // "12 counts in four bars of 3": so many bars, not so many counts.
        let parts = matches!(
            next.word.as_str(),
            "bars" | "compases" | "groups" | "grupos" | "halves" | "mitades"
        );
        // "A rasgueado of 2 counts": how long it lasts.
        let lasts = tokens
            .iter()
            .take(index)
            .rev()
            .take(3)
            .any(|token| token.is(Concept::Rasgueado));
        // "count 2 is index down", "it stays until count 3": one of them.
        let led = before(tokens, index.saturating_sub(1)).word.as_str();
        let one = next.is(Concept::Is) || matches!(led, "until" | "till" | "on" | "before" | "after" | "at");
        let one_of_them = previous.word == "count" && one;
        let other = theirs || some_of || parts || lasts || told_of;
        if one_of_them || other || next.is_any(&[Concept::Times, Concept::Semiquavers]) {
            continue;
        }
        let unit = next.is(Concept::BeatWord) || matches!(next.word.as_str(), "count" | "pulsos");
        let head = count_word_before(tokens, index);
        let listed = next.is_mark(',') && token(tokens, index + 2).number.is_some()
            || next.number.is_some()
            || previous.number.is_some();
        // "It's 12.", "It's an eight, one to eight."
        let article = usize::from(index > 0 && matches!(previous.word.as_str(), "an" | "a" | "un"));
        // "A ver. Son doce."
        let opens = (0..index)
            .rev()
            .find(|at| token(tokens, *at).is_mark('.'))
            .map_or(0, |stop| stop + 1);
        let plainly = index - opens <= 2 + article
            && matches!(
                before(tokens, index - article).word.as_str(),
                "it's" | "its" | "es" | "son"
            )
            && matches!(number, 3 | 4 | 5 | 6 | 8 | 12)
            && (next.mark.is_some() || next.word.is_empty());
        let to_the_round = next.word == "to" && (index + 2..index + 5).any(|at| is_round(token(tokens, at)));
        let plainly = plainly.then_some(if article > 0 { 3 } else { 1 });
        let head = head.or(plainly).or(to_the_round.then_some(3));
        // "son cuatro ruidos": what they are so many of is no count.
        let of_things = here.spelled
            && next.concepts.is_empty()
            && next.mark.is_none()
            && next.number.is_none()
            && next.word.ends_with('s')
            && !unit;
        let head = head.filter(|rank| *rank > 1 || !of_things);
        let rank = match (head, unit) {
            (Some(rank), _) if !listed || rank >= 3 => rank,
            (_, true) if !previous.is(Concept::On) || matches!(previous.word.as_str(), "in" | "de" | "of" | "en") => 2,
            _ => continue,
        };
        if best.is_none_or(|(known, _, _)| rank > known) {
            best = Some((rank, index, number));
        }
    }
    best.map(|(_, index, number)| located(tokens, index, index, Statement::Beats(number)))
}

/// How strongly the words before a number say that it is the length of the compás.
fn count_word_before(tokens: &[Token], index: usize) -> Option<u8> {
    let mut at = index;
    let mut linked = false;
    for _ in 0..6 {
        at = at.checked_sub(1)?;
        let here = token(tokens, at);
        let from_one =
            here.number == Some(1) && matches!(token(tokens, at + 1).word.as_str(), "to" | "a" | "al" | "hasta");
        if from_one {
            continue;
        }
        match here.word.as_str() {
            "straight" | "right" | "through" | "from" | "del" | "in" | "its" | "to" | "it" | "of" | ":" | "de"
            | "en" | "hasta" | "until" | "till" | "a" | "un" | "it's" | "son" | "=" | "up to" | "los" | "as" | "is"
            | "el" | "que" | "the" | "only" | "es" => linked = true,
            "meter" | "metre" | "compas" | "compases" => return (here.word != "compases").then_some(4),
            "i count" | "we count" | "count" | "counts" | "counted" | "counting" | "cuento" | "contamos" | "cuenta"
            | "contar" | "contando" | "tiempos" | "cuentas" | "cuentan" | "cuente" => {
                let demonstration = here.word == "counting" && !linked;
                return (!demonstration).then_some(3);
            }
            "goes" | "goes round" | "go round" | "comes" | "tangos" | "we're" | "i'm" | "everything" if linked => {
                return Some(1);
            }
            _ => return None,
        }
        if at == 0 && linked && matches!(here.word.as_str(), "it's" | "its" | "in" | "son" | "es") {
            return Some(1);
        }
    }
    None
}

/// "12 1 2 3 4 5 …": a round said over that begins on 12.
fn row_from_twelve(tokens: &[Token]) -> Option<usize> {
    if !tokens.iter().any(|token| token.number == Some(12)) {
        return None;
    }
    let numbers: Vec<(usize, i64)> = (0..tokens.len())
        .filter_map(|at| token(tokens, at).number.map(|number| (at, number)))
        .collect();
    numbers.windows(5).find_map(|row| {
        let said: Vec<i64> = row.iter().map(|(_, number)| *number).collect();
        let together = row
            .windows(2)
            .all(|pair| matches!(pair, [(a, _), (b, _)] if b - a <= 2));
        let first = row.first().map(|(at, _)| *at)?;
        (said == [12, 1, 2, 3, 4] && together).then_some(first)
    })
}

/// "the round begins on 12", "empezamos en el 12".
fn first(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if !tokens.iter().any(|token| token.number == Some(12)) {
        return None;
    }
    if let Some(at) = row_from_twelve(tokens) {
        return Some(located(tokens, at, at, Statement::First(12)));
    }
    let begins = tokens.iter().position(|token| {
        [
            "come in",
            "comes in",
            "coming in",
            "entramos",
            "salimos",
            "begin",
            "begins",
            "start",
            "starts",
            "starting",
            "beginning",
            "begun",
            "empieza",
            "empezamos",
            "empiezo",
            "arranca",
            "arrancamos",
            "comienza",
            "entra",
            "empezando",
            "desde",
        ]
        .contains(&token.word.as_str())
    })?;
    let about = tokens.iter().any(|token| {
        token.is_any(&[Concept::BeatWord, Concept::AccentWord])
            || [
                "count", "counts", "counting", "round", "compas", "cycle", "cuenta", "contamos", "cuento", "contar",
                "vuelta", "rueda", "we", "i",
            ]
            .contains(&token.word.as_str())
    });
    let (index, number) = tokens
        .iter()
        .enumerate()
        .skip(begins)
        .take(6)
        .find_map(|(index, token)| token.number.map(|number| (index, number)))?;
    (about && number == 12).then(|| located(tokens, index, index, Statement::First(number)))
}

/// "cada tiempo se parte en tres", "every count has three parts inside".
fn parts(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if !asked.says(Concept::All) || asked.in_pattern {
        return None;
    }
    let each = tokens.iter().position(|token| token.is(Concept::All))?;
    let beat = tokens
        .iter()
        .skip(each)
        .any(|token| token.is(Concept::BeatWord) || token.word == "uno");
    let split = tokens.iter().position(|token| {
        token.is_any(&[Concept::Triplet])
            || [
                "splits",
                "split",
                "divides",
                "divided",
                "parte",
                "divide",
                "parts",
                "partes",
                "inside",
                "slots",
                "subdivides",
            ]
            .contains(&token.word.as_str())
    })?;
    let three = tokens
        .iter()
        .skip(each)
        .any(|token| token.number == Some(3) || token.is(Concept::Triplet) || token.word == "thirds");
    (beat && three).then(|| located(tokens, each, split.max(each), Statement::Parts(3)))
}
