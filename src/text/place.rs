use serde::{Deserialize, Serialize};

use super::ClockTime;

/// Which file of the notes folder: its index in `intake::Folder::files`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct FileId(pub u32);

/// Bytes of a file's text, half open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
pub struct Span {
    pub start: usize,
    pub end: usize,
}

impl Span {
    pub fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    /// The smallest span that holds both.
    pub fn to(self, other: Span) -> Span {
        Span::new(self.start.min(other.start), self.end.max(other.end))
    }
}

/// Where a fact was read: enough to point at it and to open the recording there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
pub struct Place {
    pub file: FileId,
    pub span: Span,
    /// 1-based; 0 for a place that stands in no file (a default of ours).
    pub line: u32,
    /// 1-based, counted as a reader counts: a letter with its combining marks is one.
    pub column: u32,
    pub time: Option<ClockTime>,
}

impl Place {
    /// The place widened so that it holds `other` too; keeps its own line, column and time unless `other` stands before it.
    pub fn to(self, other: Place) -> Place {
        let first = if other.span.start < self.span.start {
            other
        } else {
            self
        };
        Place {
            span: self.span.to(other.span),
            ..first
        }
    }
}
