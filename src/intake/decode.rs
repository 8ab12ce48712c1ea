/// Largest file that is read: far above any transcript (an hour of speech is about 60 kB), far below what would stop a build.
pub(super) const LARGEST: u64 = 20_000_000;

/// Bytes as text, or why they are none.
pub(super) enum Decoded {
    Text(String),
    Fault(Fault),
}

/// Why a file's bytes are not the text of a note.
pub(super) struct Fault {
    pub(super) rule: &'static str,
    /// The key of its words.
    pub(super) case: &'static str,
    /// The byte that is none of a text's, and the letter that it would be in an older encoding.
    pub(super) byte: u8,
    pub(super) letter: Option<char>,
    /// Where it stands, from 1.
    pub(super) number: usize,
    /// The text as far as it can be shown, so that the place can be pointed at.
    pub(super) shown: String,
    /// Byte where the trouble begins.
    pub(super) at: usize,
}

impl Fault {
    /// A fault of a file of which nothing can be shown.
    fn of(rule: &'static str, case: &'static str, byte: u8, at: usize) -> Self {
        Self {
            rule,
            case,
            byte,
            letter: None,
            number: at + 1,
            shown: String::new(),
            at: 0,
        }
    }
}

/// UTF-8, with or without a byte order mark. A note is text: no NUL bytes.
pub(super) fn decode(bytes: Vec<u8>) -> Decoded {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Decoded::Fault(Fault::of("file-in-utf-16", "", 0, 0));
    }
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        return Decoded::Fault(Fault::of("file-not-text", "zero", 0, at));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Decoded::Text(text),
        Err(error) => Decoded::Fault(not_utf8(error.as_bytes(), error.utf8_error().valid_up_to())),
    }
}

fn not_utf8(bytes: &[u8], at: usize) -> Fault {
    let byte = bytes.get(at).copied().unwrap_or_default();
    let strange = bytes
        .iter()
        .filter(|byte| **byte < 0x20 && !matches!(byte, b'\n' | b'\r' | b'\t'))
        .count();
    if strange * 20 > bytes.len() {
        return Fault::of("file-not-text", "", byte, at);
    }
    let letter = older_letter(byte);
    let case = if letter.is_some() { "letter" } else { "" };
    Fault {
        letter,
        shown: String::from_utf8_lossy(bytes).into_owned(),
        at,
        ..Fault::of("file-not-utf-8", case, byte, at)
    }
}

/// What a byte stands for in Windows-1252, where that is a letter of Spanish or a usual mark.
fn older_letter(byte: u8) -> Option<char> {
    match byte {
        0x91 => Some('‘'),
        0x92 => Some('’'),
        0x93 => Some('“'),
        0x94 => Some('”'),
        0x96 => Some('–'),
        0x97 => Some('—'),
        0xa1..=0xff => Some(char::from(byte)),
        _ => None,
    }
}
