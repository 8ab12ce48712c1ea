//! A title for a lesson whose head gives none.

use super::own_palos::OwnPalos;
use crate::intake::{Folder, Note, NoteKind};
use crate::music::lesson::{Lesson, Said};

/// The longest title, in letters.
const LONGEST: usize = 60;

/// The first line of a typed note; for a transcript, or a first line that is music, the palo's name in good spelling.
pub fn title(folder: &Folder, own_palos: &OwnPalos, note: &Note, lesson: &Lesson) -> Option<Said<String>> {
    let typed = note.kind == NoteKind::Typed;
    typed
        .then(|| first_line(folder, note))
        .flatten()
        .or_else(|| palo_name(own_palos, lesson))
}

fn first_line(folder: &Folder, note: &Note) -> Option<Said<String>> {
    let cue = note.cues.iter().find(|cue| !cue.text.trim().is_empty())?;
    let start = cue.text.len() - cue.text.trim_start().len();
    let line = cue.text.get(start..)?.lines().next()?;
    let stops = [". ", "; ", ": ", " (", " - ", " – "];
    let end = stops
        .iter()
        .filter_map(|stop| line.find(stop))
        .min()
        .unwrap_or(line.len());
    let sentence = line.get(..end)?.trim_end_matches(['.', ',', ':', ' ', '#', '*']);
    let short = match sentence.find(", ") {
        Some(comma) if sentence.chars().count() > LONGEST => sentence.get(..comma)?,
        _ => sentence,
    };
    let musical = short.contains(['=', '|', '/']) || short.starts_with(|letter: char| !letter.is_alphabetic());
    let letters = short.chars().count();
    if musical || !(3..=LONGEST).contains(&letters) {
        return None;
    }
    let file = folder.files.get(cue.file.0 as usize)?;
    let place = file.place(cue.source_span(start, start + short.len()), cue.time_at(start));
    Some(Said {
        value: capitalised(short),
        place,
        implied: Some("the first line of the note".to_owned()),
    })
}

fn palo_name(own_palos: &OwnPalos, lesson: &Lesson) -> Option<Said<String>> {
    let palo = lesson.palo.as_ref()?;
    let name = own_palos.find(&palo.value)?.name.of(&lesson.language);
    Some(Said {
        value: capitalised(name),
        place: palo.place,
        implied: Some("the palo".to_owned()),
    })
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}
