use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Breaks text between words so that no line is wider than `width` columns; further lines are indented.
/// A word longer than a line stays whole: an id or a path is worth more than an even edge.
pub(super) fn wrap(text: &str, width: usize, indent: usize) -> String {
    let mut wrapped = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let wide = word.width();
        if column > 0 && column + 1 + wide > width {
            wrapped.push('\n');
            wrapped.extend(std::iter::repeat_n(' ', indent));
            column = 0;
        } else if column > 0 {
            wrapped.push(' ');
            column += 1;
        }
        wrapped.push_str(&printable(word));
        column += wide;
    }
    wrapped
}

/// Text that cannot steer a terminal: control characters are shown, not sent.
pub(super) fn printable(text: &str) -> String {
    text.chars()
        .map(|letter| if is_control(letter) { '\u{fffd}' } else { letter })
        .collect()
}

/// Control characters, and the invisible ones that turn the direction of writing.
fn is_control(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Columns that a letter takes in a terminal.
pub(super) fn columns(letter: char) -> usize {
    if is_control(letter) {
        1
    } else {
        letter.width().unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_are_indented() {
        assert_eq!(wrap("one two three four", 9, 2), "one two\n  three\n  four");
        assert_eq!(wrap("a-very-long-word-indeed x", 5, 1), "a-very-long-word-indeed\n x");
        assert_eq!(wrap("compás de  doce", 80, 0), "compás de doce");
    }

    #[test]
    fn a_note_cannot_steer_the_terminal() {
        assert_eq!(wrap("red \u{1b}[31m", 80, 0), "red \u{fffd}[31m");
        assert_eq!(printable("a\u{202e}b"), "a\u{fffd}b");
    }
}
