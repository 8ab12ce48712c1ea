//! A lesson read from a transcript, written out for its teacher: what was understood, beside its time, and what is open.

use crate::music::lesson::{Lesson, Said, Untold};
use crate::music::pattern::{Claim, ClaimAbout, Pattern, Role};
use crate::music::stroke::{Action, Stroke};
use crate::text::Place;

use super::spelling::quoted;
use super::write::{Detail, page};
use super::write_pattern::is_single_note;

/// The draft of a note: [`write`](super::write) without the record of the reading, with its questions asked.
///
/// Reading it back gives the lesson of [`with_questions`], but for that record.
pub fn draft(lesson: &Lesson) -> String {
    let notice = if lesson.language == "es" { NOTICE_ES } else { NOTICE };
    page(&with_questions(lesson), Detail::Draft, notice)
}

const NOTICE: &[&str] = &[
    "A draft to go on writing in. Lines that begin with // are for you alone.",
    "~ follows what was not said but understood, and gives the reason. A ? in front asks: answer it above, then take it out.",
    "The time at the right is when it was said.",
];

const NOTICE_ES: &[&str] = &[
    "Un borrador para seguir escribiendo. Las líneas que empiezan por // son solo para usted.",
    "~ sigue a lo que no se dijo pero se entiende, con el motivo. Un ? delante pregunta: conteste arriba y bórrelo.",
    "La hora de la derecha es cuando se dijo.",
];

/// The lesson with a question for each thing that its text leaves open or says twice differently.
pub fn with_questions(lesson: &Lesson) -> Lesson {
    let spanish = lesson.language == "es";
    let mut questions = lesson.questions.clone();
    let mut ask = |place: Place, question: String| {
        if !questions.iter().any(|known| known.value == question) {
            questions.push(Said::new(question, place));
        }
    };
    for open in open_questions(lesson) {
        ask(open.place, open.value);
    }
    for unread in lesson.unread.iter().filter(|unread| unread.musical) {
        let words = quoted(&unread.text);
        let question = if spanish {
            format!("no se ha entendido: {words}")
        } else {
            format!("not understood: {words}")
        };
        ask(unread.place, question);
    }
    for conflict in &lesson.conflicts {
        let (first, second) = (quoted(&conflict.first), quoted(&conflict.second));
        let or = if spanish { "o" } else { "or" };
        ask(conflict.place, format!("{}: {first} {or} {second}?", conflict.about));
    }
    questions.sort_by_key(|question| {
        let place = question.place;
        (place.line == 0, place.file, place.span.start)
    });
    Lesson {
        questions,
        ..lesson.clone()
    }
}

/// What the patterns leave open and the lesson does not ask yet: sums that do not come out, counts and strings that were not said.
pub fn open_questions(lesson: &Lesson) -> Vec<Said<String>> {
    let spanish = lesson.language == "es";
    let mut questions: Vec<Said<String>> = Vec::new();
    questions.extend(lesson.untold.iter().map(|untold| untold_question(untold, spanish)));
    for pattern in &lesson.patterns {
        let claims = pattern.claims.iter();
        let claims = claims.filter_map(|claim| Some((claim.place, claim_question(claim, spanish)?)));
        let span = span_question(pattern, spanish).map(|question| (pattern.place, question));
        let asked = claims.chain(span).chain(string_question(pattern, spanish));
        for (place, question) in asked {
            let mut known = lesson.questions.iter().chain(&questions);
            if !known.any(|known| known.value == question) {
                questions.push(Said::new(question, place));
            }
        }
    }
    questions
}

fn untold_question(untold: &Untold, spanish: bool) -> Said<String> {
    let counts = untold.span;
    let question = if spanish {
        format!("una variación sustituye a {counts}: ¿qué se toca ahí?")
    } else {
        format!("a variation takes the place of {counts}: what is played there?")
    };
    Said::new(question, untold.place)
}

fn claim_question(claim: &Claim, spanish: bool) -> Option<String> {
    match &claim.about {
        ClaimAbout::Divided {
            from,
            counts,
            per_count,
            given,
        } => {
            let room = usize::try_from(counts.checked_mul(*per_count)?).ok()?;
            let wrong = *given != room;
            let question = match (spanish, *given < room) {
                (false, true) => {
                    format!("{from}: there is room for {room} notes, {given} are named: which are missing?")
                }
                (false, false) => {
                    format!("{from}: there is room for {room} notes, {given} are named: which are too many?")
                }
                (true, true) => format!("{from}: caben {room} notas y se nombran {given}: ¿cuáles faltan?"),
                (true, false) => format!("{from}: caben {room} notas y se nombran {given}: ¿cuáles sobran?"),
            };
            wrong.then_some(question)
        }
        ClaimAbout::Numbered { at, said, given } => {
            let question = if spanish {
                format!("{at}: se anuncian {said} y se nombran {given}: ¿cuántos son?")
            } else {
                format!("{at}: {said} are announced, {given} are named: how many are there?")
            };
            (said != given).then_some(question)
        }
        ClaimAbout::Outside { at, span } => Some(if spanish {
            format!(
                "{at} queda fuera de {}-{}: ¿sigue más allá, o es otro tiempo?",
                span.first, span.last
            )
        } else {
            format!(
                "{at} lies outside {}-{}: does it run on, or is another count meant?",
                span.first, span.last
            )
        }),
        ClaimAbout::OpenAndFretted { at, string, fret } => Some(if spanish {
            format!("{at}: ¿la cuerda {string} suena al aire o en el traste {fret}?")
        } else {
            format!("{at}: is string {string} open, or stopped at fret {fret}?")
        }),
        ClaimAbout::Covers { .. }
        | ClaimAbout::Recited { .. }
        | ClaimAbout::NamedAgain { .. }
        | ClaimAbout::Passage { .. } => None,
    }
}

fn span_question(pattern: &Pattern, spanish: bool) -> Option<String> {
    if pattern.span.is_some() {
        return None;
    }
    let name = quoted(&pattern.name);
    Some(match (pattern.role == Role::Core, spanish) {
        (true, false) => format!("which counts does {name} cover?"),
        (false, false) => format!("which counts does {name} take the place of?"),
        (true, true) => format!("¿qué tiempos cubre {name}?"),
        (false, true) => format!("¿qué tiempos cambia {name}?"),
    })
}

/// One question for all the single notes of a pattern whose string was not said.
fn string_question(pattern: &Pattern, spanish: bool) -> Option<(Place, String)> {
    let open: Vec<&Stroke> = pattern
        .strokes
        .iter()
        .filter(|stroke| is_single_note(stroke.action) && stroke.strings.is_empty())
        .filter(|stroke| stroke.action != Action::Tremolo)
        .collect();
    let place = open.first()?.place;
    let moments: Vec<String> = open
        .iter()
        .map(|stroke| match stroke.note {
            Some(note) => format!("{} {note}", stroke.at),
            None => stroke.at.to_string(),
        })
        .collect();
    let moments = moments.join(", ");
    Some((
        place,
        if spanish {
            format!("¿en qué cuerda? {moments}")
        } else {
            format!("which string? {moments}")
        },
    ))
}
