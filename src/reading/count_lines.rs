//! `1. p dn`, `1) p dn`, `1 - p dn` and `5 and 6. p dn` open a line of a count as `1: p dn` does.

use crate::intake::Note;

/// Fewer lines of the kind are no habit of the writer's.
const LEAST: usize = 3;

/// The note with such openings written as colons; no byte moves, so that places stay true. None when it has no such habit.
pub fn with_colons(note: &Note) -> Option<Note> {
    let openings = note
        .cues
        .iter()
        .flat_map(|cue| cue.text.lines())
        .filter(|line| opening(line).is_some())
        .count();
    if openings < LEAST {
        return None;
    }
    let mut note = note.clone();
    for cue in &mut note.cues {
        let lines: Vec<String> = cue.text.split('\n').map(colon).collect();
        cue.text = lines.join("\n");
    }
    Some(note)
}

/// Where the sign behind the count stands.
fn opening(line: &str) -> Option<usize> {
    let mut end = count(line)?;
    // "5 and 6", "7, 8 y 9"
    while let Some(further) = line.get(end..).and_then(linked_count) {
        end += further;
    }
    let rest = line.get(end..)?;
    if rest.starts_with(". ") || rest.starts_with(") ") {
        return Some(end);
    }
    rest.starts_with(" - ").then_some(end + 1)
}

/// How many bytes the count takes that the text begins with.
fn count(text: &str) -> Option<usize> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let count: u8 = text.get(..digits)?.parse().ok()?;
    (1..=24).contains(&count).then_some(digits)
}

/// How many bytes a further count takes with what links it to the one before.
fn linked_count(text: &str) -> Option<usize> {
    const LINKS: [&str; 6] = [", ", " and ", " & ", " y ", " + ", ", y "];
    LINKS.iter().find_map(|link| {
        text.strip_prefix(link)
            .and_then(count)
            .map(|digits| link.len() + digits)
    })
}

fn colon(line: &str) -> String {
    match opening(line) {
        Some(at) => {
            let (before, behind) = line.split_at(at);
            format!("{before}:{}", behind.get(1..).unwrap_or(""))
        }
        None => line.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::colon;

    #[test]
    fn a_count_with_a_stop_or_a_dash_opens_its_line() {
        assert_eq!(colon("1. p dn"), "1: p dn");
        assert_eq!(colon("10 - i up"), "10 : i up");
        assert_eq!(colon("5 y 6. p Ab"), "5 y 6: p Ab");
        assert_eq!(colon("7, 8 and 9 - as above"), "7, 8 and 9 : as above");
        assert_eq!(colon("1.5 miles"), "1.5 miles");
        assert_eq!(colon("1-3 as before"), "1-3 as before");
        assert_eq!(colon("30. too far"), "30. too far");
    }
}
