use super::super::lexicon::Concept;
use super::super::moments::{before, token};
use super::super::says::{Kind, Needs, Says};
use super::super::statement::{Located, Statement};
use super::super::tokens::Token;
use super::Asked;

pub const NEEDS: [Needs; 2] = [
    Needs::Here(Says::NOTHING.kind(&[Kind::Number])),
    // `x8`: the cross is also said for a string that is not played.
    Needs::Here(
        Says::NOTHING
            .kind(&[Kind::SaidFret])
            .meaning(&[Concept::Times, Concept::Loop]),
    ),
];

/// "loop it 4 times", `x8`, "cinco vueltas", "go round that 3 times".
pub fn read(asked: &Asked) -> Vec<Located> {
    let tokens = asked.tokens;
    let loops = asked.says(Concept::Loop);
    let rounds = tokens.iter().any(|token| {
        matches!(
            token.word.as_str(),
            "vueltas" | "times through" | "rounds" | "laps" | "times round" | "rondas" | "vueltas seguidas"
        )
    });
    // "do the whole thing four times", "do that eight times with the click"
    let done = tokens.windows(2).any(|pair| match pair {
        [verb, thing] => {
            let verb = matches!(verb.word.as_str(), "do" | "play" | "repeat" | "haced" | "haz" | "tocad");
            verb && matches!(
                thing.word.as_str(),
                "that" | "it" | "this" | "the whole thing" | "the" | "all" | "eso" | "esto" | "todo"
            )
        }
        _ => false,
    });
    // "do that eight times with the click" tells no tempo.
    let of_tempo = |at: usize| token(tokens, at).is(Concept::TempoWord) && !beside_the_click(tokens, at);
    let announced = (0..tokens.len()).any(|at| token(tokens, at).is(Concept::Later) || of_tempo(at));
    for index in 0..tokens.len() {
        let here = token(tokens, index);
        let next = token(tokens, index + 1);
        let written = asked.context.typed && here.word == "x" && next.joined && next.number.is_some();
        if written
            && let Some(count) = next
                .number
                .and_then(|n| u32::try_from(n).ok())
                .filter(|n| (2..=64).contains(n))
        {
            return vec![said(asked, index, index + 1, count)];
        }
        let Some(number) = here.number.filter(|number| (2..=64).contains(number)) else {
            continue;
        };
        // "Two rounds plain, one with the stairs": how it is mixed.
        let plain = (index + 2..index + 4).any(|at| {
            matches!(
                token(tokens, at).word.as_str(),
                "plain" | "sencillas" | "normales" | "limpias"
            )
        });
        if plain && tokens.iter().any(|token| token.is_mark(',')) {
            continue;
        }
        // "I'll play two rounds of it": what the teacher shows.
        let plays = |at: usize| {
            matches!(
                token(tokens, at).word.as_str(),
                "i'll" | "i play" | "toco" | "voy a tocar" | "os toco"
            )
        };
        if (index.saturating_sub(3)..index).any(plays) {
            continue;
        }
        // `core = 2 rounds`, "la base dura dos vueltas": how long it is.
        let lasts = matches!(
            before(tokens, index).word.as_str(),
            "dura" | "duran" | "lasts" | "last" | "takes" | "ocupa"
        );
        // "dos vueltas de 6"
        let of_so_many =
            matches!(token(tokens, index + 2).word.as_str(), "de" | "of") && token(tokens, index + 3).number.is_some();
        if before(tokens, index).is_mark('=') || lasts || of_so_many {
            continue;
        }
        let direct = next.is(Concept::Times) || next.word == "more" && token(tokens, index + 2).is(Concept::Times);
        let bare = before(tokens, index).is(Concept::Loop)
            && asked.context.typed
            && (next.mark.is_some() || next.word.is_empty() || next.is(Concept::Times));
        let by_itself = asked.context.typed
            && asked.opens_line
            && index == 0
            && direct
            && (tokens.len() <= 4 || asked.in_pattern && !announced);
        // `Repeat: 10 times`
        let headed = before(tokens, index).is_mark(':')
            && index <= 3
            && direct
            && matches!(
                token(tokens, 0).word.as_str(),
                "repeat" | "repeats" | "repetir" | "repite" | "repetid" | "rounds" | "vueltas"
            );
        // "Ocho veces, sin prisa."
        let ordered = index == 0 && direct && asked.in_pattern && !asked.context.typed && number >= 3 && {
            let behind = token(tokens, index + 2);
            behind.mark.is_some() || behind.word.is_empty()
        };
        let crossed = asked.context.typed && loops && next.word == "x" && next.joined;
        if ((direct && (loops || rounds || done && number >= 4) && !announced)
            || bare
            || by_itself
            || headed
            || ordered && !announced
            || crossed)
            && let Ok(count) = u32::try_from(number)
        {
            return vec![said(asked, index, index + 1, count)];
        }
    }
    Vec::new()
}

/// "with the click", "con el metrónomo": what sounds beside it.
fn beside_the_click(tokens: &[Token], at: usize) -> bool {
    let article = usize::from(before(tokens, at).is(Concept::Article));
    before(tokens, at - article.min(at)).is(Concept::With)
}

fn said(asked: &Asked, from: usize, to: usize, count: u32) -> Located {
    Located {
        statement: Statement::Repeats(count),
        start: token(asked.tokens, from).start,
        end: token(asked.tokens, to).end,
    }
}
