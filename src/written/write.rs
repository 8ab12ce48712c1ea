//! A lesson written out, one thing a line, in one obvious spelling.

use crate::music::chord::{Chord, Fingered};
use crate::music::lesson::{Lesson, Said};
use crate::music::pattern::{Pattern, Role};
use crate::text::{ClockTime, Place};

use super::spelling::{duration, list_entry, plain_or_quoted, quoted, tuning_text};
use super::write_pattern::pattern_lines;
use super::write_remarks::{Remarks, record, remarks};

/// A line before its time and mark are set beside it.
#[derive(Debug, Clone, Default)]
pub struct Line {
    pub text: String,
    /// The rule, when all that the line says is implied by it.
    pub implied: Option<String>,
    pub time: Option<ClockTime>,
}

impl Line {
    pub fn new(text: impl Into<String>, place: Place) -> Self {
        Self {
            text: text.into(),
            implied: None,
            time: place.time,
        }
    }

    pub fn said<T>(text: impl Into<String>, said: &Said<T>) -> Self {
        Self {
            text: text.into(),
            implied: said.implied.clone(),
            time: said.place.time,
        }
    }
}

/// What is left out of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// All that the lesson holds.
    All,
    /// What a teacher goes on writing in: not the record of how the text was read.
    Draft,
}

/// The column that times stand in, where lines are short enough.
const TIME_COLUMN: usize = 56;

/// Writes a lesson; [`read`](super::read) gives the same lesson back (but for places, which are those of this text).
pub fn write(lesson: &Lesson) -> String {
    page(lesson, Detail::All, &[])
}

/// The page, section by section; `notice` stands below the head, as lines for the people who read it.
pub fn page(lesson: &Lesson, detail: Detail, notice: &[&str]) -> String {
    let mut sections = vec![
        head(lesson),
        notice.iter().map(|text| bare(format!("// {text}"))).collect(),
    ];
    // Above the first blank line stands the head, whose lines have neither time nor mark.
    if sections.iter().all(Vec::is_empty) {
        sections.push(vec![Line::default()]);
    }
    sections.push(music(lesson));
    sections.push(chords(lesson));
    let mut remarks_by_section = Remarks::of(lesson);
    let core = lesson.patterns.iter().position(|pattern| pattern.role == Role::Core);
    for (index, pattern) in lesson.patterns.iter().enumerate() {
        let mut lines = pattern_lines(pattern, detail);
        if core == Some(index) {
            lines.splice(1..1, repeats(lesson));
        }
        lines.extend(remarks_by_section.take(index));
        sections.push(lines);
    }
    if core.is_none() {
        sections.push(repeats(lesson));
    }
    let mut rest = remarks_by_section.rest();
    let questions = rest.split_off(
        rest.iter()
            .position(|line| line.text.starts_with('?'))
            .unwrap_or(rest.len()),
    );
    rest.extend(remarks(lesson, detail));
    sections.push(rest);
    sections.push(questions);
    if detail == Detail::All {
        sections.push(record(lesson));
    }
    let pages: Vec<String> = sections
        .iter()
        .filter(|lines| !lines.is_empty())
        .map(|lines| lines.iter().map(set).collect())
        .collect();
    match pages.as_slice() {
        [blank] if blank == "\n" => String::new(),
        [blank, rest @ ..] if blank == "\n" => format!("\n{}", rest.join("\n")),
        pages => pages.join("\n"),
    }
}

/// The line with its mark and, at the right, its time.
fn set(line: &Line) -> String {
    let mut text = line.text.clone();
    if let Some(rule) = &line.implied {
        text.push_str(" ~ ");
        text.push_str(&plain_or_quoted(rule));
    }
    if let Some(time) = line.time {
        let width = text.chars().count();
        text.extend(std::iter::repeat_n(' ', TIME_COLUMN.saturating_sub(width).max(2)));
        text.push_str(&format!("[{time}]"));
    }
    text.push('\n');
    text
}

/// Who and what the note is. These lines carry no time: they stand above the recording.
fn head(lesson: &Lesson) -> Vec<Line> {
    let mut lines = Vec::new();
    let text = |name: &str, said: &Option<Said<String>>| {
        let said = said.as_ref()?;
        Some(untimed(Line::said(
            format!("{name}: {}", plain_or_quoted(&said.value)),
            said,
        )))
    };
    lines.extend(text("title", &lesson.title));
    if !lesson.id.is_empty() {
        lines.push(bare(format!("lesson: {}", plain_or_quoted(&lesson.id))));
    }
    if !lesson.language.is_empty() {
        lines.push(bare(format!("language: {}", lesson.language)));
    }
    if let Some(order) = &lesson.order {
        lines.push(untimed(Line::said(format!("order: {}", order.value), order)));
    }
    let needs: Vec<(String, &Said<String>)> = lesson
        .needs
        .iter()
        .map(|need| (list_entry(&need.value), need))
        .collect();
    lines.extend(list_line("needs: ", ", ", &needs).map(untimed));
    lines.extend(text("recording", &lesson.recording));
    lines.extend(text("reviewed", &lesson.reviewed));
    if !lesson.people.is_empty() {
        let names: Vec<String> = lesson.people.iter().map(|name| list_entry(name)).collect();
        lines.push(bare(format!("people: {}", names.join(", "))));
    }
    lines
}

fn untimed(line: Line) -> Line {
    Line { time: None, ..line }
}

/// The palo, its compás, key and tempo.
fn music(lesson: &Lesson) -> Vec<Line> {
    let meter = &lesson.meter;
    let mut lines = Vec::new();
    if let Some(palo) = &lesson.palo {
        lines.push(Line::said(format!("palo: {}", plain_or_quoted(&palo.value)), palo));
    }
    if let Some(beats) = &meter.beats {
        lines.push(Line::said(format!("count: {}", beats.value), beats));
    }
    if let Some(first) = &meter.first {
        lines.push(Line::said(format!("first count: {}", first.value), first));
    }
    if let Some(lengths) = &meter.lengths {
        let figures: Vec<String> = lengths.value.iter().map(ToString::to_string).collect();
        lines.push(Line::said(format!("lengths: {}", figures.join(" ")), lengths));
    }
    let accents: Vec<_> = meter
        .accents
        .iter()
        .map(|accent| (accent.value.to_string(), accent))
        .collect();
    lines.extend(list_line("accents: ", " ", &accents));
    if let Some(tempo) = &lesson.tempo {
        let (low, high) = (tempo.value.low, tempo.value.high);
        let figure = if low == high {
            low.to_string()
        } else {
            format!("{low}-{high}")
        };
        lines.push(Line::said(format!("tempo: {figure}"), tempo));
    }
    if let Some(key) = &lesson.key {
        let mode = format!("{:?}", key.value.mode).to_lowercase();
        lines.push(Line::said(format!("key: {} {mode}", key.value.tonic), key));
    }
    if let Some(capo) = &lesson.capo {
        lines.push(Line::said(format!("capo: {}", capo.value), capo));
    }
    if let Some(tuning) = &lesson.tuning {
        lines.push(Line::said(format!("tuning: {}", tuning_text(tuning.value)), tuning));
    }
    if let Some(length) = lesson.recording_length {
        lines.push(bare(format!("recording length: {}", duration(length))));
    }
    lines
}

/// Several values on one line: one mark for all when they share it, else a mark on each.
fn list_line<T>(name: &str, between: &str, entries: &[(String, &Said<T>)]) -> Option<Line> {
    let (_, first) = entries.first()?;
    let shared = entries.iter().all(|(_, said)| said.implied == first.implied);
    let written: Vec<String> = entries
        .iter()
        .map(|(text, said)| match &said.implied {
            Some(rule) if !shared => format!("{text}{}", super::spelling::close_mark(rule)),
            _ => text.clone(),
        })
        .collect();
    Some(Line {
        text: format!("{name}{}", written.join(between)),
        implied: first.implied.clone().filter(|_| shared),
        time: entries.iter().find_map(|(_, said)| said.place.time),
    })
}

fn chords(lesson: &Lesson) -> Vec<Line> {
    lesson
        .chords
        .iter()
        .map(|chord| Line {
            implied: chord.implied.clone(),
            ..Line::new(chord_text(chord), chord.shape_place.unwrap_or(chord.place))
        })
        .collect()
}

fn chord_text(chord: &Chord) -> String {
    let shape = chord.shape.map_or("?".to_owned(), |shape| shape.to_string());
    let fingers: Vec<String> = chord.fingers.iter().map(fingered_text).collect();
    let fingers = if fingers.is_empty() {
        String::new()
    } else {
        format!(" ({})", fingers.join(", "))
    };
    format!("{} = {shape}{fingers}", chord.name)
}

fn fingered_text(fingered: &Fingered) -> String {
    let Fingered {
        finger,
        string,
        fret,
        to_string,
    } = fingered;
    let lies_over = if string == to_string {
        String::new()
    } else {
        format!("-{to_string}")
    };
    format!("LH{finger} s{string}{lies_over} f{fret}")
}

fn repeats(lesson: &Lesson) -> Vec<Line> {
    let line = lesson
        .repeats
        .as_ref()
        .map(|repeats| Line::said(format!("{} vueltas", repeats.value), repeats));
    line.into_iter().collect()
}

pub fn bare(text: String) -> Line {
    Line {
        text,
        ..Line::default()
    }
}

/// The name that a pattern has when its line gives none.
pub fn role_name(role: Role) -> &'static str {
    match role {
        Role::Core => "core",
        Role::Variation => "variation",
        Role::Falseta => "falseta",
        Role::Llamada => "llamada",
        Role::Remate => "remate",
        Role::Cierre => "cierre",
    }
}

/// The opening line: `core 1-12`, `variation "thumb" for 1-6, runs on to 13`.
pub fn opening(pattern: &Pattern) -> Line {
    let mut text = role_name(pattern.role).to_owned();
    if pattern.name != text {
        text.push(' ');
        text.push_str(&quoted(&pattern.name));
    }
    if let Some(span) = pattern.span {
        let replaces = if pattern.role == Role::Core { "" } else { "for " };
        text.push_str(&format!(" {replaces}{}-{}", span.first, span.last));
    }
    if let Some(at) = pattern.runs_on {
        text.push_str(&format!(", runs on to {at}"));
    }
    Line::new(text, pattern.place)
}
