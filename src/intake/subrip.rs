use super::Cue;
use super::kinds::Form;
use super::lines::Line;
use super::report::Report;
use super::rolling::{Caption, cues_of};
use crate::text::{ClockTime, FileId, Span};

/// Reads SRT: a number, `00:01:02,500 --> 00:01:05,000`, and lines of words.
///
/// There is no standard for it. Words belong to the times above them until the next number with times below it;
/// a blank line among them is passed over.
pub(super) fn read_subrip(file: FileId, text: &str, lines: &[Line<'_>], report: &mut Report<'_>) -> Vec<Cue> {
    let mut blocks: Vec<Option<Caption<'_>>> = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        let above_times = lines.get(index + 1).is_some_and(is_times) && is_number(line);
        if line.is_blank() || above_times {
            continue;
        }
        if is_times(line) {
            blocks.push(open_caption(line, report));
        } else if let Some(block) = blocks.last_mut() {
            // Words below times that cannot be read are lost with them.
            if let Some(caption) = block {
                caption.lines.push(*line);
            }
        } else {
            let span = Span::new(line.start, line.end());
            report.warn("caption-without-time", span, "number", &[]);
        }
    }
    cues_of(file, Form::SubRip, text, blocks.into_iter().flatten().collect())
}

fn open_caption<'a>(line: &Line<'a>, report: &mut Report<'_>) -> Option<Caption<'a>> {
    let times = timings(line.text);
    if times.is_none() {
        let span = Span::new(line.start, line.end());
        let times = "00:01:02,500 --> 00:01:05,000";
        report.warn("caption-time-not-read", span, "", &[("times", &times)]);
    }
    times.map(|(start, end)| Caption {
        start,
        end,
        lines: Vec::new(),
    })
}

fn is_times(line: &Line<'_>) -> bool {
    line.text.contains("-->")
}

fn is_number(line: &Line<'_>) -> bool {
    let text = line.text.trim();
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// A comma or a full stop before the thousandths; what stands after the second time is passed over.
fn timings(line: &str) -> Option<(ClockTime, ClockTime)> {
    let (from, to) = line.split_once("-->")?;
    let to = to.split_whitespace().next()?;
    Some((ClockTime::parse(from.trim())?, ClockTime::parse(to)?))
}
