use super::super::context::Context;
use super::super::lexicon::{Concept, Language};
use super::super::moments::{before, token};
use super::super::pitch_words::pitch_at;
use super::super::sayings::{among, sayings};
use super::super::spans::count_list;
use super::super::tokens::Token;
use super::fingers::{named_finger, right_fingers};

/// Whether a bare number is a count of the compás: behind "on", at the start of a clause in front of a verb, colon or stroke.
pub fn is_count(tokens: &[Token], index: usize, context: &Context, fresh: bool) -> bool {
    let here = token(tokens, index);
    let Some(number) = here.number.filter(|number| (1..=context.last_count()).contains(number)) else {
        return false;
    };
    let previous = before(tokens, index);
    let next = token(tokens, index + 1);
    let unit = next.is_any(&[
        Concept::Unit,
        Concept::Times,
        Concept::StringWord,
        Concept::FretWord,
        Concept::FingerWord,
        Concept::ChordWord,
        Concept::TempoWord,
    ]) || next.is(Concept::PartWord) && !token(tokens, index + 2).is(Concept::StringWord)
        || next.is(Concept::BeatWord) && !previous.is(Concept::BeatWord)
        || next.is_mark('%')
        || next.is_any(&[Concept::Semiquavers, Concept::Quavers, Concept::Crotchets]);
    if unit
        || previous.is_any(&[
            Concept::FretWord,
            Concept::StringWord,
            Concept::FingerWord,
            Concept::LeftHand,
            Concept::Capo,
        ])
    {
        return false;
    }
    // "cae el dedo tres"
    if previous.word.ends_with(" dedo") {
        return false;
    }
    if is_a_finger(tokens, index, context) || is_a_step(tokens, index) {
        return false;
    }
    if here.joined && previous.mark.is_none() && !previous.word.is_empty() {
        return false;
    }
    let pointed_at =
        previous.is(Concept::BeatWord) || matches!(previous.word.as_str(), "the" | "el" | "del" | "al" | "pal");
    if !pointed_at && is_quantity(next) {
        return false;
    }
    let verb = next.is_any(&[Concept::Is, Concept::Begins]) || next.mark.is_some() || next.word.is_empty();
    let with_a_count = context.typed && previous.is(Concept::With) && !next.is(Concept::FingerWord) && !here.spelled;
    let introduced = with_a_count
        || previous.is_any(&[Concept::On, Concept::BeatWord, Concept::Then])
        || matches!(
            previous.word.as_str(),
            "the" | "el" | "al" | "del" | "then" | "and" | "y" | "ese" | "este" | "that" | "this"
        );
    // "one of the dancers"
    if here.spelled && number == 1 && matches!(next.word.as_str(), "of" | "de") && !pointed_at {
        return false;
    }
    // "thumb up, middle down, thumb down, that's the three": how many were told
    let summed = previous.word == "the"
        && matches!(
            before(tokens, index.saturating_sub(1)).word.as_str(),
            "that's" | "those are"
        );
    if here.spelled && summed && !context.punctuated {
        return false;
    }
    // "un rasgueado de cuatro, meñique, anular, medio, índice": its fingers
    let of_a_roll = previous.word == "de" && before(tokens, index.saturating_sub(1)).is(Concept::Rasgueado);
    if of_a_roll && right_fingers(tokens, index + 1, context).is_some() {
        return false;
    }
    // "el 5 lo dividís en cuatro": into how many parts
    let parted = |at: usize| {
        ["divid", "split", "part", "repart"]
            .iter()
            .any(|stem| token(tokens, at).word.contains(stem))
    };
    if matches!(previous.word.as_str(), "en" | "in" | "into")
        && here.spelled
        && (index.saturating_sub(4)..index).any(parted)
    {
        return false;
    }
    // "little, ring, middle, index, all four, and the little finger", "that's the big one"
    let adjective = number == 1
        && previous.concepts.is_empty()
        && previous.number.is_none()
        && previous.mark.is_none()
        && matches!(before(tokens, index.saturating_sub(1)).word.as_str(), "the" | "a");
    if here.spelled && context.language == Language::English && (previous.word == "all" || adjective) {
        return false;
    }
    // "8 is just the one, on A"
    let only = matches!(
        before(tokens, index.saturating_sub(1)).word.as_str(),
        "just" | "only" | "just the" | "only the"
    );
    if here.spelled && number == 1 && previous.word == "the" && only {
        return false;
    }
    // "one golpe on one"
    let one_stroke = next.is_any(&[Concept::Golpe, Concept::Tap, Concept::Down, Concept::Up]);
    let told_behind = token(tokens, index + 2).is(Concept::On) && token(tokens, index + 3).number.is_some();
    if here.spelled && number == 1 && one_stroke && told_behind && !pointed_at && !previous.is(Concept::On) {
        return false;
    }
    // "los tres juntos", "those two": of what was told
    let of_them = matches!(
        previous.word.as_str(),
        "los" | "las" | "those" | "these" | "otros" | "otras" | "all"
    );
    if here.spelled && of_them && !next.is(Concept::BeatWord) && !next.is(Concept::And) {
        return false;
    }
    // "the third one is for four only"
    let pronoun = previous.ordinal.is_some() || previous.is(Concept::Last) || previous.word == "other";
    if here.spelled && number == 1 && pronoun {
        return false;
    }
    // "one on five and one on six"
    let each_on_its_count = next.is(Concept::On) && token(tokens, index + 2).number.is_some();
    if here.spelled && number == 1 && each_on_its_count && !pointed_at && !previous.is(Concept::On) {
        return false;
    }
    // "the one that comes after ten": settled as 11.
    if here.spelled && number > 10 && matches!(here.word.as_str(), "one" | "two" | "uno" | "dos") && pointed_at {
        return true;
    }
    if here.spelled {
        let article = matches!(next.word.as_str(), "a" | "an" | "the" | "el" | "la" | "un" | "una");
        let noun = next.mark.is_none()
            && next.ordinal.is_none()
            && !next.word.is_empty()
            && next.concepts.is_empty()
            && !is_player(next)
            && !article
            && (context.punctuated || pitch_at(tokens, index + 1, context.language, context.typed).is_none());
        // "dos índice abajo y arriba", "two thumb down"
        let struck = named_finger(next).is_some()
            && !previous.is(Concept::Is)
            && token(tokens, index + 2).is_any(&[Concept::Down, Concept::Up, Concept::Golpe]);
        let pointed =
            previous.word == "el" && matches!(before(tokens, index.saturating_sub(1)).word.as_str(), "en" | "del");
        let strong = previous.is(Concept::BeatWord)
            || pointed
            || previous.is(Concept::On)
                && !matches!(previous.word.as_str(), "of" | "de" | "for" | "para" | "por" | "a")
                && (verb || !noun)
            || matches!(previous.word.as_str(), "the" | "el")
                && (next.is(Concept::Is) || next.mark.is_some() || next.word.is_empty() || is_told_of(next))
            || fresh
                && (next.is_any(&[Concept::Is, Concept::Arrives]) || next.is_mark(':') || is_player(next))
                && before(tokens, index).word != "of"
            || fresh && next.is_mark(',') && is_played(tokens, index + 2, context)
            || fresh && is_told_of(next) && next.word != "no"
            || heads_a_list(tokens, index, number, fresh)
            || !context.punctuated && (number > 2 || introduced || struck) && !noun
            || number == 1
                && matches!(previous.word.as_str(), "the" | "el")
                && matches!(
                    next.word.as_str(),
                    "of" | "again" | "round" | "de" | "otra" | "and" | "y"
                )
                && before(tokens, index.saturating_sub(1)).is(Concept::On);
        return strong;
    }
    // "LH 3 or 4 on f4"
    if context.typed && matches!(previous.word.as_str(), "or" | "o") && !fresh {
        return false;
    }
    if context.typed {
        return fresh || introduced || verb && previous.mark.is_some();
    }
    introduced
        || fresh
            && (verb
                || right_fingers(tokens, index + 1, context).is_some()
                || next.is_any(&[
                    Concept::Down,
                    Concept::Up,
                    Concept::Golpe,
                    Concept::And,
                    Concept::Negation,
                ]))
        || !context.punctuated
}

/// "de 4 en 4", "4 by 4": how far each step goes.
fn is_a_step(tokens: &[Token], index: usize) -> bool {
    let number = |at: usize| token(tokens, at).number;
    let first = matches!(before(tokens, index).word.as_str(), "de" | "in")
        && token(tokens, index + 1).word == "en"
        && number(index + 2) == number(index);
    let second = index >= 2 && before(tokens, index).word == "en" && number(index - 2) == number(index);
    let led = index >= 3 && token(tokens, index - 3).word == "de";
    first || second && led
}

/// "el fa con el uno y el sol con el tres": behind "con el" a finger of the left hand, unless something falls together with
/// the count.
fn is_a_finger(tokens: &[Token], index: usize, context: &Context) -> bool {
    let held = token(tokens, index)
        .number
        .is_some_and(|number| (1..=4).contains(&number));
    let led = before(tokens, index).word == "el" && before(tokens, index.saturating_sub(1)).word == "con";
    let meets = |at: usize| {
        let word = token(tokens, at).word.as_str();
        matches!(word, "coincide" | "coinciden" | "junto" | "a la vez") || token(tokens, at).is(Concept::Arrives)
    };
    let spanish = context.language == Language::Spanish && !context.typed;
    spanish && held && led && !(index.saturating_sub(8)..index).any(meets)
}

/// "One, thumb down", "three, golpe", "seven, fourth string third fret", "ten, A": what is played stands behind the comma.
fn is_played(tokens: &[Token], at: usize, context: &Context) -> bool {
    let played = [
        Concept::Down,
        Concept::Up,
        Concept::Golpe,
        Concept::Rasgueado,
        Concept::Silence,
        Concept::Same,
        Concept::AsUsual,
    ];
    // "six, just the golpe"
    let only = matches!(token(tokens, at).word.as_str(), "just" | "only" | "solo");
    let article = only && token(tokens, at + 1).is(Concept::Article);
    let at = at + usize::from(only) + usize::from(article);
    // "dos, el índice baja"
    let led = token(tokens, at).is(Concept::Article) || matches!(token(tokens, at).word.as_str(), "el" | "the");
    let at = at + usize::from(led && right_fingers(tokens, at + 1, context).is_some());
    let string = token(tokens, at).ordinal.is_some() && token(tokens, at + 1).is(Concept::StringWord);
    // "Siete, la segunda en el traste tres": a string alone, and its fret.
    let nth = at + usize::from(matches!(token(tokens, at).word.as_str(), "la" | "the"));
    let fretted =
        token(tokens, nth + 1).is(Concept::On) && (nth + 2..nth + 4).any(|at| token(tokens, at).is(Concept::FretWord));
    let string = string || token(tokens, nth).ordinal.is_some() && fretted;
    // "Five, that's E seven": the chord that it brings.
    let shown = matches!(token(tokens, at).word.as_str(), "that's" | "that is" | "it's");
    let at = at + usize::from(shown);
    let opens = at <= 2 || at == 3 && token(tokens, 0).is_any(&[Concept::And, Concept::Then, Concept::So]);
    let opens = opens || shown && at <= 4;
    let held = || string || pitch_at(tokens, at, context.language, context.typed).is_some();
    token(tokens, at).is_any(&played) || right_fingers(tokens, at, context).is_some() || opens && held()
}

/// "El dos y el tres son ...", "five and six, the same as ...": another count stands behind it, pointed at like it or with
/// it told of what comes.
fn heads_a_list(tokens: &[Token], index: usize, number: i64, fresh: bool) -> bool {
    let pointed = |at: usize| at < index + 3 && matches!(token(tokens, at).word.as_str(), "the" | "el");
    let held = before(tokens, index.saturating_sub(1)).is_any(&[Concept::With, Concept::FingerWord, Concept::LeftHand]);
    let linked = token(tokens, index + 1).is(Concept::And) || token(tokens, index + 1).is_mark(',');
    let higher = |at: usize| token(tokens, at).number.is_some_and(|next| next > number);
    if index > 0 && pointed(index - 1) && pointed(index + 2) {
        return linked && !held && higher(index + 3);
    }
    // "cuatro, cinco y seis, lo mismo que uno, dos y tres"
    let listed = count_list(tokens, index).filter(|(first, last, _)| last > first);
    let end = listed.map_or(index + 3, |(_, _, end)| end);
    let behind = token(tokens, end);
    let likened = (end + 1..end + 4).any(|at| token(tokens, at).is(Concept::Same));
    let told = behind.is(Concept::Is)
        || behind.is_mark(',') && (likened || token(tokens, end + 1).is_any(&[Concept::Same, Concept::Article]));
    // "here's the fun one, 4 is a rasgueado"
    let lead = before(tokens, index);
    let links = [Concept::And, Concept::Then, Concept::So, Concept::BeatWord];
    let opens = lead.mark.is_some() || lead.word.is_empty() || lead.is_any(&links);
    fresh && opens && linked && higher(index + 2) && told
}

/// "five we go to the E7", "seven you come back": who plays stands behind the count.
fn is_player(next: &Token) -> bool {
    among(&sayings().words.players, &next.word)
}

/// "el cinco se toca", "el cuatro también": what is told of a count stands behind it.
fn is_told_of(next: &Token) -> bool {
    let first = next.word.split(' ').next().unwrap_or("");
    among(&sayings().words.told_of, first)
}

/// "5 kilometres", "12 rolls", "4 gotas": a number of things.
fn is_quantity(thing: &Token) -> bool {
    const NO_THINGS: [&str; 14] = [
        "this", "always", "perhaps", "yes", "plus", "entonces", "luego", "tus", "mis", "sus", "pues", "ademas", "nos",
        "unos",
    ];
    thing.concepts.is_empty()
        && thing.mark.is_none()
        && thing.number.is_none()
        && thing.word.chars().count() > 3
        && thing.word.ends_with('s')
        && !thing.word.ends_with("'s")
        && !NO_THINGS.contains(&thing.word.as_str())
}
