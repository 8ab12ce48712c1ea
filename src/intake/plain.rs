use super::cue_text::CueText;
use super::kinds::Form;
use super::lines::Line;
use super::report::Report;
use super::speakers::speaker_label;
use super::stamps::{Stamp, read_stamp, stamp_style, stamps_inside};
use super::{Cue, NoteKind};
use crate::text::{ClockTime, FileId, Span};

/// Middle length of a line, in letters, up to which timed lines are typed ones. Twenty seconds of speech are 250 and more.
const TYPED_LINE: usize = 100;
/// The same where no line has a time: a transcript wrapped at a page's width stays speech.
const UNTIMED_TYPED_LINE: usize = 60;

/// Typed or spoken, for a plain `.txt` whose name does not say: see the rule in the room's door.
pub(super) fn guess_kind(has_head: bool, body: &[Line<'_>]) -> NoteKind {
    let style = stamp_style(body);
    let written: Vec<&Line<'_>> = body.iter().filter(|line| !line.is_blank()).collect();
    let timed = written
        .iter()
        .filter(|line| read_stamp(line.text, style).is_some())
        .count();
    let mut lengths: Vec<usize> = written.iter().map(|line| line.text.chars().count()).collect();
    lengths.sort_unstable();
    let middle = lengths.get(lengths.len() / 2).copied().unwrap_or(0);
    let short = match timed {
        0 => middle <= UNTIMED_TYPED_LINE,
        _ => middle <= TYPED_LINE && timed * 2 >= written.len(),
    };
    if has_head || short {
        NoteKind::Typed
    } else {
        NoteKind::Spoken
    }
}

/// The cues of a plain text: paragraphs of speech, or typed lines with what stands directly below them.
pub(super) fn read_plain(
    file: FileId,
    form: Form,
    kind: NoteKind,
    body: &[Line<'_>],
    report: &mut Report<'_>,
) -> Vec<Cue> {
    let paragraphs = paragraphs(form, kind, body, report);
    let cues = paragraphs.into_iter().filter_map(|paragraph| {
        let text = match kind {
            NoteKind::Spoken => spoken_text(&paragraph.lines),
            NoteKind::Typed | NoteKind::Corrections => typed_text(&paragraph.lines),
        };
        let cue = text.into_cue(file);
        (!cue.text.trim().is_empty()).then_some(Cue {
            time: paragraph.time,
            until: paragraph.until,
            ..cue
        })
    });
    cues.collect()
}

#[derive(Default)]
struct Paragraph<'a> {
    time: Option<ClockTime>,
    until: Option<ClockTime>,
    lines: Vec<Content<'a>>,
}

/// A line, and the byte of it where its text begins: after the time stamp.
struct Content<'a> {
    line: Line<'a>,
    from: usize,
}

impl<'a> Content<'a> {
    fn text(&self) -> &'a str {
        self.line.text.get(self.from..).unwrap_or("")
    }
}

/// A paragraph begins at a time stamp, after a blank line, and in a transcript where a speaker is named.
fn paragraphs<'a>(form: Form, kind: NoteKind, body: &[Line<'a>], report: &mut Report<'_>) -> Vec<Paragraph<'a>> {
    let lines: Vec<(Line<'a>, bool)> = body.iter().map(|line| unmarked(form, *line)).collect();
    let style = stamp_style(&lines.iter().map(|(line, _)| *line).collect::<Vec<_>>());
    let mut done: Vec<Paragraph<'a>> = Vec::new();
    let mut open: Option<Paragraph<'a>> = None;
    let mut last_time = None;
    for (line, heading) in lines {
        if line.is_blank() || is_fence(form, line.text) {
            done.extend(open.take());
            continue;
        }
        let stamp = read_stamp(line.text, style);
        if let Some(stamp) = stamp {
            last_time = stamp.time.or(last_time);
            check_stamp(&stamp, &line, report);
        }
        let speaks = kind == NoteKind::Spoken && speaker_label(line.text).is_some();
        if stamp.is_some() || heading || speaks {
            done.extend(open.take());
        }
        let paragraph = open.get_or_insert_with(|| Paragraph {
            time: last_time,
            until: stamp.and_then(|stamp| stamp.until),
            lines: Vec::new(),
        });
        let from = stamp.map_or(0, |stamp| stamp.length);
        let content = Content { line, from };
        if !content.text().trim().is_empty() {
            paragraph.lines.push(content);
        }
    }
    done.extend(open);
    done
}

fn check_stamp(stamp: &Stamp, line: &Line<'_>, report: &mut Report<'_>) {
    if stamp.time.is_none() {
        let span = Span::new(line.start, line.start + stamp.length);
        let written = line.text.get(..stamp.length).unwrap_or("").trim();
        report.warn("time-not-read", span, "", &[("written", &written)]);
    }
}

/// A line without its heading, list or quotation mark, and whether it is a heading.
fn unmarked(form: Form, line: Line<'_>) -> (Line<'_>, bool) {
    let (mark, heading) = match form {
        Form::Markdown => markdown_mark(line.text),
        Form::Plain | Form::WebVtt | Form::SubRip => (0, false),
    };
    let text = line.text.get(mark..).unwrap_or("");
    let start = line.start + line.text.len() - text.len();
    (Line { start, text }, heading)
}

/// Bytes of a heading, list or quotation mark at the start of a Markdown line, and whether it is a heading.
fn markdown_mark(text: &str) -> (usize, bool) {
    let rest = text.trim_start();
    let indent = text.len() - rest.len();
    let hashes = rest.bytes().take_while(|byte| *byte == b'#').count();
    if (1..=6).contains(&hashes) && rest.get(hashes..).is_some_and(|after| after.starts_with(' ')) {
        return (indent + hashes + 1, true);
    }
    let listed = ["- ", "* ", "+ ", "> "].iter().any(|mark| rest.starts_with(mark));
    (if listed { indent + 2 } else { 0 }, false)
}

fn is_fence(form: Form, text: &str) -> bool {
    form == Form::Markdown && (text.trim_start().starts_with("```") || text.trim() == "---")
}

/// Lines of speech run on; times inside them are moments of words.
fn spoken_text(lines: &[Content<'_>]) -> CueText {
    let mut text = CueText::default();
    let mut end = 0;
    for content in lines {
        let (line, start) = trimmed(content);
        if !text.is_empty() && !text.ends_with_space() {
            text.push_instead(" ", end, start);
        }
        let mut at = 0;
        for (range, time) in stamps_inside(line) {
            let before = line.get(at..range.start).unwrap_or("");
            text.push_source(before, start + at);
            text.push_word_time(time);
            at = range.end;
            if text.ends_with_space() || text.is_empty() {
                let rest = line.get(at..).unwrap_or("");
                at += rest.len() - rest.trim_start().len();
            }
        }
        text.push_source(line.get(at..).unwrap_or(""), start + at);
        end = start + line.len();
    }
    text
}

/// Typed lines keep their line ends, and their columns where they are laid out in columns.
fn typed_text(lines: &[Content<'_>]) -> CueText {
    let stacked = lines.len() > 1 && lines.iter().any(has_columns);
    let margin = lines.iter().map(indentation).min().unwrap_or(0);
    let mut text = CueText::default();
    let mut end = 0;
    for content in lines {
        if !text.is_empty() {
            text.push_instead(
                "\n",
                end,
                if stacked {
                    content.line.start
                } else {
                    trimmed(content).1
                },
            );
        }
        let (line, start) = trimmed(content);
        if stacked {
            push_margin(&mut text, content, margin);
        }
        text.push_source(line, start);
        end = start + line.len();
    }
    text
}

/// The text of a line without white space around it, and the byte of the file where it begins.
fn trimmed<'a>(content: &Content<'a>) -> (&'a str, usize) {
    let text = content.text();
    let line = text.trim();
    let indent = text.len() - text.trim_start().len();
    (line, content.line.start + content.from + indent)
}

fn has_columns(content: &Content<'_>) -> bool {
    let text = content.text().trim();
    text.contains("  ") || text.contains('\t')
}

/// Letters before the text of a line begins, the time stamp counted as blank.
fn indentation(content: &Content<'_>) -> usize {
    let text = content.text();
    let before = content.from + text.len() - text.trim_start().len();
    content.line.text.get(..before).unwrap_or("").chars().count()
}

/// White space in front of a stacked line from the common margin on, so that columns stay under each other.
/// The time stamp counts as white space.
fn push_margin(text: &mut CueText, content: &Content<'_>, margin: usize) {
    let letters = content.line.text.char_indices().skip(margin);
    for (at, letter) in letters.take(indentation(content) - margin) {
        let blank = if at >= content.from && letter == '\t' {
            "\t"
        } else {
            " "
        };
        let start = content.line.start + at;
        text.push_instead(blank, start, start + letter.len_utf8());
    }
}
