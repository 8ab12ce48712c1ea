//! One line, or one stacked block, from its time stamp to its marks.

use crate::text::{ClockTime, Span};

use super::begins::Begins;
use super::cells::is_like_counts;
use super::head_line::{COUNTED, STATED};
use super::item::{Item, LineContext, Spanned};
use super::opener::may_open;
use super::parser::Parser;
use super::pattern_line::{LOOPS, OPENING, ROUNDS};
use super::same_line::{LEADS, SAME};

/// What a form's line begins with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Opens {
    Anything,
    /// Never with a digit.
    Word,
    /// With one of these.
    With(Begins),
    /// The same, or with a number and one of these behind it.
    WithOrNumbered(Begins, Begins),
    /// A line of words with a colon.
    Named,
    /// A line with a sign of equality.
    Equated,
}

impl Opens {
    fn fits(self, front: &Front) -> bool {
        let numbered = front.behind_number.is_some();
        match (self, front.behind_number) {
            (Self::Anything, _) => true,
            (Self::Word, _) => !numbered,
            (Self::With(begins), _) | (Self::WithOrNumbered(begins, _), None) => begins.fits(front.begins),
            (Self::WithOrNumbered(_, behind), Some(number)) => behind.fits(number),
            (Self::Named, _) => !numbered && front.line.contains(':'),
            (Self::Equated, _) => front.line.contains('='),
        }
    }
}

/// A line, and what stands at its front.
struct Front<'t> {
    line: &'t str,
    begins: Begins,
    /// Behind its number, where it begins with one.
    behind_number: Option<Begins>,
}

type Form = (Opens, fn(&mut Parser) -> Option<()>);

/// The forms that a line may have, in the order tried.
const FORMS: [Form; 17] = [
    (Opens::Anything, |line| line.comment()),
    (Opens::Anything, |line| line.let_stand()),
    (Opens::Anything, |line| line.caution()),
    (Opens::Anything, |line| line.question()),
    (Opens::Named, |line| line.named_remark()),
    (Opens::Word, |line| line.record()),
    (Opens::Named, |line| line.named_field()),
    (Opens::With(OPENING), |line| line.opening()),
    (Opens::WithOrNumbered(LOOPS, ROUNDS), |line| line.rounds()),
    (Opens::WithOrNumbered(STATED, COUNTED), |line| line.statements()),
    (Opens::Word, |line| line.shapes()),
    (Opens::Anything, |line| line.plan()),
    (Opens::WithOrNumbered(LEADS, Begins::ANYTHING), |line| line.pair_line()),
    (Opens::With(SAME), |line| line.whole_same()),
    (Opens::Anything, |line| line.count_line()),
    (Opens::Equated, |line| line.definitions()),
    (Opens::Anything, |line| line.said()),
];

/// What a line says, when the whole of it is in the written form; otherwise None: half a line is never read.
pub fn line(text: &str, context: &LineContext) -> Option<Vec<Spanned<Item>>> {
    if text.trim_end().contains('\n') {
        return super::stacked::block(text, context);
    }
    let frame = Frame::of(text);
    let inner = text.get(frame.start..frame.end)?;
    if !may_open(inner) {
        return None;
    }
    let mut parser = Parser::new(inner, context);
    let numbered = inner.starts_with(|first: char| first.is_ascii_digit());
    let front = Front {
        line: inner,
        begins: parser.begins(),
        behind_number: numbered.then(|| parser.behind_number()),
    };
    let read = FORMS.iter().any(|(opens, form)| {
        if !opens.fits(&front) {
            return false;
        }
        let read = parser.attempt(|line| {
            form(line)?;
            let _ = line.spaced_sign('.');
            line.at_end().then_some(())
        });
        read.is_some()
    });
    if !read || parser.items.is_empty() {
        return None;
    }
    let mut items = parser.items;
    for item in &mut items {
        item.span = Span::new(item.span.start + frame.start, item.span.end + frame.start);
        item.time = frame.time;
        if let Some(rule) = &frame.implied {
            item.value.mark_implied(rule);
        }
    }
    Some(items)
}

/// The most lines that a stacked block may have.
const TALLEST_BLOCK: usize = 8;

/// What begins at a byte of a text of several lines: the tallest stacked block, else the one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// From the given byte to the end of the last line, without its line end.
    pub span: Span,
    /// Spans are bytes of the whole text. None: not in the written form; `span` is then one line.
    pub items: Option<Vec<Spanned<Item>>>,
}

/// Reads the block or line of `text` that begins at byte `start` (the beginning of a line).
pub fn unit_at(text: &str, start: usize, context: &LineContext) -> Unit {
    let rest = text.get(start..).unwrap_or("");
    let mut ends = Vec::new();
    let mut end = start;
    for line in rest.split_inclusive('\n').take(TALLEST_BLOCK) {
        if line.trim().is_empty() {
            break;
        }
        ends.push(end + line.trim_end_matches(['\n', '\r']).len());
        end += line.len();
    }
    // A block has a row of counts; without one only the first line is asked.
    let row_starts = std::iter::once(start).chain(ends.iter().map(|end| end + 1));
    let counts = row_starts
        .zip(&ends)
        .position(|(begin, end)| text.get(begin..*end).is_some_and(is_like_counts));
    let shortest = counts.map_or(usize::MAX, |row| row.max(1));
    let heights = (0..ends.len()).rev().filter(|last| *last == 0 || *last >= shortest);
    for end in heights.filter_map(|last| ends.get(last)) {
        let span = Span::new(start, *end);
        let items = text.get(start..*end).and_then(|unit| line(unit, context));
        if let Some(mut items) = items {
            for item in &mut items {
                item.span = Span::new(item.span.start + start, item.span.end + start);
            }
            return Unit {
                span,
                items: Some(items),
            };
        }
    }
    let first = rest.split('\n').next().unwrap_or("").trim_end_matches('\r');
    Unit {
        span: Span::new(start, ends.first().copied().unwrap_or(start + first.len())),
        items: None,
    }
}

/// What stands around the line itself: a time in front or at the end, and a mark for all of it.
pub struct Frame {
    pub time: Option<ClockTime>,
    pub implied: Option<String>,
    pub start: usize,
    pub end: usize,
}

impl Frame {
    pub fn of(text: &str) -> Frame {
        let mut start = text.len() - text.trim_start().len();
        let mut end = text.trim_end().len().max(start);
        let mut time = None;
        if let Some((stamp, length)) = text.get(start..end).and_then(leading_time) {
            time = Some(stamp);
            start += length;
        }
        if let Some((stamp, at)) = text.get(start..end).and_then(trailing_time) {
            time = time.or(Some(stamp));
            end = start + at;
        }
        let mut implied = None;
        if let Some(at) = text.get(start..end).and_then(line_mark) {
            implied = text.get(start + at + 2..end).map(rule_text);
            end = start + at;
        }
        Frame {
            time,
            implied,
            start,
            end,
        }
    }
}

/// The rule as it stands, or out of its quotes.
fn rule_text(written: &str) -> String {
    let written = written.trim();
    let context = LineContext::default();
    let mut parser = Parser::new(written, &context);
    match parser.quoted() {
        Some(rule) if parser.at_end() => rule,
        _ => written.to_owned(),
    }
}

/// `[2:41] ` in front: the time and its bytes.
fn leading_time(text: &str) -> Option<(ClockTime, usize)> {
    let inner = text.strip_prefix('[')?;
    let end = inner.find(']')?;
    let time = ClockTime::parse(inner.get(..end)?)?;
    let after = end + 2;
    let rest = text.get(after..)?;
    Some((time, after + (rest.len() - rest.trim_start().len())))
}

/// ` [2:41]` at the end: the time, and where the line ends before it.
fn trailing_time(text: &str) -> Option<(ClockTime, usize)> {
    let inner = text.strip_suffix(']')?;
    let open = inner.rfind('[')?;
    let time = ClockTime::parse(inner.get(open + 1..)?)?;
    let before = inner.get(..open)?;
    before.ends_with(' ').then(|| (time, before.trim_end().len()))
}

/// Where ` ~ rule` begins, outside quotes.
fn line_mark(text: &str) -> Option<usize> {
    if !text.contains('~') {
        return None;
    }
    let mut quoted = false;
    let mut escaped = false;
    let mut last = None;
    for (at, letter) in text.char_indices() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '~' if !quoted && text.get(..at).is_some_and(|before| before.ends_with(' ')) => {
                let spaced = text.get(at + 1..).is_some_and(|after| after.starts_with(' '));
                if spaced {
                    last = Some(at.saturating_sub(1));
                    break;
                }
            }
            _ => {}
        }
    }
    last
}
