use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::sayings::{among, sayings};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use super::another_idea::{announced_before, starter};
use super::chord_span::range;
use super::pattern_begins::{ROLES, role_at};
use crate::music::pattern::Role;

fn of_another(tokens: &[Token], end: usize) -> bool {
    let of = matches!(token(tokens, end).word.as_str(), "of" | "de" | "from");
    let name = end + 1 + usize::from(matches!(token(tokens, end + 1).word.as_str(), "la" | "the"));
    of && role_at(tokens, name).is_some() && token(tokens, name + 1).number.is_some()
}

pub fn replaces(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    // `CAMBIO 1, en vez de 3 y 4`: the heading's own word is followed by its number, and by no count.
    let may_replace = asked.says(Concept::Replaces);
    let headed = |at: &usize| *at < 2 && role_at(tokens, *at).is_some() && token(tokens, at + 1).number.is_some();
    let mut words = (0..tokens.len()).filter(|at| may_replace && token(tokens, *at).is(Concept::Replaces));
    // "one with the first swap": the name of a variation.
    let lead = |at: usize| {
        before(
            tokens,
            at - usize::from(before(tokens, at).is(Concept::Article) || before(tokens, at).word == "the"),
        )
    };
    let named = |at: &usize| *at >= 2 && before(tokens, *at).ordinal.is_some() && lead(at - 1).is(Concept::With);
    let word = words.find(|at| !headed(at) && !named(at));
    if let Some(word) = word.filter(|word| !changes_chord(tokens, *word)) {
        // "1 2 3 4 get swapped and 5-8 don't"
        let in_front = (0..word).find_map(|at| {
            let (first, last, end) = range(asked, at)?;
            (first < last && end == word && valid(asked, at)).then(|| located(tokens, at, word, first, last))
        });
        if in_front.is_some() && token(tokens, word).word.contains("swapped") {
            return in_front;
        }
        let reach = (word + 1..(word + 12).min(tokens.len()))
            .take_while(|at| !token(tokens, *at).is_any(&[Concept::Condition]));
        for at in reach {
            if let Some((first, last, end)) = range(asked, at)
                && valid(asked, at)
            {
                let something_else = (word + 1..at).any(|index| {
                    super::super::clauses::right_fingers(tokens, index, asked.context).is_some()
                        || token(tokens, index).is_any(&[Concept::Down, Concept::Up, Concept::StringWord])
                });
                let one_thing = something_else && first == last && !asked.context.typed;
                return (!one_thing).then(|| located(tokens, word, end - 1, first, last));
            }
        }
        if let Some(at) = (0..word)
            .find(|at| range(asked, *at).is_some() && valid(asked, *at) && !token(tokens, *at).is(Concept::AsUsual))
        {
            let (first, last, end) = range(asked, at)?;
            let gone =
                (end..word).all(|index| token(tokens, index).mark.is_none() || token(tokens, index).is_mark(','));
            let kept = (at..word).any(|index| token(tokens, index).is(Concept::AsUsual));
            let for_it = matches!(before(tokens, at).word.as_str(), "for" | "para" | "on")
                || matches!(before(tokens, at - usize::from(at > 0)).word.as_str(), "for" | "para");
            let several = first < last || token(tokens, word).word.ends_with('n') || for_it;
            // "instead of the rasgueado": what it takes the place of is no stroke of it.
            let behind = (word..tokens.len())
                .find(|at| token(tokens, *at + 1).mark.is_some() || token(tokens, *at + 1).word.is_empty())
                .filter(|_| for_it && !asked.context.typed)
                .unwrap_or_else(|| what_goes(tokens, word));
            return (gone && !kept && several).then(|| located(tokens, at, behind, first, last));
        }
        return None;
    }
    if let Some(told) = announced(asked).or_else(|| sits_on(asked)) {
        return Some(told);
    }
    // `V1 (10-12)`, "a little falseta for the second half"
    let is_role = |index: &usize| role_at(tokens, *index).is_some_and(|role| role != Role::Core);
    let roles = (0..tokens.len()).filter(|_| asked.says.any_of(ROLES));
    let role = roles.into_iter().find(is_role);
    let role = role.or_else(|| starter(asked))?;
    let opening = asked.context.typed && asked.opens_line;
    let reach = if asked.context.typed { 7 } else { 12 };
    let announced = announced_before(asked) && starter(asked) == Some(role);
    for at in role + 1..(role + reach).min(tokens.len()) {
        // "v1 and then the 3-4 of v3": another one's counts.
        let Some((first, last, end)) = range(asked, at).filter(|(.., end)| !of_another(tokens, *end)) else {
            continue;
        };
        // "the second half, the lot, 5 to 8": the numbers say which half.
        let half = token(tokens, at).is_any(&[Concept::FirstHalf, Concept::SecondHalf]);
        let numbered =
            |at: usize| range(asked, at).filter(|said| said.0 < said.1 && token(tokens, at).number.is_some());
        let said = (end..(role + reach).min(tokens.len()))
            .filter(|_| half)
            .find_map(numbered);
        if let Some((first, last, end)) = said {
            return Some(located(tokens, at, end - 1, first, last));
        }
        let link = before(tokens, at);
        let linked = link.is_mark('(')
            || matches!(
                link.word.as_str(),
                "for"
                    | "on"
                    | "en"
                    | "para"
                    | "over"
                    | "the"
                    | "from"
                    | "del"
                    | "el"
                    | "la"
                    | "beats"
                    | "counts"
                    | ","
                    | "de"
                    | "los"
                    | ":"
                    | "-"
            ) && (first < last || link.is_mark('('));
        let spoken = asked.in_pattern
            && (linked || announced)
            && !opening
            && matches!(
                link.word.as_str(),
                "for"
                    | "on"
                    | "the"
                    | "para"
                    | "over"
                    | "en"
                    | "el"
                    | "la"
                    | "from"
                    | "del"
                    | "desde"
                    | "de"
                    | "beats"
                    | "counts"
            )
            && (first < last
                || token(tokens, end).mark.is_some()
                || matches!(token(tokens, end).word.as_str(), "only" | "solo" | ""));
        let goes_on = !asked.context.punctuated
            && (token(tokens, end).is(Concept::Is) || matches!(token(tokens, end).word.as_str(), "que" | "y"));
        let only = matches!(token(tokens, end).word.as_str(), "only" | "solo" | "solamente");
        let closes =
            token(tokens, end).mark.is_some() || token(tokens, end).word.is_empty() || only || opening || goes_on;
        if (opening && (linked || first < last) || spoken) && closes && valid(asked, at) {
            return Some(located(tokens, at, end - 1, first, last));
        }
    }
    None
}

/// "en el 3 cambiamos, …", "cambias a fa": the left hand changes; nothing is replaced.
fn changes_chord(tokens: &[Token], word: usize) -> bool {
    let next = token(tokens, word + 1);
    // "lo único que cambia es que en el 3 ...", "the only thing that changes is ...": what differs from what was told
    let differs = matches!(before(tokens, word).word.as_str(), "que" | "that" | "thing")
        && (word.saturating_sub(4)..word)
            .any(|at| matches!(token(tokens, at).word.as_str(), "unico" | "only" | "the only"));
    if differs && next.is(Concept::Is) {
        return true;
    }
    // "y el cambio es en el siete": that of the chord
    let here = token(tokens, word).word.as_str();
    let of_the_chord = next.is(Concept::Is) || here == "cambio es" || matches!(next.word.as_str(), "en" | "de" | "del");
    if here.starts_with("cambio") && before(tokens, word).word == "el" && of_the_chord {
        return true;
    }
    let verb = matches!(
        token(tokens, word).word.as_str(),
        "cambia" | "cambiamos" | "cambias" | "cambio" | "cambiando" | "se cambia" | "se cambian"
    );
    verb && (next.mark.is_some()
        || next.word.is_empty()
        || matches!(next.word.as_str(), "a" | "al" | "de" | "ya" | "otra vez"))
}

/// "The second one sits on one, two and three", "la segunda cae en el 5 y el 6": where another idea lies.
fn sits_on(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let nth = (0..3)
        .find(|at| token(tokens, *at).ordinal.is_some_and(|nth| nth <= 6) || token(tokens, *at).is(Concept::Last))?;
    if !asked.in_pattern || asked.context.typed {
        return None;
    }
    let lies = |at: &usize| among(&sayings().words.lies, &token(tokens, *at).word);
    let verb = nth + 1 + usize::from(token(tokens, nth + 1).word == "one");
    // "la primera es de pulgar y ocupa del 1 al 4": what it is stands in front.
    let told_of = token(tokens, verb).is(Concept::Is);
    let mut at = 1 + (verb..verb + if told_of { 10 } else { 1 }).find(lies)?;
    while token(tokens, at).is_any(&[Concept::On, Concept::Article, Concept::BeatWord]) {
        at += 1;
    }
    let (first, last, end) = range(asked, at).filter(|(first, last, _)| first < last)?;
    let behind = token(tokens, end);
    let closes = behind.mark.is_some() || behind.word.is_empty() || behind.is_any(&[Concept::And, Concept::With]);
    (closes && valid(asked, at)).then(|| located(tokens, nth, end - 1, first, last))
}

/// Behind the announcement of a variation: "11 and 12 go", "it's for the middle, 7 to 10".
fn announced(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let acts = asked.says_any(&[
        Concept::Down,
        Concept::Up,
        Concept::StringWord,
        Concept::FretWord,
        Concept::AsUsual,
        Concept::Negation,
        Concept::Condition,
        Concept::Same,
    ]);
    let typed = asked.context.typed;
    let short = asked.opens_line && tokens.len() <= 10;
    if !asked.fresh_variation || typed && !short || acts {
        return None;
    }
    (0..tokens.len()).find_map(|at| {
        let (first, last, end) = range(asked, at).filter(|(first, last, _)| first < last)?;
        let parted = token(tokens, end).mark.is_some() && !token(tokens, end).is_mark(':')
            || matches!(
                token(tokens, end).word.as_str(),
                "" | "out" | "only" | "fuera" | "solo" | "solamente"
            );
        (valid(asked, at) && (!typed || parted)).then(|| located(tokens, at, end - 1, first, last))
    })
}

/// "en vez del rasgueado": what is played no longer, up to its last word.
fn what_goes(tokens: &[Token], word: usize) -> usize {
    let strokes = [
        Concept::Down,
        Concept::Up,
        Concept::Rasgueado,
        Concept::Golpe,
        Concept::Strum,
    ];
    (word + 1..word + 4)
        .find(|at| token(tokens, *at).is_any(&strokes))
        .unwrap_or(word)
}

fn valid(asked: &Asked, index: usize) -> bool {
    let here = token(asked.tokens, index);
    let counted = here
        .number
        .is_some_and(|number| (1..=asked.context.last_count()).contains(&number))
        || here.is_any(&[Concept::FirstHalf, Concept::SecondHalf, Concept::Last])
        || here.ordinal.is_some();
    let next = token(asked.tokens, index + 1);
    let spelled_noun = here.spelled
        && here.number == Some(1)
        && next.mark.is_none()
        && next.number.is_none()
        && !next.is_any(&[Concept::And, Concept::On, Concept::Article])
        && next.word != "el"
        && !next.word.is_empty();
    counted && !spelled_noun
}

fn located(tokens: &[Token], from: usize, to: usize, first: i64, last: i64) -> Located {
    Located {
        statement: Statement::Replaces { first, last },
        start: token(tokens, from).start.min(token(tokens, to).start),
        end: token(tokens, to).end.max(token(tokens, from).end),
    }
}

/// "the next 1", "el 1 siguiente": the first count of the round that comes.
fn next_one(tokens: &[Token], index: usize) -> bool {
    if token(tokens, index).number != Some(1) {
        return false;
    }
    let comes = matches!(before(tokens, index).word.as_str(), "next" | "following" | "proximo")
        && !token(tokens, index).spelled
        || matches!(
            token(tokens, index + 1).word.as_str(),
            "siguiente" | "que viene" | "que sigue"
        )
        || token(tokens, index + 1).word == "that" && token(tokens, index + 2).word == "follows";
    comes && !token(tokens, index + 1).is_any(&[Concept::Times, Concept::Unit])
}

pub fn runs_on(asked: &Asked) -> Option<Located> {
    if !asked.in_pattern {
        return None;
    }
    let tokens = asked.tokens;
    let index = (0..tokens.len()).find(|at| token(tokens, *at).is(Concept::RunsOn) || next_one(tokens, *at))?;
    let negated = (index.saturating_sub(2)..index).any(|at| token(tokens, at).is(Concept::Negation));
    let warns = tokens.iter().any(|token| token.is(Concept::Caution));
    let here = token(tokens, index);
    // A count that is said to be the next round's stays to be read as a count.
    let number = |at: usize| token(tokens, at).number;
    let of_a_count = (index.saturating_sub(3)..index).any(|at| number(at).is_some())
        || (index + 1..index + 8).any(|at| number(at).is_some_and(|number| number <= 3));
    let end = if here.is(Concept::RunsOn) && !of_a_count {
        here.end
    } else {
        here.start
    };
    (!negated && !warns).then_some(Located {
        statement: Statement::RunsOn,
        start: here.start,
        end,
    })
}

/// "counts 4 to 6", "los tiempos 4 y 5": words of what it takes the place of, and none of its name.
pub(super) fn joins_counts(tokens: &[Token], at: usize) -> bool {
    let here = token(tokens, at);
    let number = |at: usize| token(tokens, at).number.is_some();
    let joins = here.is(Concept::And) || matches!(here.word.as_str(), "to" | "a" | "al");
    here.is(Concept::BeatWord) && number(at + 1) || joins && at > 0 && number(at - 1) && number(at + 1)
}
