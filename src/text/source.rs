use serde::{Deserialize, Serialize};
use unicode_normalization::char::is_combining_mark;

use super::{ClockTime, FileId, Place, Span};

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
        let mut line_starts = vec![0];
        line_starts.extend(text.match_indices('\n').map(|(at, _)| at + 1));
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
        let column = before.chars().filter(|c| !is_combining_mark(*c)).count() + 1;
        (line as u32, column as u32)
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
