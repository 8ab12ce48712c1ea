/// A line of a file, without its line end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Line<'a> {
    /// Byte of the file where it begins.
    pub(super) start: usize,
    pub(super) text: &'a str,
}

impl Line<'_> {
    pub(super) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    pub(super) fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }
}

/// The lines of a text: LF, CRLF and CR alone end a line; a byte order mark in front is passed over.
pub(super) fn lines(text: &str) -> Vec<Line<'_>> {
    let mut lines = Vec::new();
    let mut rest = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut start = text.len() - rest.len();
    while !rest.is_empty() {
        let line = rest.split(['\n', '\r']).next().unwrap_or(rest);
        let after = rest.get(line.len()..).unwrap_or("");
        let end = match after {
            _ if after.starts_with("\r\n") => 2,
            "" => 0,
            _ => 1,
        };
        lines.push(Line { start, text: line });
        start += line.len() + end;
        rest = after.get(end..).unwrap_or("");
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn all_three_line_ends_part_lines() {
        let found: Vec<_> = lines("\u{feff}a\r\nb\rc\n\nd")
            .into_iter()
            .map(|l| (l.start, l.text))
            .collect();
        assert_eq!(found, [(3, "a"), (6, "b"), (8, "c"), (10, ""), (11, "d")]);
        assert!(lines("").is_empty());
    }
}
