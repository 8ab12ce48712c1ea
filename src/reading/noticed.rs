//! What a sentence shows beside its music: words put right, techniques named or explained.

use std::sync::LazyLock;

use regex::Regex;

use super::forms::is_musical;
use super::tokens::Token;
use crate::music::lesson::{Lesson, Misheard, Technique};
use crate::music::technique::{technique_of, techniques};
use crate::text::{Place, fold};

/// Words of the recogniser that were read as another word. A palo's name counts only where it is this lesson's.
pub fn misheard(lesson: &mut Lesson, tokens: &[Token], place: impl Fn(usize, usize) -> Place) {
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
                heard: token.raw.clone(),
                read_as: token.word.clone(),
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

/// Techniques that a sentence names, and whether it says how they are done.
pub fn techniques_named(lesson: &mut Lesson, tokens: &[Token], place: impl Fn(usize, usize) -> Place) {
    let mut said = String::new();
    let mut starts: Vec<(usize, usize)> = Vec::new();
    for (index, token) in tokens.iter().enumerate() {
        said.push(' ');
        starts.push((said.len(), index));
        said.push_str(&token.word);
    }
    said.push(' ');
    let explained = HOW.as_ref().is_some_and(|how| how.is_match(&said));
    let spanish = lesson.language == "es";
    for entry in techniques() {
        let others = if spanish { &entry.also.es } else { &entry.also.en };
        let names = [&entry.name.en, &entry.name.es].into_iter().chain(others);
        let found = names.filter_map(|name| {
            let name = fold(name).text.replace('-', " ");
            let ordinary = ORDINARY.contains(&name.as_str());
            let at = said.find(&format!(" {name} ")).filter(|_| !ordinary)? + 1;
            let token = starts
                .iter()
                .rev()
                .find(|(start, _)| *start <= at)
                .map(|(_, index)| *index)?;
            tokens.get(token)
        });
        if let Some(token) = found.min_by_key(|token| token.start) {
            keep(lesson, &entry.id, explained, place(token.start, token.end));
        }
    }
}

/// Techniques that the strokes of the lesson are.
pub fn techniques_played(lesson: &mut Lesson) {
    let strokes = lesson.patterns.iter().flat_map(|pattern| &pattern.strokes);
    let played: Vec<(String, Place)> = strokes
        .filter_map(|stroke| technique_of(stroke.action).map(|entry| (entry.id.clone(), stroke.place)))
        .collect();
    for (id, place) in played {
        keep(lesson, &id, false, place);
    }
    lesson.techniques.sort_by_key(|technique| technique.place);
}

/// One entry a technique: the first use, or where it is explained.
fn keep(lesson: &mut Lesson, id: &str, explained: bool, place: Place) {
    match lesson.techniques.iter_mut().find(|known| known.id == id) {
        Some(known) if explained && !known.explained => {
            known.explained = true;
            known.place = place;
        }
        Some(_) => {}
        None => lesson.techniques.push(Technique {
            id: id.to_owned(),
            explained,
            place,
        }),
    }
}
