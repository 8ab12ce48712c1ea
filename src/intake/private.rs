use std::ops::Range;
use std::sync::LazyLock;

use regex::Regex;

use super::Cue;
use super::private_words::spoken_marks;
use super::report::Report;
use crate::text::Span;

/// Where privacy opens or ends, in bytes of the cues' texts laid end to end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Mark {
    pub(super) range: Range<usize>,
    pub(super) kind: MarkKind,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum MarkKind {
    /// `(private)` or `private:` with words after it: to the end of its paragraph, or to an end mark.
    Paragraph,
    /// `(private: ...)`: the parenthesis itself.
    Parenthesis,
    /// Said aloud, or alone on its line: to an end mark.
    Stretch,
    End,
}

/// `(private)`, `[privado]`.
static MARK: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)[(\[]\s*(?:private|privad[oa])\s*[)\]]\s*:?").ok());
/// `(private: ...`.
static OPENING: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\(\s*(?:private|privad[oa])\s*[:,–—-]").ok());
/// `private: ...`, `privado - ...` or the word alone, at the start of a line; not `private lesson`.
static LINE: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?im)^[ \t]*(?:private|privad[oa])(?:[ \t]*:|[ \t]+[-–—][ \t]|[ \t]*$)").ok());
/// `(end of private)`, `(public)`, `(fin de lo privado)`.
static END: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)[(\[]\s*(?:end\s+(?:of\s+)?(?:the\s+)?private(?:\s+part)?|public|fin\s+(?:de\s+)?(?:lo\s+)?privad[oa]|p[uú]blico)\s*[)\]]")
        .ok()
});

/// Marks what is private, parting cues where privacy begins or ends inside one.
pub(super) fn mark_private(cues: Vec<Cue>, report: &mut Report<'_>) -> Vec<Cue> {
    let flat = Flat::new(&cues);
    let mut marks = typed_marks(&flat.text);
    marks.extend(spoken_marks(&flat.text));
    marks.sort_by_key(|mark| (mark.range.start, mark.range.end));
    let ranges = private_ranges(&marks, &flat, &cues, report);
    let parted = cues.into_iter().zip(flat.starts);
    parted.flat_map(|(cue, start)| part(cue, start, &ranges)).collect()
}

/// The texts of all cues, a line end between them, and where each begins.
struct Flat {
    text: String,
    starts: Vec<usize>,
}

impl Flat {
    fn new(cues: &[Cue]) -> Self {
        let mut flat = Flat {
            text: String::new(),
            starts: Vec::new(),
        };
        for cue in cues {
            flat.starts.push(flat.text.len());
            flat.text.push_str(&cue.text);
            flat.text.push('\n');
        }
        flat
    }

    /// The cue that holds a byte.
    fn cue_at(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at).saturating_sub(1)
    }

    /// The end of the cue that holds a byte.
    fn cue_end(&self, at: usize) -> usize {
        let next = self.starts.get(self.cue_at(at) + 1).copied();
        next.unwrap_or(self.text.len()).saturating_sub(1)
    }

    fn span(&self, cues: &[Cue], range: &Range<usize>) -> Span {
        let index = self.cue_at(range.start);
        let start = self.starts.get(index).copied().unwrap_or(0);
        let end = range.end.min(self.cue_end(range.start));
        cues.get(index)
            .map_or(Span::default(), |cue| cue.source_span(range.start - start, end - start))
    }
}

fn typed_marks(text: &str) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut find = |pattern: &LazyLock<Option<Regex>>, kind: fn(&str, &Range<usize>) -> MarkKind| {
        for found in pattern.iter().flat_map(|pattern| pattern.find_iter(text)) {
            let range = found.range();
            let kind = kind(text, &range);
            marks.push(Mark { range, kind });
        }
    };
    find(&MARK, |text, range| {
        if is_alone(text, range) {
            MarkKind::Stretch
        } else {
            MarkKind::Paragraph
        }
    });
    find(&LINE, |text, range| {
        if is_alone(text, range) {
            MarkKind::Stretch
        } else {
            MarkKind::Paragraph
        }
    });
    find(&OPENING, |_, _| MarkKind::Parenthesis);
    find(&END, |_, _| MarkKind::End);
    marks
}

/// Nothing else stands on the line.
fn is_alone(text: &str, range: &Range<usize>) -> bool {
    let before = text.get(..range.start).unwrap_or("").rsplit('\n').next().unwrap_or("");
    let after = text.get(range.end..).unwrap_or("").split('\n').next().unwrap_or("");
    before.trim().is_empty() && after.trim().is_empty()
}

fn private_ranges(marks: &[Mark], flat: &Flat, cues: &[Cue], report: &mut Report<'_>) -> Vec<Range<usize>> {
    let mut ranges: Vec<Range<usize>> = Vec::new();
    let mut covered = 0;
    for (index, mark) in marks.iter().enumerate() {
        let inside = mark.range.start < covered;
        let next_end = marks
            .iter()
            .skip(index + 1)
            .find(|next| next.range.start >= mark.range.end && next.kind == MarkKind::End);
        let follows = marks
            .iter()
            .skip(index + 1)
            .find(|next| next.range.start >= mark.range.end);
        let end = match mark.kind {
            _ if inside => continue,
            MarkKind::End => {
                report_lonely_end(mark, flat, cues, report);
                continue;
            }
            MarkKind::Parenthesis => parenthesis_end(flat, mark),
            MarkKind::Paragraph => match follows.filter(|next| next.kind == MarkKind::End) {
                Some(end) => end.range.end,
                None => flat.cue_end(mark.range.start),
            },
            MarkKind::Stretch => match next_end {
                Some(end) => end.range.end,
                None => {
                    report_open_end(mark, flat, cues, report);
                    flat.text.len()
                }
            },
        };
        covered = end;
        ranges.push(mark.range.start..end);
    }
    ranges
}

/// The byte after the parenthesis that closes the mark's own; the end of the paragraph when none does.
fn parenthesis_end(flat: &Flat, mark: &Mark) -> usize {
    let end = flat.cue_end(mark.range.start);
    let mut depth = 0usize;
    for (at, letter) in flat.text.get(mark.range.start..end).unwrap_or("").char_indices() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => continue,
        }
        if depth == 0 {
            return mark.range.start + at + 1;
        }
    }
    end
}

fn report_open_end(mark: &Mark, flat: &Flat, cues: &[Cue], report: &mut Report<'_>) {
    let time = cues.get(flat.cue_at(mark.range.start)).and_then(|cue| cue.time);
    report.warn_at("private-never-ends", flat.span(cues, &mark.range), time, "", &[]);
}

fn report_lonely_end(mark: &Mark, flat: &Flat, cues: &[Cue], report: &mut Report<'_>) {
    report.error("private-never-begins", flat.span(cues, &mark.range), "", &[]);
}

/// The pieces of a cue, private and not; pieces of white space alone are left out.
fn part(cue: Cue, start: usize, ranges: &[Range<usize>]) -> Vec<Cue> {
    let end = start + cue.text.len();
    let touching = ranges.iter().filter(|range| range.start < end && range.end > start);
    let mut pieces: Vec<(Range<usize>, bool)> = Vec::new();
    let mut at = start;
    for range in touching {
        let (from, to) = (range.start.max(start), range.end.min(end));
        pieces.push((at..from, false));
        pieces.push((from..to, true));
        at = to;
    }
    if at == start {
        return vec![cue];
    }
    pieces.push((at..end, false));
    let spoken = pieces.into_iter().filter_map(|(range, private)| {
        let range = trim(&cue.text, range.start - start..range.end - start)?;
        Some(Cue {
            private,
            ..cue.part(range.start, range.end)
        })
    });
    spoken.collect()
}

/// A piece without the white space around it, and without the full stop that a mark leaves behind; None when nothing is left.
fn trim(text: &str, range: Range<usize>) -> Option<Range<usize>> {
    let piece = text.get(range.clone())?;
    let left = if range.start > 0 {
        piece.trim_start_matches(|letter: char| letter.is_whitespace() || matches!(letter, '.' | ',' | ';' | '!'))
    } else {
        piece
    };
    let start = range.start + piece.len() - left.len();
    let start = start + left.len() - left.trim_start_matches('\n').len();
    let end = start + text.get(start..range.end)?.trim_end().len();
    text.get(start..end)
        .is_some_and(|rest| !rest.trim().is_empty())
        .then_some(start..end)
}
