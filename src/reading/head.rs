//! The `name: value` lines on top of a note, as facts of the lesson. They are heard before the prose, and hold against it.

use super::context::Context;
use super::discourse::Discourse;
use super::forms::{Asked, names_in};
use super::lexicon::{Language, Lexicon, lexicon};
use super::statement::Statement;
use super::tokens::{Token, Tokens, tokens};
use crate::intake::{Folder, HeadLine, Note};
use crate::music::lesson::{Lesson, Said};
use crate::music::pitch::{NoteName, SOLFA};
use crate::text::{ClockTime, Place, slug};

/// Open strings from string 1 to string 6 as MIDI numbers: E4 B3 G3 D3 A2 E2 (common practice, no source).
const STANDARD: [u8; 6] = [64, 59, 55, 50, 45, 40];

/// Hears every line of a note's head.
pub fn hear(discourse: &mut Discourse, note: &Note, words: &Lexicon) {
    for line in &note.head {
        discourse.sentence_place = line.place;
        if !hear_line(discourse, line, words) {
            discourse
                .lesson
                .questions
                .push(Said::new(not_understood(line), line.place));
        }
    }
    discourse.close_head();
}

fn not_understood(line: &HeadLine) -> String {
    format!("What is \"{}: {}\" in the head?", line.name, line.value)
}

/// False when the value was not understood.
fn hear_line(discourse: &mut Discourse, line: &HeadLine, words: &Lexicon) -> bool {
    let (value, place) = (line.value.as_str(), line.place);
    let said = |text: &str| Some(Said::new(text.to_owned(), place));
    match line.name.as_str() {
        "title" => discourse.lesson.title = said(value),
        "reviewed" => discourse.lesson.reviewed = said(value),
        "people" => discourse.lesson.people.extend(names(value).map(str::to_owned)),
        "needs" => {
            let needed = names(value).map(|name| Said::new(slug(name), place));
            discourse.lesson.needs.extend(needed);
        }
        "order" => match first_number(value) {
            Some(order) => discourse.lesson.order = Some(Said::new(order, place)),
            None => return false,
        },
        "recording" => {
            let (address, length) = recording(value);
            discourse.lesson.recording = said(address);
            discourse.lesson.recording_length = length;
        }
        "tuning" => match tuning(value, discourse.context.language, words) {
            Some(STANDARD) => {}
            Some(strings) => discourse.lesson.tuning = Some(Said::new(strings, place)),
            None => return false,
        },
        "palo" => {
            let found = heard(&discourse.context, value, words, &is_palo).pop();
            discourse.hear(found.unwrap_or_else(|| Statement::Palo(slug(value))), place);
        }
        "meter" => return meter(discourse, line, words),
        "capo" => match capo(value) {
            Some(fret) => discourse.hear(Statement::Capo(fret), place),
            None => {
                return hear_as(discourse, ["capo", "cejilla"], line, words, &|s| {
                    matches!(s, Statement::Capo(_))
                });
            }
        },
        "tempo" => {
            return hear_as(discourse, ["tempo", "tempo"], line, words, &|s| {
                matches!(s, Statement::Tempo(_))
            });
        }
        "key" => {
            return hear_as(discourse, ["key", "tono"], line, words, &|s| {
                matches!(s, Statement::Key(_))
            });
        }
        "accents" => {
            let is_accents = |s: &Statement| matches!(s, Statement::Accents(_));
            return hear_as(discourse, ["accents", "acentos"], line, words, &is_accents);
        }
        _ => {}
    }
    true
}

fn is_palo(statement: &Statement) -> bool {
    matches!(statement, Statement::Palo(_))
}

/// The statements of one kind that the forms of the prose read in some words.
fn heard(context: &Context, text: &str, words: &Lexicon, wanted: &dyn Fn(&Statement) -> bool) -> Vec<Statement> {
    let tokens = Tokens::of(tokens(text, context.language, words));
    let context = Context {
        typed: true,
        ..Context::clone(context)
    };
    let asked = Asked {
        tokens: &tokens,
        says: tokens.says,
        names: names_in(&tokens, &context),
        context: &context,
        previous: &Tokens::default(),
        in_pattern: false,
        fresh_variation: false,
        opens_line: true,
        opening: true,
        text,
    };
    let statements = asked.statements().into_iter().map(|located| located.statement);
    statements.filter(|statement| wanted(statement)).collect()
}

/// Hears the value as the prose would say it, "tempo 112-124": in the note's language, or else in the other one.
/// `leads` are the words in front in English and in Spanish.
fn hear_as(
    discourse: &mut Discourse,
    leads: [&str; 2],
    line: &HeadLine,
    words: &Lexicon,
    wanted: &dyn Fn(&Statement) -> bool,
) -> bool {
    let [english, spanish] = leads;
    let (lead, other, other_lead) = match discourse.context.language {
        Language::English => (english, Language::Spanish, spanish),
        Language::Spanish => (spanish, Language::English, english),
    };
    let mut found = heard(&discourse.context, &format!("{lead} {}", line.value), words, wanted);
    if found.is_empty() {
        let context = Context {
            language: other,
            ..Context::clone(&discourse.context)
        };
        found = heard(
            &context,
            &format!("{other_lead} {}", line.value),
            lexicon(other),
            wanted,
        );
    }
    let understood = !found.is_empty();
    for statement in found {
        discourse.hear(statement, line.place);
    }
    understood
}

/// `4`, `12 counts`, `3/4`, `12, we come in on 12`.
fn meter(discourse: &mut Discourse, line: &HeadLine, words: &Lexicon) -> bool {
    let beats = first_number(&line.value).filter(|beats| (1..=24).contains(beats));
    let Some(beats) = beats else {
        return hear_as(discourse, ["count", "compás de"], line, words, &|s| {
            matches!(s, Statement::Beats(_))
        });
    };
    discourse.hear(Statement::Beats(beats), line.place);
    let starts = heard(&discourse.context, &line.value, words, &|s| {
        matches!(s, Statement::First(_))
    });
    for start in starts {
        discourse.hear(start, line.place);
    }
    true
}

/// `2`, `2nd fret`, `traste 2`, `none`.
fn capo(value: &str) -> Option<u8> {
    let folded = crate::text::fold(value).text;
    let off = [
        "no",
        "none",
        "off",
        "without",
        "sin",
        "ninguna",
        "no capo",
        "sin cejilla",
        "-",
    ];
    if off.contains(&folded.trim()) {
        return Some(0);
    }
    first_number(value).and_then(|fret| u8::try_from(fret).ok())
}

fn first_number(value: &str) -> Option<i64> {
    let digits = |letter: char| letter.is_ascii_digit();
    let from = value.get(value.find(digits)?..)?;
    let end = from.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(from.len());
    from.get(..end)?.parse().ok()
}

/// Names parted by commas.
fn names(value: &str) -> impl Iterator<Item = &str> {
    value.split([',', ';']).map(str::trim).filter(|name| !name.is_empty())
}

/// `tangos.wav (1:00)`: the address, and the length in brackets behind it.
fn recording(value: &str) -> (&str, Option<ClockTime>) {
    let cut = value
        .trim_end()
        .strip_suffix(')')
        .and_then(|open| open.rsplit_once('('))
        .and_then(|(address, length)| Some((address.trim_end(), ClockTime::parse(length.trim())?)));
    match cut {
        Some((address, length)) if !address.is_empty() => (address, Some(length)),
        _ => (value, None),
    }
}

/// `D A D G B E` from the sixth string up, `drop D`, `6 re`, `6ª en re, 3ª en fa#`, `standard`.
fn tuning(value: &str, language: Language, words: &Lexicon) -> Option<[u8; 6]> {
    let folded = crate::text::fold(value).text;
    if folded.starts_with("stand") || folded.starts_with("estandar") || folded.starts_with("normal") {
        return Some(STANDARD);
    }
    let tokens = tokens(value, language, words);
    let mut named: Vec<(Option<usize>, NoteName)> = Vec::new();
    let mut string = None;
    let mut index = 0;
    while let Some(token) = tokens.get(index) {
        let number = token.number.or(token.ordinal).filter(|number| (1..=6).contains(number));
        let glued = token.word.strip_prefix('s').and_then(|digit| digit.parse::<i64>().ok());
        if let Some(number) = number.or(glued.filter(|number| (1..=6).contains(number))) {
            string = usize::try_from(number - 1).ok();
        } else if let Some((name, taken)) = note_name(&tokens, index) {
            named.push((string.take(), name));
            index += taken;
            continue;
        }
        index += 1;
    }
    let mut strings = STANDARD;
    let all = named.len() == 6 && named.iter().all(|(string, _)| string.is_none());
    for (order, (string, name)) in named.iter().enumerate() {
        let string = string.unwrap_or(if all { 5 - order } else { 5 });
        let open = strings.get_mut(string)?;
        *open = nearest(*open, *name);
    }
    (!named.is_empty()).then_some(strings)
}

/// A note's name at a token, sharps and flats behind it included, and how many tokens it takes.
fn note_name(tokens: &[Token], index: usize) -> Option<(NoteName, usize)> {
    let token = tokens.get(index)?;
    let spelled = SOLFA
        .iter()
        .find(|(name, _)| *name == token.word)
        .map(|(_, letter)| *letter);
    let mut letters = token.raw.chars();
    let first = letters.next()?;
    let rest: String = letters.collect();
    let plain = ('A'..='G').contains(&first) && matches!(rest.as_str(), "" | "b");
    let letter = spelled.or(plain.then_some(first))?;
    let flat = rest == "b" && spelled.is_none();
    let behind = tokens.get(index + 1);
    let mark = |signs: [&str; 4]| behind.is_some_and(|token| signs.contains(&token.word.as_str()));
    if mark(["#", "♯", "sharp", "sostenido"]) {
        return Some((NoteName::new(letter, 1), 2));
    }
    if mark(["b", "♭", "flat", "bemol"]) {
        return Some((NoteName::new(letter, -1), 2));
    }
    Some((NoteName::new(letter, if flat { -1 } else { 0 }), 1))
}

/// The pitch of this name that is nearest to the string's usual one; the lower of two.
fn nearest(open: u8, name: NoteName) -> u8 {
    let up = (i16::from(name.pitch_class()) - i16::from(open % 12)).rem_euclid(12);
    let step = if up < 6 { up } else { up - 12 };
    u8::try_from(i16::from(open) + step).unwrap_or(open)
}

/// Conflicts get the words that stand at their places.
pub fn quote_conflicts(lesson: &mut Lesson, folder: &Folder, note: &Note) {
    let words = |place: Place| {
        let file = folder.files.get(place.file.0 as usize);
        let written = file.map_or("", |file| file.slice(place.span));
        as_written(note, place).unwrap_or(written).trim().to_owned()
    };
    for conflict in &mut lesson.conflicts {
        if conflict.first.is_empty() && conflict.second.is_empty() {
            conflict.first = words(conflict.first_place);
            conflict.second = words(conflict.place);
        }
    }
}

/// A value of the head as written, when the place is a line of the head.
fn as_written(note: &Note, place: Place) -> Option<&str> {
    let line = note.head.iter().find(|line| line.place.span == place.span)?;
    Some(line.value.as_str())
}
