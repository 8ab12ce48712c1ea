//! Sentences from which nothing was read: an aside, or words of the trade that were not understood, and why.

use super::clauses::{FINGERS, clauses};
use super::context::Context;
use super::forms::is_question;
use super::lexicon::Concept;
use super::moments::token;
use super::says::Says;
use super::statement::Told;
use super::tokens::{Token, Tokens};
use crate::music::lesson::{Lesson, Unread};
use crate::text::Place;

/// Words that say what the hands do. Their everyday neighbours ("sit down", "the rest of") are plain in the lexicon.
const STROKES: [Concept; 13] = [
    Concept::Down,
    Concept::Up,
    Concept::Golpe,
    Concept::Rasgueado,
    Concept::Alzapua,
    Concept::Abanico,
    Concept::PullOff,
    Concept::HammerOn,
    Concept::Slur,
    Concept::Damp,
    Concept::Tremolo,
    Concept::Picado,
    Concept::Strum,
];

/// Words that say where the hands are.
const HANDS: [Concept; 9] = [
    Concept::FingerP,
    Concept::FingerI,
    Concept::FingerA,
    Concept::StringWord,
    Concept::FretWord,
    Concept::FingerWord,
    Concept::ChordWord,
    Concept::Barre,
    Concept::Triplet,
];

const OF_TRADE: Says = Says::NOTHING.meaning(&STROKES).meaning(&HANDS);

/// A sentence from which nothing was taken in; none when it is an aside. Its plain music, where its clauses have been read.
pub fn unread(
    tokens: &[Token],
    text: &str,
    place: Place,
    context: &Context,
    in_pattern: bool,
    read: Option<Vec<PlainMusic>>,
) -> Option<Unread> {
    if is_aside(tokens, text) {
        return None;
    }
    // Without a number there is no count.
    let counts = |token: &Token| token.number.is_some() || token.ordinal.is_some();
    let plain = if tokens.iter().any(counts) {
        read.unwrap_or_else(|| plain_music(&clauses(tokens, context)))
    } else {
        Vec::new()
    };
    let (reason, musical) = match why_not_placed(&plain, context) {
        Some(reason) if in_pattern => (reason, true),
        Some(reason) => (reason, false),
        None if in_pattern && stroke_on_a_count(tokens, context) => (Reason::NotPlaced, true),
        None => (trade_words(tokens)?, false),
    };
    Some(Unread {
        text: text.to_owned(),
        reason: reason_in(reason, context),
        musical,
        place,
    })
}

/// Words of a sentence in which something was read, and which themselves were read by nobody: the strokes of a variation
/// that was understood to begin, say. The longest stretch of them, as long as it is plainly about the hands.
pub fn left_over(
    tokens: &[Token],
    text: &str,
    read: &[Place],
    context: &Context,
    announced: bool,
    place: impl Fn(usize, usize) -> Place,
) -> Option<Unread> {
    // What is plainly about the hands in a part is so in the whole.
    if is_aside(tokens, text) || trade_words(tokens).is_none() {
        return None;
    }
    let is_read = |token: &Token| {
        let span = place(token.start, token.end).span;
        read.iter()
            .any(|place| place.span.start < span.end && span.start < place.span.end)
    };
    let stretches = tokens.chunk_by(|one, other| is_read(one) == is_read(other));
    let left = stretches.filter(|stretch| stretch.first().is_some_and(|first| !is_read(first)));
    let longest = left
        .filter(|stretch| trade_words(stretch).is_some() && (announced || context.typed || !is_row(stretch)))
        .max_by_key(|stretch| stretch.len())?;
    let (start, end) = (longest.first()?.start, longest.last()?.end);
    Some(Unread {
        text: text.get(start..end).unwrap_or(text).to_owned(),
        reason: reason_in(Reason::LeftOver, context),
        musical: true,
        place: place(start, end),
    })
}

/// What was told for a count on which something else is played: it went nowhere.
pub fn told_otherwise(
    tokens: &[Token],
    text: &str,
    place: Place,
    context: &Context,
    plain: &[PlainMusic],
) -> Option<Unread> {
    let leads = [
        Concept::And,
        Concept::Then,
        Concept::On,
        Concept::Article,
        Concept::BeatWord,
    ];
    let opens = |token: &&Token| token.is_any(&leads) || token.is_mark('-') || token.word == "el";
    let first = tokens.iter().find(|token| !opens(token));
    let counted = first.is_some_and(|first| first.number.is_some()) && plain.iter().any(|music| music.count.is_some());
    (counted && !is_aside(tokens, text)).then(|| Unread {
        text: text.to_owned(),
        reason: reason_in(Reason::ToldOtherwise, context),
        musical: true,
        place,
    })
}

/// The whole note, when it is no lesson.
pub fn no_lesson(place: Place, context: &Context) -> Unread {
    Unread {
        text: String::new(),
        reason: reason_in(Reason::NoLesson, context),
        musical: false,
        place,
    }
}

/// A sentence that is hazy about what is played on a count that it names: nothing in it may be read as exact.
pub fn hazy(tokens: &Tokens, text: &str, place: Place, context: &Context, in_pattern: bool) -> Option<Unread> {
    if !tokens.says.means(Concept::Hazy) || !in_pattern {
        return None;
    }
    let told = clauses(tokens, context);
    let counted = told.iter().any(|told| count_of(told, context).is_some());
    let played = tokens
        .iter()
        .any(|token| token.is_any(&STROKES) || token.is_any(&HANDS) || token.is(Concept::Flourish));
    (counted && played).then(|| Unread {
        text: text.to_owned(),
        reason: reason_in(Reason::Hazy, context),
        musical: true,
        place,
    })
}

/// Most important first: plain music in the order of the text, then what may be music.
pub fn by_importance(lesson: &mut Lesson) {
    lesson.unread.sort_by_key(|unread| (!unread.musical, unread.place));
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reason {
    /// Strokes with a count, and yet none could be placed.
    NotPlaced,
    /// A count outside of what is being told.
    NoSuchCount,
    /// Words of the trade, and nothing that can be placed.
    TradeWords,
    /// The rest of a sentence of which some was read.
    LeftOver,
    /// Another stroke was told for that count before.
    ToldOtherwise,
    /// "somehow", "you know the one".
    Hazy,
    /// No word of the trade in the whole note.
    NoLesson,
}

fn reason_in(reason: Reason, context: &Context) -> String {
    let spanish = context.language == super::lexicon::Language::Spanish;
    let words = match (reason, spanish) {
        (Reason::NotPlaced, false) => "it names strokes and a count, but they could not be put together",
        (Reason::NotPlaced, true) => "nombra toques y un tiempo, pero no se ha podido juntarlos",
        (Reason::NoSuchCount, false) => "it names strokes on a count that the compás does not have",
        (Reason::NoSuchCount, true) => "nombra toques en un tiempo que el compás no tiene",
        (Reason::TradeWords, false) => "words of the trade, but nothing that says what is played when",
        (Reason::TradeWords, true) => "palabras del oficio, pero no dice qué se toca ni cuándo",
        (Reason::LeftOver, false) => "of this sentence these words about the hands were not read",
        (Reason::LeftOver, true) => "de esta frase no se han leído estas palabras sobre las manos",
        (Reason::ToldOtherwise, false) => "something else was told before for this count, so it was not taken in",
        (Reason::ToldOtherwise, true) => "antes se dijo otra cosa para este tiempo, así que no se ha tenido en cuenta",
        (Reason::Hazy, false) => "it does not say exactly what is played",
        (Reason::Hazy, true) => "no dice exactamente qué se toca",
        (Reason::NoLesson, false) => "hardly a word of the trade stands in this note, so nothing was read from it",
        (Reason::NoLesson, true) => "apenas hay palabras del oficio en esta nota, así que no se ha leído nada de ella",
    };
    words.to_owned()
}

/// A count that the compás has.
fn count_of(told: &Told, context: &Context) -> Option<i64> {
    let count = told.when.and_then(|when| when.count).or(told.span.map(|span| span.0))?;
    (1..=context.last_count()).contains(&count).then_some(count)
}

/// A stroke or a note of one clause, with the count that it stands on, if any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlainMusic {
    count: Option<i64>,
}

/// The clauses that tell of music plainly.
pub fn plain_music(told: &[Told]) -> Vec<PlainMusic> {
    let exact = |told: &&Told| {
        let stroke = !told.actions.is_empty() || told.golpe;
        let note = !(told.strings.is_empty() || told.frets.is_empty() && told.fingers.is_empty());
        let held = stroke && !told.fingers.is_empty() || note;
        held && !told.negated && !told.as_usual
    };
    let count = |told: &Told| told.when.and_then(|when| when.count);
    let plain = told.iter().filter(exact);
    plain.map(|told| PlainMusic { count: count(told) }).collect()
}

/// What is played together with its count: that is music, whatever else the words are.
fn why_not_placed(plain: &[PlainMusic], context: &Context) -> Option<Reason> {
    let mut counts = plain.iter().filter_map(|music| music.count).peekable();
    counts.peek()?;
    if counts.any(|count| (1..=context.last_count()).contains(&count)) {
        Some(Reason::NotPlaced)
    } else {
        Some(Reason::NoSuchCount)
    }
}

/// "Thumb, up. Down, up, down.": told before, and said over without its counts.
fn is_row(tokens: &[Token]) -> bool {
    let struck = tokens.iter().filter(|token| token.is_any(&STROKES)).count();
    struck > 2 && tokens.iter().all(|token| token.number.is_none())
}

/// "abanico en el tres": a stroke by its name, and right behind it a count.
fn stroke_on_a_count(tokens: &[Token], context: &Context) -> bool {
    let mut strokes = (0..tokens.len()).filter(|at| token(tokens, *at).is_any(&STROKES));
    strokes.any(|at| {
        let on = matches!(token(tokens, at + 1).word.as_str(), "en" | "on");
        let count = at + 2 + usize::from(token(tokens, at + 2).is(Concept::Article));
        let behind = token(tokens, count + 1);
        let closes = behind.mark.is_some() || behind.word.is_empty() || behind.is(Concept::And);
        let within = token(tokens, count)
            .number
            .is_some_and(|count| (1..=context.last_count()).contains(&count));
        on && within && closes
    })
}

/// Words of at least two different things of the trade, one of them about what the hands do.
fn trade_words(tokens: &[Token]) -> Option<Reason> {
    let kind = |token: &Token| STROKES.iter().chain(&HANDS).position(|concept| token.is(*concept));
    let of_trade = tokens.iter().filter(|token| token.says().any_of(OF_TRADE));
    // A bit for each kind.
    let kinds = of_trade.filter_map(kind).fold(0u32, |kinds, kind| kinds | 1 << kind);
    let strokes = kinds & ((1 << STROKES.len()) - 1) != 0;
    // Three fingers in a row are a stroke, whatever its name.
    let fingers = FINGERS
        .iter()
        .filter(|(concept, _)| tokens.iter().any(|token| token.is(*concept)));
    (strokes && kinds.count_ones() > 1 || fingers.count() > 2).then_some(Reason::TradeWords)
}

/// "ab/arr.": the words a list of abbreviations leaves behind.
fn defined_in_two_words(tokens: &[Token]) -> bool {
    let words = tokens.iter().filter(|token| token.mark.is_none()).count();
    words <= 2 && tokens.iter().all(|token| token.number.is_none())
}

/// Greetings, requests, sign-offs, questions to the class, what is kept for another day, what stays as it was,
/// and the writer's own abbreviations.
fn is_aside(tokens: &[Token], text: &str) -> bool {
    let defines = tokens.iter().any(|token| token.is_mark('=')) || defined_in_two_words(tokens);
    let kinds = [Concept::Aside, Concept::Later, Concept::AsUsual];
    defines || is_question(tokens, text) || is_the_old_one(tokens) || tokens.iter().any(|token| token.is_any(&kinds))
}

/// "after it the 1 is the old 1", "el 4 es el 4 de siempre": a count that is itself again stays as it was.
fn is_the_old_one(tokens: &[Token]) -> bool {
    let small = |at: &usize| {
        let here = token(tokens, *at);
        here.is(Concept::Article) || matches!(here.word.as_str(), "the" | "el" | "old" | "same" | "usual" | "mismo")
    };
    (1..tokens.len())
        .filter(|at| token(tokens, *at).is(Concept::Is))
        .any(|is| {
            let again = (is + 1..tokens.len()).find(|at| !small(at));
            let count = token(tokens, is - 1).number;
            count.is_some() && again.is_some_and(|again| again > is + 1 && token(tokens, again).number == count)
        })
}
