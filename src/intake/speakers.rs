use super::Cue;
use crate::text::fold;

/// What a transcript writes before the words of someone, folded.
const LABELS: &[&str] = &[
    "teacher",
    "student",
    "students",
    "pupil",
    "guitarist",
    "profesor",
    "profesora",
    "maestro",
    "maestra",
    "alumno",
    "alumna",
    "alumnos",
    "alumnas",
    "guitarrista",
];

/// `Teacher:` at the start of a paragraph: the label, and the bytes that it takes with the white space after it.
pub(super) fn speaker_label(text: &str) -> Option<(&str, usize)> {
    let (label, rest) = text.split_once(':')?;
    let name = label.trim();
    let folded = fold(name).text;
    let numbered = folded.trim_end_matches(|letter: char| letter.is_ascii_digit() || letter == ' ');
    if !LABELS.contains(&numbered) || !rest.starts_with(char::is_whitespace) {
        return None;
    }
    Some((name, text.len() - rest.trim_start().len()))
}

/// Moves a speaker's label from the text to `speaker`.
pub(super) fn take_speaker(cue: Cue, people: &[String]) -> Cue {
    let named = speaker_label(&cue.text).or_else(|| person_label(&cue.text, people));
    let Some((name, length)) = named else { return cue };
    let speaker = Some(name.to_owned());
    let time = cue.time;
    Cue {
        speaker,
        time,
        ..cue.part(length, cue.text.len())
    }
}

/// A name of the head's `people:` line, used as a label.
fn person_label<'a>(text: &'a str, people: &[String]) -> Option<(&'a str, usize)> {
    let (label, rest) = text.split_once(':')?;
    let name = label.trim();
    let listed = people.iter().any(|person| fold(person).text == fold(name).text);
    (listed && rest.starts_with(char::is_whitespace)).then(|| (name, text.len() - rest.trim_start().len()))
}
