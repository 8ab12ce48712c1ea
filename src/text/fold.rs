use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Text folded for matching, with the byte of the source that each folded byte came from.
#[derive(Debug, Clone, Default)]
pub struct Folded {
    pub text: String,
    /// One entry per byte of `text`, and one past the end.
    origin: Vec<usize>,
}

impl Folded {
    /// The byte of the source where the folded byte at `offset` began.
    pub fn source_offset(&self, offset: usize) -> usize {
        self.origin.get(offset).or(self.origin.last()).copied().unwrap_or(0)
    }
}

/// Lower case, accents off (`compás` → `compas`, `ñ` → `n`), typographic quotes and dashes made plain.
///
/// Never show the folded copy to a person.
pub fn fold(source: &str) -> Folded {
    let mut folded = Folded {
        text: String::with_capacity(source.len()),
        origin: Vec::with_capacity(source.len() + 1),
    };
    for (offset, letter) in source.char_indices() {
        fold_letter(letter, |low| {
            folded.text.push(low);
            folded.origin.extend(std::iter::repeat_n(offset, low.len_utf8()));
        });
    }
    folded.origin.push(source.len());
    folded
}

/// The folded text alone; what is folded already is lent and not copied.
pub fn folded(source: &str) -> Cow<'_, str> {
    let plain = |byte: u8| byte.is_ascii() && !byte.is_ascii_uppercase();
    if source.bytes().all(plain) {
        return Cow::Borrowed(source);
    }
    let mut text = String::with_capacity(source.len());
    for letter in source.chars() {
        fold_letter(letter, |low| text.push(low));
    }
    Cow::Owned(text)
}

/// Gives what one letter folds to: nothing for a mark on the letter before it, several letters for `½`.
fn fold_letter(letter: char, mut give: impl FnMut(char)) {
    let plain = match letter {
        _ if letter.is_ascii() => return give(letter.to_ascii_lowercase()),
        // What Spanish has needs no table of all scripts.
        'á' | 'Á' => return give('a'),
        'é' | 'É' => return give('e'),
        'í' | 'Í' => return give('i'),
        'ó' | 'Ó' => return give('o'),
        'ú' | 'Ú' | 'ü' | 'Ü' => return give('u'),
        'ñ' | 'Ñ' => return give('n'),
        '’' | '‘' | '´' => '\'',
        '“' | '”' | '«' | '»' => '"',
        '–' | '—' | '−' => '-',
        '\u{a0}' | '\u{202f}' => ' ',
        other => other,
    };
    for part in std::iter::once(plain).nfkd().filter(|c| !is_combining_mark(*c)) {
        part.to_lowercase().for_each(&mut give);
    }
}

#[cfg(test)]
mod tests {
    use super::{fold, folded};

    #[test]
    fn both_ways_fold_alike() {
        for (source, plain) in [
            ("Soleá POR Bulería, ÑANDÚ", "solea por buleria, nandu"),
            ("pingüino “así”", "pinguino \"asi\""),
            ("2½ – Ça à a\u{301}", "2\u{31}\u{2044}2 - ca a a"),
            ("golpe", "golpe"),
        ] {
            assert_eq!(fold(source).text, plain);
            assert_eq!(folded(source), plain);
        }
        let marked = fold("¡Olé!");
        assert_eq!(marked.source_offset(marked.text.len()), "¡Olé!".len());
    }
}
