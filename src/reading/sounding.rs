//! How words sound, one letter a sound.

/// No term has more sounds.
pub const MOST: usize = 24;

/// How a word sounds, a byte for each sound; of a word with more than any term has, only how many it has is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Sounds {
    letters: [u8; MOST],
    pub length: usize,
    /// A bit for each kind of sound.
    pub kinds: u32,
    last_heard: Option<u8>,
    /// The order of the last one, where a term may end with it.
    pub last: Option<usize>,
}

impl Sounds {
    /// One more, unless it is the same again.
    fn push(&mut self, sound: u8) {
        if self.last_heard == Some(sound) {
            return;
        }
        self.last_heard = Some(sound);
        if let Some(letter) = self.letters.get_mut(self.length) {
            *letter = sound;
        }
        self.kinds |= bit_of(sound);
        self.length += 1;
    }

    pub fn heard(&self) -> &[u8] {
        self.letters.get(..self.length).unwrap_or(&self.letters)
    }
}

/// Sounds that a term begins or ends with: the letters, and `C`.
pub const SOUNDS: usize = 27;

/// Its place among them; None where no term begins or ends with it.
pub fn order_of(sound: u8) -> Option<usize> {
    match sound {
        b'a'..=b'z' => Some(usize::from(sound - b'a')),
        b'C' => Some(SOUNDS - 1),
        _ => None,
    }
}

/// Each letter has its own; it may share it with another sign.
fn bit_of(sound: u8) -> u32 {
    1 << (sound % 32)
}

/// An English word's sounds: a silent e, an h and an r behind a vowel at its end are not heard.
pub fn sounds_in_english(word: &str) -> Sounds {
    let letters = match word.as_bytes() {
        [stem @ .., b'h'] if matches!(stem, [.., b'a' | b'e' | b'o']) => stem,
        letters => letters,
    };
    let spoken = match letters {
        [stem @ .., b'e'] if matches!(stem, [_, .., end] if !b"aeiouy".contains(end)) => stem,
        letters => letters,
    };
    match spoken {
        [stem @ .., b'e' | b'o', b'r'] if !stem.is_empty() => sounds_of_letters(&[stem, b"a"].concat()),
        [stem @ .., b'r'] if matches!(stem, [.., b'a' | b'u' | b'i' | b'o']) => sounds_of_letters(stem),
        _ => sounds_of_letters(spoken),
    }
}

/// How letters sound, one letter a sound: spellings that English and Spanish give the same sound come out the same.
pub fn sounds_of(text: &str) -> Sounds {
    sounds_of_letters(text.as_bytes())
}

fn sounds_of_letters(letters: &[u8]) -> Sounds {
    let mut sounds = Sounds::default();
    let mut rest = letters;
    while let [letter, behind @ ..] = rest {
        match spelling(rest) {
            Some((spelled, taken)) => {
                spelled.bytes().for_each(|sound| sounds.push(sound));
                rest = rest.get(taken..).unwrap_or(&[]);
            }
            None => {
                sounds.push(*letter);
                rest = behind;
            }
        }
    }
    sounds.last = sounds.last_heard.and_then(order_of);
    sounds
}

/// The sound of a spelling at the front that is not its letter's, and how many letters it has.
fn spelling(text: &[u8]) -> Option<(&'static str, usize)> {
    let sound = match text {
        [b'g', b'u', b'i', ..] => ("gi", 3),
        [b'g', b'u', b'e', ..] => ("ge", 3),
        [b'g', b'u', b'a', ..] => ("ua", 3),
        [b'q', b'u', ..] | [b'c', b'k', ..] => ("k", 2),
        [b'p', b'h', ..] => ("f", 2),
        [b'c', b'h', ..] => ("C", 2),
        [b's', b'h', ..] => ("s", 2),
        [b't', b'h', ..] => ("t", 2),
        [b'l', b'l', ..] | [b'e', b'e', ..] => ("i", 2),
        [b'a' | b'e', b'y' | b'i', ..] => ("e", 2),
        [b'o', b'o', ..] => ("u", 2),
        [b'o', b'w' | b'a', ..] | [b'a', b'w', ..] => ("o", 2),
        [b'c', b'e', ..] => ("se", 2),
        [b'c', b'i', ..] => ("si", 2),
        [b'c', ..] => ("k", 1),
        [b'z' | b'x', ..] => ("s", 1),
        [b'y', ..] => ("i", 1),
        [b'w', ..] => ("u", 1),
        [b'v', ..] => ("b", 1),
        [b'j', ..] => ("h", 1),
        [b' ' | b'\'', ..] => ("", 1),
        _ => return None,
    };
    Some(sound)
}
