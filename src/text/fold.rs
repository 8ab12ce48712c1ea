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
        if letter.is_ascii() {
            folded.text.push(letter.to_ascii_lowercase());
            folded.origin.push(offset);
            continue;
        }
        let plain = match letter {
            '’' | '‘' | '´' => '\'',
            '“' | '”' | '«' | '»' => '"',
            '–' | '—' | '−' => '-',
            '\u{a0}' | '\u{202f}' => ' ',
            other => other,
        };
        for part in std::iter::once(plain).nfkd().filter(|c| !is_combining_mark(*c)) {
            for low in part.to_lowercase() {
                folded.text.push(low);
                for _ in 0..low.len_utf8() {
                    folded.origin.push(offset);
                }
            }
        }
    }
    folded.origin.push(source.len());
    folded
}
