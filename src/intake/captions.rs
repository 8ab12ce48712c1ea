use super::head::read_head;
use super::kinds::Form;
use super::lines::Line;
use super::markup::caption_time;
use super::report::Report;
use super::rolling::{Caption, cues_of};
use super::{Cue, HeadLine, language};
use crate::text::{ClockTime, FileId, Span};

/// What a caption file holds.
#[derive(Debug, Default)]
pub(super) struct Captions {
    pub(super) head: Vec<HeadLine>,
    pub(super) language: Option<String>,
    pub(super) cues: Vec<Cue>,
}

/// Reads WebVTT as the standard's own parser does (W3C WebVTT, "WebVTT parser algorithm"): a block ends at a blank line,
/// a timing line may have an identifier above it, a timing line that cannot be read drops its cue.
/// What the standard drops in silence is a finding here. A head may stand in a NOTE before the first cue.
pub(super) fn read_captions(file: FileId, text: &str, lines: &[Line<'_>], report: &mut Report<'_>) -> Captions {
    let mut captions = Captions::default();
    let mut timed = Vec::new();
    let body = signature(lines, report);
    let mut rest = header(body, &mut captions);
    while let Some(first) = rest.iter().position(|line| !line.text.is_empty()) {
        rest = rest.get(first..).unwrap_or(&[]);
        let (block, after) = next_block(rest);
        if let Some(timing) = block.iter().take(2).position(is_arrow) {
            timed.extend(read_caption(block, timing, report));
        } else if timed.is_empty() {
            read_comment(block, &mut captions, report);
        } else {
            read_comment(block, &mut Captions::default(), report);
        }
        rest = after;
    }
    captions.cues = cues_of(file, Form::WebVtt, text, timed);
    captions
}

/// The first line has to say WEBVTT.
fn signature<'a, 'b>(lines: &'b [Line<'a>], report: &mut Report<'_>) -> &'b [Line<'a>] {
    let first = lines.first().map_or("", |line| line.text);
    let rest = first.strip_prefix("WEBVTT");
    if rest.is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t'])) {
        return lines.get(1..).unwrap_or(&[]);
    }
    report.warn("captions-without-webvtt", line_span(lines.first()), "", &[]);
    lines
}

/// Header lines such as `Language: es`, up to the first blank line or timing line.
fn header<'a, 'b>(body: &'b [Line<'a>], captions: &mut Captions) -> &'b [Line<'a>] {
    let end = body
        .iter()
        .position(|line| line.text.is_empty() || is_arrow(line))
        .unwrap_or(body.len());
    for line in body.iter().take(end) {
        let pair = line
            .text
            .split_once(':')
            .filter(|(name, _)| name.trim().eq_ignore_ascii_case("language"));
        captions.language = captions.language.take().or(pair.and_then(|(_, value)| language(value)));
    }
    body.get(end..).unwrap_or(&[])
}

fn is_arrow(line: &Line<'_>) -> bool {
    line.text.contains("-->")
}

/// A block: up to a blank line, or to a timing line that is not its first or second.
fn next_block<'a, 'b>(lines: &'b [Line<'a>]) -> (&'b [Line<'a>], &'b [Line<'a>]) {
    let mut timed = false;
    let mut end = lines.len();
    for (index, line) in lines.iter().enumerate() {
        if line.text.is_empty() {
            end = index;
            break;
        }
        if is_arrow(line) {
            if index > 1 || timed {
                end = index;
                break;
            }
            timed = true;
        }
    }
    lines.split_at_checked(end).unwrap_or((lines, &[]))
}

fn read_caption<'a>(block: &[Line<'a>], timing: usize, report: &mut Report<'_>) -> Option<Caption<'a>> {
    let lines = block.get(timing + 1..).unwrap_or(&[]).to_vec();
    let line = block.get(timing);
    let times = line.and_then(|line| timings(line.text));
    if times.is_none() {
        bad_timing(line, &lines, report);
    }
    times.map(|(start, end)| Caption { start, end, lines })
}

/// NOTE, STYLE and REGION are no words; any other block without a time is a cue that lost it.
fn read_comment(block: &[Line<'_>], captions: &mut Captions, report: &mut Report<'_>) {
    let first = block.first().map_or("", |line| line.text);
    let begins = |word: &str| {
        first
            .strip_prefix(word)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t']))
    };
    if begins("NOTE") {
        if captions.head.is_empty() && first.trim_end() == "NOTE" {
            captions.head = read_head(block.get(1..).unwrap_or(&[]), report).lines;
        }
    } else if !begins("STYLE") && !begins("REGION") {
        report.warn("caption-without-time", line_span(block.first()), "", &[]);
    }
}

fn bad_timing(line: Option<&Line<'_>>, payload: &[Line<'_>], report: &mut Report<'_>) {
    let words = payload.first().map_or("", |line| line.text.trim());
    let case = if words.is_empty() { "stop" } else { "words" };
    let times = "00:01:02.500 --> 00:01:05.000";
    report.warn(
        "caption-time-not-read",
        line_span(line),
        case,
        &[("words", &words), ("times", &times)],
    );
}

fn line_span(line: Option<&Line<'_>>) -> Span {
    line.map_or(Span::default(), |line| Span::new(line.start, line.end()))
}

/// `00:01.000 --> 00:02.500 align:start`.
fn timings(line: &str) -> Option<(ClockTime, ClockTime)> {
    let space = [' ', '\t', '\u{c}'];
    let (from, to) = line.split_once("-->")?;
    let start = caption_time(from.trim_matches(space))?;
    let to = to.trim_start_matches(space);
    let end = to
        .split(|letter: char| !(letter.is_ascii_digit() || matches!(letter, ':' | '.')))
        .next()?;
    Some((start, caption_time(end)?))
}
