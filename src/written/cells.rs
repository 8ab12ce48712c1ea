//! Rows of a stacked block as cells with their columns, and which count each cell stands under.

use crate::music::position::Position;
use crate::text::{ClockTime, Span};

use super::item::LineContext;
use super::line::Frame;
use super::parser::Parser;
use super::shorthand::{Meaning, Row, row_name_at, words_at};

/// The most rows that a block may have.
const MOST_ROWS: usize = 8;

/// A cell: what stands between two gaps of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    pub text: String,
    /// In letters from the left edge of the block.
    pub column: usize,
    /// Bytes of the block's text.
    pub span: Span,
}

/// A row: what it holds, as far as can be told, and its cells.
#[derive(Debug, Clone)]
pub struct Written {
    pub holds: Option<Row>,
    pub cells: Vec<Cell>,
}

impl Cell {
    /// `-`: nothing new here.
    pub fn is_gap(&self) -> bool {
        matches!(self.text.as_str(), "-" | "–" | "—" | "." | "_" | "·")
    }

    /// The "and" of a count.
    pub fn is_half(&self) -> bool {
        is_half(&self.text)
    }

    /// A sign that divides the count before it.
    pub fn is_part(&self) -> bool {
        is_part(&self.text)
    }

    /// A count with or without its own fraction: `3`, `3&`, `3y`.
    pub fn moment(&self, context: &LineContext) -> Option<Position> {
        if !self.text.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let mut parser = Parser::new(&self.text, context);
        let at = parser.position(None)?;
        parser.at_end().then_some(at)
    }
}

fn is_half(sign: &str) -> bool {
    matches!(sign, "&" | "+" | "½" | "y" | "and")
}

fn is_part(sign: &str) -> bool {
    is_half(sign) || matches!(sign, "." | "·" | "-" | "e" | "a")
}

/// A quick look: whether a line may be a row of counts, behind a time stamp and a name of at most two words.
pub fn is_like_counts(line: &str) -> bool {
    let mut names = 0;
    let mut cells = 0;
    for cell in line.split_whitespace() {
        let count = cell.trim_start_matches(|c: char| c.is_ascii_digit());
        let is_count = count.len() < cell.len() && matches!(count, "" | "&" | "y" | "+" | "½" | ".5" | "+1/2");
        if is_count || is_part(cell) || cell == "|" {
            cells += 1;
        } else if cells == 0 && names < 2 && cell.len() <= 12 {
            names += usize::from(!cell.starts_with('['));
        } else {
            return false;
        }
    }
    cells > 1
}

/// The rows of a block, each with what it holds; None when there is no row of counts or a row that is nothing known.
pub fn rows_of(text: &str, context: &LineContext) -> Option<(Option<ClockTime>, Vec<Written>)> {
    let mut time = None;
    let mut rows: Vec<Written> = Vec::new();
    let mut start = 0;
    for (index, line) in text.split('\n').enumerate() {
        if index >= MOST_ROWS {
            return None;
        }
        let frame = Frame::of(line);
        if frame.implied.is_some() {
            return None;
        }
        time = time.or(frame.time);
        // A time stamp that the caller cut off still took its columns.
        let cut = if index == 0 { context.indent } else { 0 };
        let row = row_of(line, &frame, start, cut);
        if !row.cells.is_empty() {
            rows.push(row);
        }
        start += line.len() + 1;
    }
    if rows.len() < 2 {
        return None;
    }
    name_rows(&mut rows, context)?;
    Some((time, rows))
}

fn row_of(line: &str, frame: &Frame, start: usize, cut: usize) -> Written {
    let mut from = frame.start;
    let mut holds = None;
    if let Some((row, length)) = line.get(from..frame.end).and_then(row_name_at) {
        holds = Some(row);
        from += length;
    }
    let mut cells: Vec<Cell> = Vec::new();
    let mut open: Option<(usize, usize)> = None;
    let first = cut + line.get(..from).map_or(0, |before| before.chars().count());
    let body = line.get(from..frame.end).unwrap_or("");
    for (column, (at, letter)) in (first..).zip(body.char_indices().chain([(body.len(), ' ')])) {
        let gap = letter.is_whitespace() || letter == '|';
        match (gap, open) {
            (false, None) => open = Some((at, column)),
            (true, Some((begin, begin_column))) => {
                cells.push(Cell {
                    text: body.get(begin..at).unwrap_or("").to_owned(),
                    column: begin_column,
                    span: Span::new(start + from + begin, start + from + at),
                });
                open = None;
            }
            _ => {}
        }
    }
    Written { holds, cells }
}

/// Says what each row holds that carries no name; exactly one row must hold the counts.
fn name_rows(rows: &mut [Written], context: &LineContext) -> Option<()> {
    let named = rows.iter().filter(|row| row.holds == Some(Row::Counts)).count();
    if named == 0 {
        let counts = rows
            .iter_mut()
            .find(|row| row.holds.is_none() && is_count_row(row, context))?;
        counts.holds = Some(Row::Counts);
    } else if named > 1 {
        return None;
    }
    let counts = rows.iter().position(|row| row.holds == Some(Row::Counts))?;
    let told = rows.iter().any(|row| row.holds == Some(Row::Strokes));
    for (index, row) in rows.iter_mut().enumerate() {
        if row.holds.is_none() {
            row.holds = Some(kind_of(row, index < counts, told, context)?);
        }
    }
    Some(())
}

fn is_count_row(row: &Written, context: &LineContext) -> bool {
    let counts = row.cells.iter().filter(|cell| cell.moment(context).is_some()).count();
    let known = row
        .cells
        .iter()
        .all(|cell| cell.moment(context).is_some() || cell.is_part());
    known && counts > 0 && row.cells.len() > 1
}

/// What a row without a name holds, by its cells.
fn kind_of(row: &Written, above: bool, told: bool, context: &LineContext) -> Option<Row> {
    let cells: Vec<&Cell> = row.cells.iter().filter(|cell| !cell.is_gap()).collect();
    let all = |test: &dyn Fn(&Cell) -> bool| cells.iter().all(|cell| test(cell));
    let any = |test: &dyn Fn(&Cell) -> bool| cells.iter().any(|cell| test(cell));
    let is_up = |cell: &Cell| cell.text.starts_with('U');
    let is_down = |cell: &Cell| cell.text == "D" || cell.text.starts_with("D+") || cell.text.starts_with("D>");
    let is_chord = |cell: &Cell| {
        let mut parser = Parser::new(&cell.text, context);
        parser.chord_name().is_some() && parser.at_end()
    };
    let is_finger = |cell: &Cell| {
        let mut parser = Parser::new(&cell.text, context);
        (parser.meaning(Meaning::LeftHand) || parser.fingers().is_some()) && parser.at_end()
    };
    let is_prefixed = |sign: char| {
        move |cell: &Cell| {
            let digits = cell.text.strip_prefix(sign);
            digits.is_some_and(|digits| digits.starts_with(|c: char| c.is_ascii_digit()))
        }
    };
    if cells.is_empty() {
        return None;
    }
    if all(&is_finger) {
        return Some(Row::Fingers);
    }
    if all(&is_prefixed('s')) {
        return Some(Row::Strings);
    }
    if all(&is_prefixed('f')) {
        return Some(Row::Frets);
    }
    if all(&is_chord) && (above || any(&|cell| !is_down(cell))) {
        return Some(Row::Chords);
    }
    // "D D D D" alone may be a chord or a strum.
    let only_downs = all(&is_down);
    let strokes = all(&|cell| {
        let plain = words_at(&cell.text).is_some() || !cell.text.starts_with(|c: char| c.is_ascii_digit());
        plain || is_down(cell) || is_up(cell)
    });
    (strokes && !told && !only_downs).then_some(Row::Strokes)
}

/// For each cell the index of the count it stands under; None when that cannot be told.
///
/// In this order: every cell begins where a count begins (give or take a letter); as many cells as counts; as many
/// cells as counts that are struck; every cell begins at or after a count and before the next.
pub fn align(cells: &[Cell], columns: &[&Cell], struck: &[usize]) -> Option<Vec<(usize, Cell)>> {
    let exact: Option<Vec<usize>> = cells
        .iter()
        .map(|cell| {
            columns
                .iter()
                .position(|column| column.column.abs_diff(cell.column) <= 1)
        })
        .collect();
    let rises = |places: &[usize]| places.windows(2).all(|pair| matches!(pair, [a, b] if a < b));
    let places = match exact {
        Some(places) if rises(&places) => places,
        _ if cells.len() == columns.len() => (0..columns.len()).collect(),
        _ if cells.len() == struck.len() => struck.to_vec(),
        _ => return loosely(cells, columns),
    };
    Some(places.into_iter().zip(cells.iter().cloned()).collect())
}

/// Cells between two counts belong to the first of them; several there are one cell with gaps in it.
fn loosely(cells: &[Cell], columns: &[&Cell]) -> Option<Vec<(usize, Cell)>> {
    let mut placed: Vec<(usize, Cell)> = Vec::new();
    for cell in cells {
        let index = columns.iter().rposition(|column| column.column <= cell.column + 1)?;
        match placed.last_mut() {
            Some((last, joined)) if *last == index => {
                joined.text.push(' ');
                joined.text.push_str(&cell.text);
                joined.span = joined.span.to(cell.span);
            }
            _ => placed.push((index, cell.clone())),
        }
    }
    Some(placed)
}
