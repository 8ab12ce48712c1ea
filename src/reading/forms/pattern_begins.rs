use super::super::lexicon::Concept;
use super::super::moments::token;
use super::super::remarks::is_spoken_of;
use super::super::sayings::{among, sayings};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;
use crate::music::pattern::Role;

/// A word for a pattern, or what it is told to take the place of.
pub const NEEDS: [Needs; 1] = [Needs::Here(BEGINS.kind(&[Kind::Number]).meaning(&[
    Concept::RunsOn,
    Concept::FirstHalf,
    Concept::SecondHalf,
]))];

/// Short words in front of a variation's number.
pub const HEADINGS: [&str; 3] = ["v", "var", "vr"];

/// What a word has to be for a role to be told by it.
pub const ROLES: Says = Says::NOTHING.kind(&[Kind::Heading]).meaning(&[
    Concept::Core,
    Concept::Variation,
    Concept::Idea,
    Concept::Falseta,
    Concept::Llamada,
    Concept::Remate,
    Concept::Cierre,
]);

/// What has to be said for a pattern to begin.
const BEGINS: Says = ROLES.kind(&[Kind::Ordinal]);

/// `V1 (10-12) thumb tail`, `CORE`, "the first variation … replaces 1 and 2", "cambiamos el 3 y el 4".
pub fn read(asked: &Asked) -> Vec<Located> {
    let mut out = Vec::new();
    if asked.says.any_of(BEGINS) {
        out.extend(begin(asked));
    }
    out.extend(super::replaces::replaces(asked));
    out.extend(super::replaces::runs_on(asked));
    out
}

fn role_word(token: &Token) -> Option<Role> {
    if token.concepts.is_empty() {
        return None;
    }
    [
        (Concept::Falseta, Role::Falseta),
        (Concept::Llamada, Role::Llamada),
        (Concept::Remate, Role::Remate),
        (Concept::Cierre, Role::Cierre),
        (Concept::Variation, Role::Variation),
        (Concept::Core, Role::Core),
    ]
    .into_iter()
    .find(|(concept, _)| token.is(*concept))
    .map(|(_, role)| role)
}

/// A role's word, or `V1`, `var 2` as typed.
pub fn role_at(tokens: &[Token], index: usize) -> Option<Role> {
    let here = token(tokens, index);
    if here.concepts.is_empty() && !here.word.starts_with('v') {
        return None;
    }
    let short = here.has(Kind::Heading)
        && HEADINGS.contains(&here.word.as_str())
        && token(tokens, index + 1).number.is_some_and(|n| n <= 9)
        && (token(tokens, index + 1).joined || here.word == "var");
    // "v1.2.26" is no variation.
    let dotted = |at: usize| {
        token(tokens, at).is_mark('.')
            && token(tokens, at).joined
            && token(tokens, at + 1).number.is_some()
            && token(tokens, at + 1).joined
    };
    if here.word.starts_with('v') && (dotted(index + 1) || dotted(index + 2)) {
        return None;
    }
    let numbered = here.is(Concept::Idea) && numbered_idea(tokens, index);
    role_word(here).or((short || numbered).then_some(Role::Variation))
}

/// "CHANGE no 1", "idea 2", "ADORNO A", "the second trick".
fn numbered_idea(tokens: &[Token], index: usize) -> bool {
    let ordinal = index
        .checked_sub(1)
        .is_some_and(|at| token(tokens, at).ordinal.is_some_and(|nth| nth <= 6) || token(tokens, at).is(Concept::Last));
    // "cambio: abanico en el tres"
    let headed = index == 0 && token(tokens, 1).is_mark(':');
    let change = matches!(token(tokens, index).word.as_str(), "cambio" | "change");
    ordinal || headed && change || number_beside(tokens, index).is_some()
}

/// The number, or the letter as one, behind a heading's word.
fn number_beside(tokens: &[Token], index: usize) -> Option<i64> {
    let skip = usize::from(matches!(
        token(tokens, index + 1).word.as_str(),
        "no" | "nº" | "number" | "numero" | "#"
    ));
    let here = token(tokens, index + 1 + skip);
    let parted = token(tokens, index + 2 + skip);
    // "Twist two lives in 5 and 6"
    let lies = index == 0 && among(&sayings().words.lies, &parted.word);
    let closes = parted.mark.is_some() || parted.word.is_empty() || skip == 1 || lies;
    let letter = here
        .raw
        .chars()
        .next()
        .filter(|letter| here.raw.len() == 1 && ('A'..='F').contains(letter));
    let number = here.number.filter(|number| (1..=9).contains(number));
    number
        .or(letter.map(|letter| letter as i64 - 'A' as i64 + 1))
        .filter(|_| closes)
}

fn begin(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    if let Some(announced) = bare_announcement(asked).or_else(|| likened_announcement(asked)) {
        return Some(announced);
    }
    asked.says.any_of(ROLES).then_some(())?;
    let (index, role) = (0..tokens.len()).find_map(|index| role_at(tokens, index).map(|role| (index, role)))?;
    let here = token(tokens, index);
    let plural = here.word.ends_with('s') && here.word != "vars" || matches!(here.word.as_str(), "vars");
    (!plural && !asked.says(Concept::Later)).then_some(())?;
    let heading = asked.context.typed && asked.opens_line && heading(asked, index);
    let spoken = spoken_beginning(asked, index, role);
    if !heading && !spoken {
        return None;
    }
    let number = number_of(tokens, index);
    let next = token(tokens, index + 1);
    // `var A`: the letter is read as well.
    let lettered = next.raw.len() == 1 && number_beside(tokens, index).is_some();
    let numbered = number.is_some() && next.number == number || lettered;
    Some(Located {
        statement: Statement::Begin {
            role,
            name: name_of(asked, role, number, index),
            number,
        },
        start: token(tokens, 0).start.min(here.start),
        end: if numbered { next.end } else { here.end },
    })
}

/// "Second one." "Okay, the next one.": another idea is announced, and nothing else said.
fn bare_announcement(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    (asked.in_pattern && !asked.context.typed && asked.says.has(Kind::Ordinal)).then_some(())?;
    let words: Vec<usize> = (0..tokens.len())
        .filter(|at| token(tokens, *at).mark.is_none())
        .collect();
    let one = *words.last()?;
    let ahead = token(tokens, *words.get(words.len().checked_sub(2)?)?);
    let noun = matches!(token(tokens, one).word.as_str(), "one" | "idea" | "thing" | "cosa");
    let ordinal = ahead.ordinal.filter(|nth| (1..=6).contains(nth));
    let announced = words.len() <= 4 && noun && ordinal.is_some();
    announced.then(|| Located {
        statement: Statement::Begin {
            role: Role::Variation,
            name: name_of(asked, Role::Variation, ordinal, one),
            number: ordinal,
        },
        start: token(tokens, 0).start,
        end: token(tokens, one).end,
    })
}

/// "La tercera es como la primera, pero …", "The third one is like the first": another variation by its likeness.
fn likened_announcement(asked: &Asked) -> Option<Located> {
    let tokens = asked.tokens;
    let lead = usize::from(token(tokens, 0).is(Concept::And) || token(tokens, 0).is(Concept::Then));
    let at = lead + usize::from(token(tokens, lead).is(Concept::Article));
    let number = token(tokens, at).ordinal.filter(|nth| (2..=6).contains(nth))?;
    let is = at + 1 + usize::from(token(tokens, at + 1).word == "one");
    let likened = token(tokens, is).is(Concept::Is) && token(tokens, is + 1).is(Concept::Same);
    let other = (is + 2..is + 5).find(|at| token(tokens, *at).ordinal.is_some_and(|nth| nth < number))?;
    let next = token(tokens, other + 1);
    let closes = next.mark.is_some() || matches!(next.word.as_str(), "" | "one" | "but" | "pero");
    let strings = tokens.iter().any(|token| token.is(Concept::StringWord));
    (likened && closes && !strings && asked.in_pattern && !asked.context.typed).then(|| Located {
        statement: Statement::Begin {
            role: Role::Variation,
            name: name_of(asked, Role::Variation, Some(number), at),
            number: Some(number),
        },
        start: token(tokens, 0).start,
        end: token(tokens, at).end,
    })
}

/// A line that opens with the word, or holds little else: `V2 -- replaces 7-9`, `CORE`, `la base:`.
fn heading(asked: &Asked, index: usize) -> bool {
    let tokens = asked.tokens;
    let leading = tokens.iter().take(index).all(|token| {
        token.is(Concept::Article)
            || token.mark.is_some()
            || token.ordinal.is_some()
            || token.number.is_some() && (tokens.len() < 8 || token.start == 0)
            || token.raw.len() <= 2
    });
    let next = if token(tokens, index + 1).joined && token(tokens, index + 1).number.is_some() {
        token(tokens, index + 2)
    } else {
        token(tokens, index + 1)
    };
    let lists = next.is_mark('+') || next.word == "till" || matches!(next.word.as_str(), "hasta" | "only");
    let counts_only = token(tokens, index).is(Concept::Core) && next.is(Concept::Loop);
    // `6 to the round`: how long it is.
    let measured = index >= 2 && token(tokens, index - 1).word == "to" && token(tokens, index - 2).number.is_some();
    leading && !lists && !counts_only && !measured && index <= 3
}

fn spoken_beginning(asked: &Asked, index: usize, role: Role) -> bool {
    let tokens = asked.tokens;
    if role == Role::Core {
        return false;
    }
    let here = token(tokens, index);
    let introduced = (index.saturating_sub(4)..index).any(|at| {
        let word = token(tokens, at);
        word.ordinal.is_some()
            || word.number.is_some_and(|n| n <= 6) && word.spelled
            || matches!(
                word.word.as_str(),
                "now"
                    | "a"
                    | "a little"
                    | "another"
                    | "una"
                    | "un"
                    | "otra"
                    | "otro"
                    | "ahora"
                    | "next"
                    | "last"
                    | "little"
                    | "segunda"
                    | "primera"
                    | "here's"
                    | "one"
                    | "the"
                    | "la"
                    | "ultima"
                    | "tercera"
                    | "this"
                    | "esta"
                    | "pequena"
                    | "new"
                    | "nueva"
                    | "first variation"
                    | "my"
            )
            || word.is_any(&[Concept::Last])
    }) || here.is(Concept::Variation) && here.word.contains(' ')
        || token(tokens, index + 1).number.is_some_and(|n| n <= 6)
        || token(tokens, index + 1).word == "one";
    let has_replaces = tokens.iter().any(|token| token.is(Concept::Replaces));
    let numbered = token(tokens, index + 1).number.is_some()
        || (index.saturating_sub(2)..index).any(|at| token(tokens, at).ordinal.is_some());
    let talks_about = tokens.iter().any(|token| {
        token.is_any(&[Concept::Condition])
            || matches!(
                token.word.as_str(),
                "mix" | "mezclar" | "mezclas" | "mezcla" | "with" | "con"
            )
    }) && !has_replaces
        && !numbered;
    let refers_back = !numbered
        && tokens.iter().any(|token| {
            matches!(
                token.word.as_str(),
                "every" | "keep" | "then" | "practise" | "practice" | "juntais"
            )
        });
    let negated = (index.saturating_sub(2)..index).any(|at| token(tokens, at).is(Concept::Negation));
    // "the same as in the first variation"
    let likened = (index.saturating_sub(5)..index).any(|at| token(tokens, at).is(Concept::Same));
    let talks_about = talks_about || !has_replaces && is_spoken_of(tokens, index);
    asked.in_pattern && introduced && !likened && !talks_about && !refers_back && (!negated || has_replaces)
}

fn number_of(tokens: &[Token], index: usize) -> Option<i64> {
    let in_word = token(tokens, index + 1)
        .number
        .filter(|_| token(tokens, index + 1).joined);
    let beside = token(tokens, index + 1)
        .number
        .filter(|_| !token(tokens, index + 1).is_mark('-') && !token(tokens, index + 2).is_mark('-'));
    let ordinal = index.checked_sub(1).and_then(|at| token(tokens, at).ordinal);
    let lettered = token(tokens, index)
        .is(Concept::Idea)
        .then(|| number_beside(tokens, index))
        .flatten();
    in_word
        .or(lettered)
        .or(beside.filter(|n| (1..=9).contains(n)))
        .or(ordinal)
}

fn name_of(asked: &Asked, role: Role, number: Option<i64>, index: usize) -> String {
    let spanish = asked.context.language == super::super::lexicon::Language::Spanish;
    let base = match (role, spanish) {
        (Role::Core, true) => "base",
        (Role::Core, false) => "core",
        (Role::Variation, true) => "variación",
        (Role::Variation, false) => "variation",
        (Role::Falseta, _) => "falseta",
        (Role::Llamada, _) => "llamada",
        (Role::Remate, _) => "remate",
        (Role::Cierre, _) => "cierre",
    };
    if role != Role::Core
        && asked.context.typed
        && let Some(words) = own_words(asked, index)
    {
        return match number {
            Some(number) => format!("{base} {number}: {words}"),
            None => format!("{base}: {words}"),
        };
    }
    match number {
        Some(number) => format!("{base} {number}"),
        None => base.to_owned(),
    }
}

/// Where the clause begins that says that the pattern runs on: no part of its name.
fn name_ends(tokens: &[Token], index: usize) -> usize {
    let runs_on = (index + 1..tokens.len()).find(|at| token(tokens, *at).is(Concept::RunsOn));
    runs_on.map_or(tokens.len(), |end| {
        let opens = |at: &usize| token(tokens, *at).is_mark(',') || token(tokens, *at).is(Concept::And);
        (index + 1..end).rev().find(opens).unwrap_or(end)
    })
}

/// "variation one: instead of beat 2 you knock", "swap out 3 and 4 for a triplet with p m p": what is played is told
/// behind the heading, and no name given.
fn tells(tokens: &[Token], behind: std::ops::Range<usize>) -> bool {
    let fingers = [Concept::FingerP, Concept::FingerI, Concept::FingerM, Concept::FingerA];
    let words = tokens.get(behind).unwrap_or_default();
    let players = words.iter().any(|word| among(&sayings().words.players, &word.word));
    let says = |concept: Concept| words.iter().any(|word| word.is(concept));
    let replaces = says(Concept::Replaces);
    let finger = |word: &&Token| word.is_any(&fingers) || matches!(word.raw.as_str(), "p" | "i" | "m" | "a");
    let (string, fret) = (says(Concept::StringWord), says(Concept::FretWord));
    let plain_stroke = words.windows(2).any(|pair| match pair {
        [article, stroke] => {
            matches!(article.word.as_str(), "a" | "un" | "una" | "the" | "el")
                && stroke.is_any(&[Concept::Golpe, Concept::Down, Concept::Up])
        }
        _ => false,
    });
    players && replaces || string && fret || replaces && plain_stroke || words.iter().filter(finger).count() > 2
}

/// What a typed heading calls the pattern: "thumb tail" in `V1 (10-12) thumb tail`.
fn own_words(asked: &Asked, index: usize) -> Option<String> {
    let tokens = asked.tokens;
    let mut words: Vec<&str> = Vec::new();
    let mut depth = 0;
    let end = name_ends(tokens, index);
    for (at, here) in tokens.iter().enumerate().take(end).skip(index + 1) {
        if here.is_mark('(') {
            depth += 1;
        } else if here.is_mark(':') && depth == 0 && at > index + 2 && words.is_empty() {
            // `V6, in place of 7: …`: behind the colon stands what is played.
            break;
        } else if here.is_mark(')') {
            depth -= 1;
        } else if depth == 0 && (here.is_mark(':') || here.is_mark('.') || here.is_mark(';')) && !words.is_empty() {
            break;
        } else if depth == 0
            && here.mark.is_none()
            && (here.number.is_none() || here.spelled && !words.is_empty())
            && !here.is(Concept::Replaces)
            && !(words.is_empty() && (here.word == "it" || among(&sayings().words.lies, &here.word)))
            && !super::replaces::joins_counts(tokens, at)
            && !(here.is(Concept::Article) && token(tokens, at + 1).number.is_some())
            && !(words.is_empty() && here.is_any(&[Concept::On, Concept::And]))
        {
            words.push(here.raw.as_str());
        } else if depth == 0 && here.is_mark(',') && !words.is_empty() && at > index + 4 {
            break;
        }
    }
    // `V3, replaces 9 only: …`
    if let [only] = words.as_slice()
        && matches!(*only, "only" | "solo" | "just")
    {
        return None;
    }
    let text = words.join(" ");
    (!text.is_empty() && !tells(tokens, index..end) && text.chars().count() <= 40).then_some(text)
}
