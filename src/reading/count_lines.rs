//! `1. p dn`, `1) p dn` and `1 - p dn` open a line of a count as `1: p dn` does.

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
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let count: u8 = line.get(..digits)?.parse().ok()?;
    if !(1..=24).contains(&count) {
        return None;
    }
    let rest = line.get(digits..)?;
    if rest.starts_with(". ") || rest.starts_with(") ") {
        return Some(digits);
    }
    rest.starts_with(" - ").then_some(digits + 1)
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
        assert_eq!(colon("1.5 miles"), "1.5 miles");
        assert_eq!(colon("1-3 as before"), "1-3 as before");
        assert_eq!(colon("30. too far"), "30. too far");
    }
}
