use anstyle::Style;

use super::wrap::{columns, printable};
use crate::text::{Place, SourceText};

/// The line of a place with its words underlined, and what is to be said about them.
///
/// A paragraph of speech is one long line: only a window of it is shown, cut between words.
pub(super) fn excerpt(source: &SourceText, place: &Place, sign: char, why: &str, style: Style, width: usize) -> String {
    let line = source.line(place.line);
    let letters: Vec<char> = line
        .chars()
        .map(|letter| if letter == '\t' { ' ' } else { letter })
        .collect();
    let start = letter_index(source, place).min(letters.len());
    let quoted = source.slice(place.span);
    let first_line = quoted.lines().next().unwrap_or("").trim_end();
    let end = (start + first_line.chars().count().max(1)).min(letters.len().max(start + 1));
    let gutter = place.line.to_string().len().max(4);
    let room = width.saturating_sub(gutter + 5).max(20);
    let window = window(&letters, start, end, room);
    let faint = Style::new().dimmed();
    let number = place.line;
    let mut text = format!("{faint}{number:>gutter$} |{faint:#} {}\n", window.text);
    let pad = " ".repeat(window.before);
    let under: String = std::iter::repeat_n(sign, window.marked.max(1)).collect();
    let why = if why.is_empty() {
        String::new()
    } else {
        format!(" {why}")
    };
    let blank = " ".repeat(gutter);
    text.push_str(&format!(
        "{faint}{blank} |{faint:#} {pad}{style}{under}{style:#}{why}\n"
    ));
    text
}

/// How many letters stand before the place in its line.
fn letter_index(source: &SourceText, place: &Place) -> usize {
    let line_start = source
        .text
        .get(..place.span.start)
        .map_or(0, |before| before.rfind(['\n', '\r']).map_or(0, |at| at + 1));
    source
        .text
        .get(line_start..place.span.start)
        .map_or(0, |before| before.chars().count())
}

/// The part of a line that is shown.
struct Window {
    text: String,
    /// Columns before the underlined words.
    before: usize,
    /// Columns underlined.
    marked: usize,
}

fn wide(letters: &[char]) -> usize {
    letters.iter().map(|letter| columns(*letter)).sum()
}

fn part(letters: &[char], start: usize, end: usize) -> &[char] {
    letters.get(start..end.min(letters.len()).max(start)).unwrap_or(&[])
}

fn window(letters: &[char], start: usize, end: usize, room: usize) -> Window {
    let (mut from, mut to) = (0, letters.len());
    if wide(letters) > room {
        from = begin(letters, start, end, room);
        let lead = if from > 0 { 2 } else { 0 };
        to = from;
        let mut used = lead;
        while to < letters.len() && used + columns(letters.get(to).copied().unwrap_or(' ')) <= room.saturating_sub(2) {
            used += columns(letters.get(to).copied().unwrap_or(' '));
            to += 1;
        }
        if to < letters.len() {
            to = cut_between_words(letters, to, end.min(to).max(from + 1));
        }
    }
    let lead = if from > 0 { "… " } else { "" };
    let trail = if to < letters.len() { " …" } else { "" };
    let shown: String = part(letters, from, to).iter().collect();
    let shown_end = end.min(to).max(start);
    Window {
        text: format!("{lead}{}{trail}", printable(&shown)),
        before: lead.chars().count() + wide(part(letters, from, start)),
        marked: wide(part(letters, start, shown_end)),
    }
}

/// Where the window begins: so that the words stand in it with some of what comes before.
fn begin(letters: &[char], start: usize, end: usize, room: usize) -> usize {
    let marked = wide(part(letters, start, end)).min(room);
    let before = (room - marked) / 3;
    let mut from = start;
    while from > 0 && wide(part(letters, from - 1, start)) <= before {
        from -= 1;
    }
    if wide(part(letters, 0, end)) + 2 <= room {
        return 0;
    }
    // Not in the middle of a word.
    while from > 0 && from < start && letters.get(from - 1).is_some_and(|letter| !letter.is_whitespace()) {
        from += 1;
    }
    from
}

/// The last end of a word at or before `to`, but not before `least`.
fn cut_between_words(letters: &[char], to: usize, least: usize) -> usize {
    let mut cut = to;
    while cut > least && letters.get(cut).is_some_and(|letter| !letter.is_whitespace()) {
        cut -= 1;
    }
    if cut <= least { to } else { cut }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::{FileId, Span};

    fn quote(text: &str, words: &str, width: usize) -> String {
        let source = SourceText::new(FileId(0), "a.notes.txt", text);
        let at = text.find(words).unwrap();
        let place = source.place(Span::new(at, at + words.len()), None);
        anstream::adapter::strip_str(&excerpt(&source, &place, '^', "", Style::new(), width)).to_string()
    }

    #[test]
    fn the_words_are_underlined() {
        assert_eq!(
            quote("[0:00] uno\n[0:05] compás en 5, cañas\n", "cañas", 80),
            "   2 | [0:05] compás en 5, cañas\n     |                     ^^^^^\n"
        );
    }

    #[test]
    fn a_long_line_is_cut_between_words_around_the_words() {
        let speech = format!(
            "[0:00] {}the thumb plays here {}",
            "and so on ".repeat(30),
            "and more ".repeat(30)
        );
        let quoted = quote(&speech, "the thumb plays here", 60);
        for line in quoted.lines() {
            assert!(line.chars().count() <= 60, "{line}");
        }
        let lines: Vec<&str> = quoted.lines().collect();
        let at = lines[0].find("the thumb").unwrap();
        assert_eq!(lines[0][..at].chars().count(), lines[1].find('^').unwrap(), "{quoted}");
        assert!(lines[0].starts_with("   1 | … "), "{quoted}");
        assert!(lines[0].ends_with(" …"), "{quoted}");
    }

    #[test]
    fn words_longer_than_the_window_are_underlined_to_its_edge() {
        let speech = "down and up ".repeat(40);
        let quoted = quote(&speech, speech.trim_end(), 50);
        for line in quoted.lines() {
            assert!(line.chars().count() <= 50, "{line}");
        }
    }

    #[test]
    fn combining_accents_take_no_column() {
        let quoted = quote("compa\u{301}s de doce", "doce", 80);
        assert_eq!(quoted.lines().nth(1), Some("     |           ^^^^"));
    }
}
