use super::captions::read_captions;
use super::head::{Head, read_head};
use super::kinds::{Form, NameSays};
use super::lines::{Line, lines};
use super::plain::{guess_kind, read_plain};
use super::private::mark_private;
use super::report::Report;
use super::speakers::take_speaker;
use super::subrip::read_subrip;
use super::{Note, NoteKind, language};
use crate::findings::{Finding, Words};
use crate::text::{Language, SourceText, Span};

/// One file's text as a note. None when there is nothing in it.
pub(super) fn read_note(source: &SourceText, says: NameSays) -> (Option<Note>, Vec<Finding>) {
    let mut report = Report::new(source, words_of(source, &says));
    let all = lines(&source.text);
    let Some(first) = all.iter().position(|line| !line.is_blank()) else {
        report.warn("note-empty", Span::new(0, 0), "", &[]);
        return (None, report.findings);
    };
    let mut note = read_form(source, &says, all.get(first..).unwrap_or(&[]), &mut report);
    let people = names(&note);
    let cues = std::mem::take(&mut note.cues);
    let named = cues.into_iter().map(|cue| take_speaker(cue, &people)).collect();
    note.cues = mark_private(named, &mut report);
    note.language = says
        .language
        .or_else(|| head_language(&note, &mut report))
        .or(note.language);
    if note.cues.is_empty() {
        let end = note.head.last().map_or(Span::new(0, 0), |line| line.place.span);
        let case = if note.head.is_empty() { "" } else { "head" };
        report.warn("note-without-text", end, case, &[]);
    }
    (Some(note), report.findings)
}

/// The words for what is found in a note: in the language that its name says, or its head, or most of its words.
fn words_of(source: &SourceText, says: &NameSays) -> &'static Words {
    let line = |line: &str| {
        let (name, value) = line.split_once(':')?;
        ["language", "idioma"]
            .contains(&name.trim().to_lowercase().as_str())
            .then(|| language(value.trim()))?
    };
    let said = says.language.clone().or_else(|| source.text.lines().find_map(line));
    let spoken = said.map(|code| Language::of(&code));
    Words::of(spoken.unwrap_or_else(|| Language::of_words(source.text.lines())))
}

fn read_form(source: &SourceText, says: &NameSays, all: &[Line<'_>], report: &mut Report<'_>) -> Note {
    let mut note = Note {
        file: source.id,
        kind: says.kind.unwrap_or(NoteKind::Spoken),
        stem: says.stem.clone(),
        language: None,
        head: Vec::new(),
        cues: Vec::new(),
    };
    match says.form {
        Form::WebVtt => {
            let captions = read_captions(source.id, &source.text, all, report);
            note.head = captions.head;
            note.language = captions.language;
            note.cues = captions.cues;
        }
        Form::SubRip => {
            let Head { lines, taken } = read_head(all, report);
            note.head = lines;
            note.cues = read_subrip(source.id, &source.text, all.get(taken..).unwrap_or(&[]), report);
        }
        Form::Plain | Form::Markdown => {
            let Head { lines, taken } = read_head(all, report);
            let body = all.get(taken..).unwrap_or(&[]);
            note.kind = says.kind.unwrap_or_else(|| guess_kind(!lines.is_empty(), body));
            note.head = lines;
            note.cues = read_plain(source.id, says.form, note.kind, body, report);
        }
    }
    note
}

/// The names of the head's `people:` lines.
fn names(note: &Note) -> Vec<String> {
    let lines = note.head.iter().filter(|line| line.name == "people");
    let names = lines.flat_map(|line| line.value.split([',', ';']));
    names
        .map(|name| name.trim().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

fn head_language(note: &Note, report: &mut Report<'_>) -> Option<String> {
    let line = note.head.iter().find(|line| line.name == "language")?;
    let found = language(&line.value);
    if found.is_none() {
        report.warn("language-unknown", line.place.span, "", &[("language", &line.value)]);
    }
    found
}
