use super::Cue;
use super::cue_text::CueText;
use super::kinds::Form;
use crate::text::{ClockTime, FileId};

/// Character references that captions use: those of the WebVTT standard, and the letters and marks of Spanish.
const ENTITIES: &[(&str, &str)] = &[
    ("amp", "&"),
    ("lt", "<"),
    ("gt", ">"),
    ("quot", "\""),
    ("apos", "'"),
    ("nbsp", "\u{a0}"),
    ("lrm", "\u{200e}"),
    ("rlm", "\u{200f}"),
    ("aacute", "á"),
    ("eacute", "é"),
    ("iacute", "í"),
    ("oacute", "ó"),
    ("uacute", "ú"),
    ("ntilde", "ñ"),
    ("uuml", "ü"),
    ("Aacute", "Á"),
    ("Eacute", "É"),
    ("Iacute", "Í"),
    ("Oacute", "Ó"),
    ("Uacute", "Ú"),
    ("Ntilde", "Ñ"),
    ("Uuml", "Ü"),
    ("iquest", "¿"),
    ("iexcl", "¡"),
    ("hellip", "…"),
    ("ndash", "–"),
    ("mdash", "—"),
    ("lsquo", "‘"),
    ("rsquo", "’"),
    ("ldquo", "“"),
    ("rdquo", "”"),
    ("frac12", "½"),
    ("deg", "°"),
];

/// The words of one caption: tags off, entities resolved, line ends a space; one cue a voice.
pub(super) fn caption_cues(file: FileId, form: Form, payload: &str, start: usize) -> Vec<Cue> {
    let mut reader = Reader {
        form,
        payload,
        start,
        voices: vec![Voice::default()],
    };
    let mut at = 0;
    while at < payload.len() {
        at += reader.step(at).max(1);
    }
    let spoken = reader.voices.into_iter().filter(|voice| !voice.text.is_blank());
    spoken
        .map(|voice| Cue {
            speaker: voice.speaker,
            ..voice.text.into_cue(file)
        })
        .collect()
}

#[derive(Default)]
struct Voice {
    speaker: Option<String>,
    text: CueText,
}

struct Reader<'a> {
    form: Form,
    payload: &'a str,
    start: usize,
    voices: Vec<Voice>,
}

impl<'a> Reader<'a> {
    /// Reads what stands at a byte of the payload; the bytes it took.
    fn step(&mut self, at: usize) -> usize {
        let rest = self.payload.get(at..).unwrap_or("");
        match rest.chars().next() {
            Some('\n' | '\r' | ' ' | '\t' | '\u{c}') => self.space(rest, at),
            Some('<') => self.tag(rest, at),
            Some('&') => self.entity(rest, at),
            Some('{') if self.form == Form::SubRip => self.override_tag(rest, at),
            _ => self.run(rest, at),
        }
    }

    fn text(&mut self) -> Option<&mut CueText> {
        self.voices.last_mut().map(|voice| &mut voice.text)
    }

    /// White space and line ends in a row are one space; none at the start.
    fn space(&mut self, rest: &str, at: usize) -> usize {
        let length = rest.len() - rest.trim_start_matches(['\n', '\r', ' ', '\t', '\u{c}']).len();
        let start = self.start + at;
        if let Some(text) = self.text().filter(|text| !text.is_empty() && !text.ends_with_space()) {
            text.push_instead(" ", start, start + length);
        }
        length
    }

    fn tag(&mut self, rest: &str, at: usize) -> usize {
        let Some(end) = rest.find('>') else {
            return self.literal(rest, at);
        };
        let inside = rest.get(1..end).unwrap_or("");
        let like_a_tag = inside.starts_with(|letter: char| letter.is_ascii_alphabetic() || letter == '/');
        if self.form == Form::SubRip && !like_a_tag {
            return self.literal(rest, at);
        }
        let name = inside.split(['.', ' ', '\t', '\n', '\r']).next().unwrap_or("");
        if inside.starts_with(|letter: char| letter.is_ascii_digit()) {
            if let (Some(time), Some(text)) = (caption_time(inside), self.text()) {
                text.push_word_time(time);
            }
        } else if name == "v" {
            let speaker = inside
                .split_once([' ', '\t', '\n', '\r'])
                .map(|(_, speaker)| plain(speaker));
            self.voice(speaker.filter(|speaker| !speaker.is_empty()));
        } else if name == "/v" {
            self.voice(None);
        }
        end + 1
    }

    fn voice(&mut self, speaker: Option<String>) {
        self.voices.push(Voice {
            speaker,
            text: CueText::default(),
        });
    }

    fn entity(&mut self, rest: &str, at: usize) -> usize {
        let name = rest
            .get(1..)
            .and_then(|rest| rest.split_once(';'))
            .map(|(name, _)| name);
        let Some((name, letters)) = name.and_then(|name| Some((name, resolve(name)?))) else {
            return self.literal(rest, at);
        };
        let length = name.len() + 2;
        let start = self.start + at;
        if let Some(text) = self.text() {
            text.push_instead(&letters, start, start + length);
        }
        length
    }

    /// `{\an8}`: where on the screen, in some SRT files.
    fn override_tag(&mut self, rest: &str, at: usize) -> usize {
        match rest.find('}').filter(|_| rest.starts_with("{\\")) {
            Some(end) => end + 1,
            None => self.literal(rest, at),
        }
    }

    /// One letter as it stands.
    fn literal(&mut self, rest: &str, at: usize) -> usize {
        let length = rest.chars().next().map_or(1, char::len_utf8);
        self.push(rest.get(..length).unwrap_or(""), at)
    }

    fn run(&mut self, rest: &str, at: usize) -> usize {
        let special = ['<', '&', '{', '\n', '\r', ' ', '\t', '\u{c}'];
        let first = rest.chars().next().map_or(0, char::len_utf8);
        let after = rest.get(first..).unwrap_or("");
        let length = first + after.find(special).unwrap_or(after.len());
        self.push(rest.get(..length).unwrap_or(""), at)
    }

    fn push(&mut self, piece: &str, at: usize) -> usize {
        let start = self.start + at;
        if let Some(text) = self.text() {
            text.push_source(piece, start);
        }
        piece.len()
    }
}

/// `&amp;`, `&#233;`, `&#xe9;`, without the ends.
fn resolve(name: &str) -> Option<String> {
    if let Some(number) = name.strip_prefix('#') {
        let code = match number.strip_prefix(['x', 'X']) {
            Some(hex) => u32::from_str_radix(hex, 16).ok()?,
            None => number.parse().ok()?,
        };
        return char::from_u32(code)
            .filter(|letter| !letter.is_control())
            .map(String::from);
    }
    let found = ENTITIES.iter().find(|(known, _)| *known == name);
    found.map(|(_, letters)| (*letters).to_owned())
}

/// A speaker's name: entities resolved, white space single.
fn plain(name: &str) -> String {
    let cue = caption_cues(FileId::default(), Form::WebVtt, name, 0);
    cue.into_iter().next().map(|cue| cue.text).unwrap_or_default()
}

/// A WebVTT time: `mm:ss.ttt` or `h:mm:ss.ttt`, exactly three figures after the full stop.
pub(super) fn caption_time(text: &str) -> Option<ClockTime> {
    let (whole, fraction) = text.split_once('.')?;
    let parts: Vec<&str> = whole.split(':').collect();
    let two = |part: Option<&&str>| part.is_some_and(|part| part.len() == 2);
    let shaped = match parts.len() {
        2 => two(parts.first()) && two(parts.get(1)),
        3 => two(parts.get(1)) && two(parts.get(2)),
        _ => false,
    };
    let minutes = parts
        .len()
        .checked_sub(2)
        .and_then(|at| parts.get(at))
        .and_then(|part| part.parse::<u64>().ok());
    let sound = shaped && fraction.len() == 3 && minutes.is_some_and(|minutes| minutes < 60);
    ClockTime::parse(text).filter(|_| sound)
}
