//! Findings for people: where, the words underlined, what is wrong, why it matters, what would put it right.
//!
//! Errors and warnings are shown in full, file by file; notes take a line each; sentences that carry no music we
//! know of are only counted. Colour is added with escape codes and may be stripped: nothing depends on it.

use anstyle::{AnsiColor, Style};

use super::excerpt::excerpt;
use super::wording::number as case;
use super::wrap;
use super::{Finding, Holes, Severity, Tally, Words, file_name};
use crate::text::{FileId, Place, SourceText};

/// What the printer has to know beside the findings.
pub struct Showing<'a> {
    pub files: &'a [SourceText],
    /// Columns of the terminal.
    pub width: usize,
    /// Why a finding matters to a player, in its language.
    pub why: &'a dyn Fn(&Finding) -> Option<&'static str>,
    /// Rules that are only counted while they are notes.
    pub counted: &'a [&'a str],
}

/// The findings as text; empty when there are none. Sorted findings stay in their order.
pub fn show(findings: &[Finding], showing: &Showing) -> String {
    let mut text = String::new();
    let mut explained: Vec<&str> = Vec::new();
    for group in findings.chunk_by(|first, second| first.place.file == second.place.file) {
        let (full, notes): (Vec<&Finding>, Vec<&Finding>) =
            group.iter().partition(|finding| finding.severity > Severity::Note);
        let notes: Vec<&Finding> = notes
            .into_iter()
            .filter(|note| !showing.counted.contains(&note.rule.as_str()))
            .collect();
        for finding in full {
            let why = (showing.why)(finding).filter(|_| !explained.contains(&finding.rule.as_str()));
            explained.push(&finding.rule);
            text.push_str(&in_full(finding, why, showing));
            text.push('\n');
        }
        for note in &notes {
            text.push_str(&in_a_line(note, showing));
        }
        if !notes.is_empty() {
            text.push('\n');
        }
    }
    text
}

/// `2 errors, 1 warning and 3 notes in 2 files; 1 let stand`; empty when there is nothing to sum up.
pub fn summary(findings: &[Finding], let_stand: usize, counted: &[&str], words: &Words) -> String {
    let found = found(findings, counted, words);
    let stands = number(words, let_stand, "let_stand");
    let parts: Vec<String> = [found, stands].into_iter().flatten().collect();
    parts.join("; ")
}

fn found(findings: &[Finding], counted: &[&str], words: &Words) -> Option<String> {
    let tally = Tally::of(findings);
    let only_counted =
        |finding: &&Finding| finding.severity == Severity::Note && counted.contains(&finding.rule.as_str());
    let unread = findings.iter().filter(only_counted).count();
    let parts = [
        number(words, tally.errors, "errors"),
        number(words, tally.warnings, "warnings"),
        number(words, tally.notes - unread, "notes"),
        number(words, unread, "not_understood"),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() {
        return None;
    }
    let mut files: Vec<FileId> = findings.iter().map(|finding| finding.place.file).collect();
    files.sort();
    files.dedup();
    let in_files = format!("in_files_{}", case(files.len()));
    let holes: Holes = &[("found", &words.list(&parts)), ("n", &files.len())];
    Some(words.phrase(&in_files, holes))
}

/// `1 error`, `3 errors`; nothing where there is none.
fn number(words: &Words, count: usize, what: &str) -> Option<String> {
    let key = format!("{what}_{}", case(count));
    (count > 0).then(|| words.phrase(&key, &[("n", &count)]))
}

/// `tangos.notes.txt:9:8 (0:44)`; a finding about a whole file has no line.
fn location(place: &Place, files: &[SourceText]) -> String {
    let mut text = file_name(place.file, files).to_owned();
    if place.line > 0 {
        text.push_str(&format!(":{}:{}", place.line, place.column));
    }
    if let Some(time) = place.time {
        text.push_str(&format!(" ({time})"));
    }
    text
}

fn in_full(finding: &Finding, why: Option<&str>, showing: &Showing) -> String {
    let (bold, mark) = (Style::new().bold(), style(finding.severity));
    let location = location(&finding.place, showing.files);
    let mut text = format!("{bold}{location}{bold:#}\n");
    let words = Words::of(finding.language);
    let label = word(finding.severity, words);
    let wide = label.chars().count() + 2;
    let message = wrap::wrap(&finding.message, showing.width.saturating_sub(wide), wide);
    text.push_str(&format!("{mark}{label}{mark:#}: {bold}{message}{bold:#}\n"));
    text.push_str(&excerpts(finding, showing));
    if let Some(why) = why {
        text.push_str(&told(words, "why", why, showing.width));
    }
    if !finding.help.is_empty() {
        text.push_str(&told(words, "mend", &finding.help, showing.width));
    }
    let faint = Style::new().dimmed();
    let more = words.phrase("more", &[]);
    text.push_str(&format!(
        "{faint}  {more}: compasario check --explain {}{faint:#}\n",
        finding.rule
    ));
    text
}

/// The place and the second places, in the order of the note, each quoted once.
fn excerpts(finding: &Finding, showing: &Showing) -> String {
    let mut places: Vec<(&Place, &str, bool)> = vec![(&finding.place, "", true)];
    places.extend(finding.also.iter().map(|(place, why)| (place, why.as_str(), false)));
    places.sort_by_key(|(place, _, first)| (place.file != finding.place.file, place.file, place.span, !first));
    let mut text = String::new();
    for (place, why, main) in places {
        let Some(source) = showing.files.get(place.file.0 as usize).filter(|_| place.line > 0) else {
            continue;
        };
        if place.file != finding.place.file {
            let words = Words::of(finding.language);
            let elsewhere = words.phrase("in_file", &[("place", &location(place, showing.files))]);
            text.push_str(&format!("  {elsewhere}\n"));
        }
        let style = if main {
            style(finding.severity)
        } else {
            Style::new().dimmed()
        };
        let sign = if main { '^' } else { '-' };
        text.push_str(&excerpt(source, place, sign, why, style, showing.width));
    }
    text
}

fn told(words: &Words, label: &str, text: &str, width: usize) -> String {
    let label = format!("  {}: ", words.phrase(label, &[]));
    let wide = label.chars().count();
    format!("{label}{}\n", wrap::wrap(text, width.saturating_sub(wide), wide))
}

fn in_a_line(finding: &Finding, showing: &Showing) -> String {
    let mark = style(finding.severity);
    let label = word(finding.severity, Words::of(finding.language));
    let wide = label.chars().count() + 2;
    let location = location(&finding.place, showing.files);
    let message = format!("{location}: {}", finding.message);
    let message = wrap::wrap(&message, showing.width.saturating_sub(wide), wide);
    format!("{mark}{label}{mark:#}: {message}\n")
}

/// The severity as people read it.
pub fn word(severity: Severity, words: &Words) -> String {
    let key = match severity {
        Severity::Error => "severity_error",
        Severity::Warning => "severity_warning",
        Severity::Note => "severity_note",
    };
    words.phrase(key, &[])
}

fn style(severity: Severity) -> Style {
    let colour = match severity {
        Severity::Error => AnsiColor::Red,
        Severity::Warning => AnsiColor::Yellow,
        Severity::Note => AnsiColor::Cyan,
    };
    Style::new().bold().fg_color(Some(colour.into()))
}

/// Words broken into lines of a width.
pub fn wrap(words: &str, width: usize) -> String {
    wrap::wrap(words, width, 0)
}

/// Text that cannot steer a terminal.
pub fn printable(text: &str) -> String {
    wrap::printable(text)
}
