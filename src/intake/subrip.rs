use super::Cue;
use super::kinds::Form;
use super::lines::Line;
use super::markup::caption_cues;
use super::report::Report;
use crate::text::{ClockTime, FileId, Span};

/// Reads SRT: a number, `00:01:02,500 --> 00:01:05,000`, and lines of words.
///
/// There is no standard for it. Words belong to the times above them until the next number with times below it;
/// a blank line among them is passed over.
pub(super) fn read_subrip(file: FileId, text: &str, lines: &[Line<'_>], report: &mut Report<'_>) -> Vec<Cue> {
    let mut cues = Vec::new();
    let mut open: Option<Block<'_>> = None;
    for (index, line) in lines.iter().enumerate() {
        let above_times = lines.get(index + 1).is_some_and(is_times) && is_number(line);
        if line.is_blank() || above_times {
            continue;
        }
        if is_times(line) {
            cues.extend(open.take().map(|block| block.cues(file, text)).unwrap_or_default());
            open = Some(Block::new(*line, report));
        } else if let Some(block) = &mut open {
            block.first.get_or_insert(*line);
            block.last = Some(*line);
        } else {
            let span = Span::new(line.start, line.end());
            let message = "these words of the captions have no time above them and are not read".to_owned();
            report.warn(
                "caption-without-time",
                span,
                message,
                "Give them a number and times, or delete them",
            );
        }
    }
    cues.extend(open.take().map(|block| block.cues(file, text)).unwrap_or_default());
    cues
}

struct Block<'a> {
    times: Option<(ClockTime, ClockTime)>,
    first: Option<Line<'a>>,
    last: Option<Line<'a>>,
}

impl<'a> Block<'a> {
    fn new(line: Line<'a>, report: &mut Report<'_>) -> Self {
        let times = timings(line.text);
        if times.is_none() {
            let span = Span::new(line.start, line.end());
            let message = "the times of this caption cannot be read, so it is left out".to_owned();
            report.warn(
                "caption-time-not-read",
                span,
                message,
                "Write 00:01:02,500 --> 00:01:05,000",
            );
        }
        Self {
            times,
            first: None,
            last: None,
        }
    }

    fn cues(self, file: FileId, text: &str) -> Vec<Cue> {
        let (Some((start, end)), Some(first), Some(last)) = (self.times, self.first, self.last) else {
            return Vec::new();
        };
        let words = text.get(first.start..last.end()).unwrap_or("");
        let cues = caption_cues(file, Form::SubRip, words, first.start);
        let timed = cues.into_iter().map(|cue| Cue {
            time: Some(start),
            until: Some(end),
            ..cue
        });
        timed.collect()
    }
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
