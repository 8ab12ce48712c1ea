use serde::{Deserialize, Serialize};
use unicode_normalization::char::is_combining_mark;

use super::{ClockTime, FileId, Place, Span};

/// Stands at the very front of some files and is no letter.
const BYTE_ORDER_MARK: char = '\u{feff}';

/// A file's text, its name as shown to people, and where its lines begin.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct SourceText {
    pub id: FileId,
    /// Relative to the notes folder, with `/`; as given on the command line for a single note.
    pub name: String,
    pub text: String,
    line_starts: Vec<usize>,
}

impl SourceText {
    pub fn new(id: FileId, name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let line_starts = line_starts(&text);
        Self {
            id,
            name: name.into(),
            text,
            line_starts,
        }
    }

    /// The line (1-based) and column (1-based, in letters as a reader counts them) of a byte.
    pub fn line_and_column(&self, offset: usize) -> (u32, u32) {
        let line = self.line_starts.partition_point(|start| *start <= offset).max(1);
        let start = self.line_starts.get(line - 1).copied().unwrap_or(0);
        let before = self.text.get(start..offset).unwrap_or("");
        (line as u32, letters(before) as u32 + 1)
    }

    /// The text of a line (1-based) without its line end; empty when there is no such line.
    pub fn line(&self, line: u32) -> &str {
        let index = (line as usize).saturating_sub(1);
        let start = self.line_starts.get(index).copied().unwrap_or(self.text.len());
        let end = self.line_starts.get(index + 1).copied().unwrap_or(self.text.len());
        self.text.get(start..end).unwrap_or("").trim_end_matches(['\n', '\r'])
    }

    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.start..span.end).unwrap_or("")
    }

    pub fn place(&self, span: Span, time: Option<ClockTime>) -> Place {
        let (line, column) = self.line_and_column(span.start);
        Place {
            file: self.id,
            span,
            line,
            column,
            time,
        }
    }
}

/// Letters as a reader counts them: marks on the letter before them, and the byte order mark, are none.
fn letters(text: &str) -> usize {
    if text.is_ascii() {
        return text.len();
    }
    let all = text.chars().count();
    // The first mark is U+0300, and UTF-8 begins it with 0xCC. Not stopping at it is quicker than asking each byte.
    if text.bytes().fold(0, u8::max) < 0xCC {
        return all;
    }
    let is_mark = |letter: &char| !letter.is_ascii() && (is_combining_mark(*letter) || *letter == BYTE_ORDER_MARK);
    all - text.chars().filter(is_mark).count()
}

/// Where lines begin. A line ends with LF, CRLF, or CR alone.
fn line_starts(text: &str) -> Vec<usize> {
    let bytes = text.as_bytes();
    let ends = bytes.iter().enumerate().filter(|(at, byte)| match byte {
        b'\n' => true,
        b'\r' => bytes.get(at + 1) != Some(&b'\n'),
        _ => false,
    });
    std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect()
}

#[cfg(test)]
mod tests {
    use super::{FileId, SourceText};

    #[test]
    fn lines_and_columns_are_counted_as_a_reader_counts() {
        for text in ["uno\ndós y\ntres", "uno\r\ndós y\r\ntres", "uno\rdós y\rtres"] {
            let source = SourceText::new(FileId(0), "n.txt", text);
            let at = text.find('y').unwrap_or_default();
            assert_eq!(source.line_and_column(at), (2, 5), "{text:?}");
            assert_eq!(source.line(2), "dós y", "{text:?}");
            assert_eq!(source.line(3), "tres", "{text:?}");
        }
        let source = SourceText::new(FileId(0), "n.txt", "\u{feff}a\u{301}b");
        assert_eq!(source.line_and_column(6), (1, 2));
    }
}
