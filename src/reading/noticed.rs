//! What a sentence shows beside its music: words put right, techniques named or explained.

use std::sync::LazyLock;

use regex::Regex;

use super::forms::is_musical;
use super::listed::{all_of, first_word};
use super::says::Kind;
use super::tokens::{Token, Tokens};
use crate::music::glossary::glossary;
use crate::music::lesson::{Lesson, Misheard, Said, Technique};
use crate::music::technique::{technique_of, techniques};
use crate::text::{ClockTime, Place, QuickMap, fold};

/// Words of the recogniser that were read as another word. A palo's name counts only where it is this lesson's.
pub fn misheard(lesson: &mut Lesson, tokens: &Tokens, place: impl Fn(usize, usize) -> Place) {
    if !tokens.says.has(Kind::Misheard) {
        return;
    }
    let music = is_musical(tokens);
    for token in tokens.iter().filter(|token| token.misheard) {
        let heard = fold(&token.raw).text;
        let palo = crate::music::palo::find(&token.word.replace(' ', "-"));
        let ours = lesson.palo.as_ref().map(|palo| palo.value.as_str());
        let counts = match palo {
            Some(palo) => ours == Some(palo.slug.as_str()) && !palo.said.iter().any(|said| fold(said).text == heard),
            None => music,
        };
        let plural = heard.trim_end_matches('s') == token.word.trim_end_matches('s');
        if counts && !plural {
            lesson.misheard.push(Misheard {
                heard: token.raw.to_string(),
                read_as: token.word.to_string(),
                place: place(token.start, token.end),
            });
        }
    }
}

static HOW: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        "how (it|this|that) (is|'s) (done|played|made)|how (you|we|to) (do|play|make)|the way (you|we|to) \
         |(is|it's) when (you|the|we)|is what (you|we) call|(it|this) means|it's called|is called\
         |(como|asi) se hace|consiste en|es cuando|para hacer (el|la|un|una)|se llama",
    )
    .ok()
});

/// Names that are also ordinary words say nothing of a technique.
const ORDINARY: [&str; 20] = [
    "tap",
    "knock",
    "fan",
    "thumb",
    "pulgar",
    "drag",
    "damp",
    "hammer",
    "pull",
    "bar",
    "redondo",
    "tirar",
    "apoyar",
    "apagar",
    "martillo",
    "tiron",
    "pinch",
    "slur",
    "slurs",
    "stopped strings",
];

/// A technique's name, folded, and the place of the technique in the table.
type Name = (String, usize);

/// Names of techniques by their first word, for a language.
struct Names {
    english: QuickMap<Vec<Name>>,
    spanish: QuickMap<Vec<Name>>,
}

static NAMES: LazyLock<Names> = LazyLock::new(|| Names {
    english: names(|entry| &entry.also.en),
    spanish: names(|entry| &entry.also.es),
});

fn names(
    others: impl Fn(&'static crate::music::technique::TechniqueEntry) -> &'static Vec<String>,
) -> QuickMap<Vec<Name>> {
    let mut names: QuickMap<Vec<Name>> = QuickMap::default();
    for (index, entry) in techniques().iter().enumerate() {
        for name in [&entry.name.en, &entry.name.es].into_iter().chain(others(entry)) {
            let name = fold(name).text.replace('-', " ");
            if !ORDINARY.contains(&name.as_str()) {
                let first = first_word(&name).to_owned();
                names.entry(first).or_default().push((name, index));
            }
        }
    }
    names
}

/// The words of the tables that are asked here.
pub fn words() -> impl Iterator<Item = (&'static str, Kind)> {
    let techniques = NAMES.english.keys().chain(NAMES.spanish.keys());
    let techniques = all_of(Kind::Technique, techniques.map(String::as_str));
    let terms = all_of(Kind::Term, TERMS.keys().map(String::as_str));
    techniques.chain(terms).chain(all_of(Kind::Sends, SENDS.into_iter()))
}

/// Techniques that a sentence names, and whether it says how they are done.
pub fn techniques_named(lesson: &mut Lesson, tokens: &Tokens, place: impl Fn(usize, usize) -> Place) {
    terms_named(lesson, tokens, &place);
    moments_named(lesson, tokens, &place);
    if !tokens.says.has(Kind::Technique) {
        return;
    }
    let names = if lesson.language == "es" {
        &NAMES.spanish
    } else {
        &NAMES.english
    };
    let listed = tokens.iter().filter(|token| token.has(Kind::Technique));
    let mut words = listed.flat_map(|token| token.word.split(' '));
    if !words.any(|word| names.contains_key(word)) {
        return;
    }
    let said = said(tokens);
    let mut found: Vec<(usize, &Token)> = Vec::new();
    let mut at = 1;
    for token in tokens.iter() {
        if !token.has(Kind::Technique) {
            at += token.word.len() + 1;
            continue;
        }
        for word in token.word.split(' ') {
            let rest = said.get(at..).unwrap_or("");
            let here = names.get(word).into_iter().flatten();
            found.extend(
                here.filter(|(name, _)| {
                    rest.strip_prefix(name.as_str())
                        .is_some_and(|rest| rest.starts_with(' '))
                })
                .map(|(_, index)| (*index, token)),
            );
            at += word.len() + 1;
        }
    }
    if found.is_empty() {
        return;
    }
    let explained = explains(&said);
    found.sort_by_key(|(index, token)| (*index, token.start));
    found.dedup_by_key(|(index, _)| *index);
    for (index, token) in found {
        if let Some(entry) = techniques().get(index) {
            keep(
                &mut lesson.techniques,
                &entry.id,
                explained,
                place(token.start, token.end),
            );
        }
    }
}

/// The words of a sentence, a space around each.
fn said(tokens: &[Token]) -> String {
    let mut said = String::with_capacity(tokens.len() * 6);
    for token in tokens {
        said.push(' ');
        said.push_str(&token.word);
    }
    said.push(' ');
    said
}

fn explains(said: &str) -> bool {
    HOW.as_ref().is_some_and(|how| how.is_match(said))
}

/// Words of the trade by the forms that they are written in, folded; those that everybody knows are left out.
static TERMS: LazyLock<QuickMap<&'static str>> = LazyLock::new(|| {
    let known = ["compás", "aire", "cante", "palo", "toque", "tono", "ritmo", "vuelta"];
    let entries = glossary().iter().filter(|entry| !known.contains(&entry.term.as_str()));
    let forms = entries.flat_map(|entry| {
        let written = std::iter::once(&entry.term).chain(&entry.also);
        written.map(|form| (fold(form).text, entry.term.as_str()))
    });
    forms.filter(|(form, _)| !form.contains(' ')).collect()
});

/// Words of the trade that a sentence uses, and whether it says what they mean.
fn terms_named(lesson: &mut Lesson, tokens: &Tokens, place: &impl Fn(usize, usize) -> Place) {
    if !tokens.says.has(Kind::Term) {
        return;
    }
    let mut explained = None;
    for token in tokens.iter().filter(|token| token.has(Kind::Term)) {
        if let Some(term) = TERMS.get(token.word.as_str()) {
            let explained = *explained.get_or_insert_with(|| explains(&said(tokens)));
            keep(&mut lesson.terms, term, explained, place(token.start, token.end));
        }
    }
}

/// Words that send somebody to a moment of a recording; a clock on the wall is none.
const SENDS: [&str; 16] = [
    "minute",
    "minuto",
    "explained",
    "explicado",
    "explicada",
    "explique",
    "lesson",
    "leccion",
    "recording",
    "grabacion",
    "video",
    "went",
    "went through",
    "goes back",
    "vuelva",
    "ensene",
];

/// "I went through it at 3:56", "explicado en el minuto 9:20".
fn moments_named(lesson: &mut Lesson, tokens: &Tokens, place: &impl Fn(usize, usize) -> Place) {
    if !tokens.says.has(Kind::Sends) {
        return;
    }
    let times = tokens.windows(3).filter_map(|three| match three {
        [minutes, colon, seconds] if colon.is_mark(':') && seconds.joined && seconds.raw.len() == 2 => {
            let at = ClockTime::parse(&format!("{}:{}", minutes.raw, seconds.raw))?;
            Some((at, minutes.start, seconds.end))
        }
        _ => None,
    });
    let mut times = times.peekable();
    if times.peek().is_none() || !tokens.iter().any(|token| SENDS.contains(&token.word.as_str())) {
        return;
    }
    for (at, start, end) in times {
        lesson.moments.push(Said::new(at, place(start, end)));
    }
}

/// Techniques that the strokes of the lesson are.
pub fn techniques_played(lesson: &mut Lesson) {
    let strokes = lesson.patterns.iter().flat_map(|pattern| &pattern.strokes);
    let played: Vec<(String, Place)> = strokes
        .filter_map(|stroke| technique_of(stroke.action).map(|entry| (entry.id.clone(), stroke.place)))
        .collect();
    for (id, place) in played {
        keep(&mut lesson.techniques, &id, false, place);
    }
    lesson.techniques.sort_by_key(|technique| technique.place);
}

/// One entry each: the first use, or where it is explained.
fn keep(kept: &mut Vec<Technique>, id: &str, explained: bool, place: Place) {
    match kept.iter_mut().find(|known| known.id == id) {
        Some(known) if explained && !known.explained => {
            known.explained = true;
            known.place = place;
        }
        Some(_) => {}
        None => kept.push(Technique {
            id: id.to_owned(),
            explained,
            place,
        }),
    }
}
