//! Names that are never published.

use crate::music::lesson::Lesson;
use crate::text::fold;

/// What stands where a name stood.
const HIDDEN: &str = "…";

/// The names listed under `people:` in any note of the folder: a pupil named in one lesson may be mentioned in another.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct People {
    /// Single words of names, folded.
    words: Vec<String>,
}

/// Small words inside names; hiding them by themselves would hide half of a Spanish sentence.
const SMALL: [&str; 15] = [
    "de", "del", "la", "las", "los", "el", "y", "e", "von", "van", "da", "do", "dos", "di", "of",
];

impl People {
    pub fn of(lessons: &[Lesson]) -> Self {
        let names = lessons.iter().flat_map(|lesson| &lesson.people);
        let mut words: Vec<String> = names.flat_map(|name| split(&fold(name).text)).collect();
        words.retain(|word| !SMALL.contains(&word.as_str()) && word.chars().count() > 1);
        words.sort();
        words.dedup();
        Self { words }
    }

    fn is_name(&self, word: &str) -> bool {
        let folded = fold(word).text;
        // "Rosa's": the apostrophe belongs to the word, the name does not end there.
        let stem = folded.split('\'').next().unwrap_or_default();
        self.words.iter().any(|name| name == stem)
    }

    /// The text with every name in it replaced by an ellipsis; neighbouring names by one.
    pub fn hide(&self, text: &str) -> String {
        self.hidden(text).0
    }

    /// The same for a sentence; None when it is mostly names.
    pub fn hide_sentence(&self, text: &str) -> Option<String> {
        let (out, hidden, words) = self.hidden(text);
        let mostly = hidden > 0 && hidden * 3 >= words;
        (!mostly && !out.trim().is_empty()).then_some(out)
    }

    /// The text, how many words of it were names, and how many words it had.
    fn hidden(&self, text: &str) -> (String, usize, usize) {
        if self.words.is_empty() {
            return (text.to_owned(), 0, 1);
        }
        let pieces = pieces(text);
        let is_name = |piece: &(&str, bool)| piece.1 && self.is_name(piece.0);
        let words = pieces.iter().filter(|piece| piece.1).count();
        let hidden = pieces.iter().filter(|piece| is_name(piece)).count();
        let mut out = String::new();
        let mut rest = pieces.as_slice();
        while let Some((piece, later)) = rest.split_first() {
            rest = later;
            if !is_name(piece) {
                out.push_str(piece.0);
                continue;
            }
            out.push_str(HIDDEN);
            // "María de la Peña" is one name: the small words inside it go too.
            while let Some(more) = name_goes_on(rest, is_name) {
                rest = rest.get(more..).unwrap_or_default();
            }
        }
        (out, hidden, words)
    }
}

/// How many pieces lie up to and with the next word of the same name.
fn name_goes_on(rest: &[(&str, bool)], is_name: impl Fn(&(&str, bool)) -> bool) -> Option<usize> {
    let next = rest.iter().position(is_name)?;
    let inside = |(piece, is_word): &(&str, bool)| {
        if *is_word {
            SMALL.contains(&fold(piece).text.as_str())
        } else {
            piece.trim().is_empty()
        }
    };
    rest.get(..next)?.iter().all(inside).then_some(next + 1)
}

fn split(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The text cut into words and what stands between them.
fn pieces(text: &str) -> Vec<(&str, bool)> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let in_word = |c: char| c.is_alphanumeric() || matches!(c, '\'' | '’') || ('\u{300}'..'\u{370}').contains(&c);
        let is_word = in_word(first);
        let end = rest.find(|c: char| in_word(c) != is_word).unwrap_or(rest.len());
        let (piece, later) = rest.split_at(end);
        out.push((piece, is_word));
        rest = later;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn people(names: &[&str]) -> People {
        let lesson = Lesson {
            people: names.iter().map(|name| (*name).to_owned()).collect(),
            ..Lesson::default()
        };
        People::of(&[lesson])
    }

    #[test]
    fn names_give_way_to_an_ellipsis() {
        let people = people(&["María de la Peña", "Jo"]);
        let table = [
            ("Then Maria plays the golpe", "Then … plays the golpe"),
            ("ask MARÍA DE LA PEÑA, she knows", "ask …, she knows"),
            ("that is Jo's thumb", "that is … thumb"),
            ("the plate, la tapa", "the plate, la tapa"),
            ("Jo, and María, both down", "…, and …, both down"),
            ("Marianne is another", "Marianne is another"),
        ];
        for (text, shown) in table {
            assert_eq!(people.hide(text), shown);
        }
    }

    #[test]
    fn a_sentence_that_is_mostly_a_name_is_left_out() {
        let people = people(&["Ana Ruiz"]);
        assert_eq!(people.hide_sentence("Ana, down."), None);
        assert_eq!(
            people.hide_sentence("On 3 Ana puts the golpe"),
            Some("On 3 … puts the golpe".to_owned())
        );
        assert_eq!(
            people.hide_sentence("Down, down, up."),
            Some("Down, down, up.".to_owned())
        );
    }
}
