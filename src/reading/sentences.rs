//! Cues to sentences: joined where a sentence runs across cues, with a way back to the file.

use std::borrow::Cow;

use super::lexicon::Language;
use super::turns::soften;
use crate::intake::{Cue, Folder, Note, NoteKind};
use crate::text::{ClockTime, Place};

/// A sentence, or a part of a typed line that stands alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    pub text: String,
    /// Where stretches of `text` stand: `(in text, which cue, in the cue's text)`, sorted.
    pieces: Vec<(usize, usize, usize)>,
    /// It is the first of its typed line, or of its paragraph.
    pub opens_line: bool,
    pub typed: bool,
    pub private: bool,
    pub speaker: Option<String>,
}

impl Sentence {
    /// The first cue that it stands in.
    pub fn cue(&self) -> usize {
        self.pieces.first().map_or(0, |piece| piece.1)
    }

    /// Where in its first cue it begins.
    pub fn cue_offset(&self) -> usize {
        self.pieces.first().map_or(0, |piece| piece.2)
    }

    /// The place of some bytes of the sentence.
    pub fn place(&self, folder: &Folder, note: &Note, start: usize, end: usize) -> Place {
        let (first_cue, first) = self.locate(start);
        let (last_cue, last) = self.locate(end.saturating_sub(1).max(start));
        let (Some(cue), Some(end_cue)) = (note.cues.get(first_cue), note.cues.get(last_cue)) else {
            return Place::default();
        };
        let from = cue.source_offset(first);
        let to = end_cue.source_span(last, last + 1).end;
        let Some(file) = folder.files.get(cue.file.0 as usize) else {
            return Place::default();
        };
        let mut to = to.min(file.text.len());
        while !file.text.is_char_boundary(to) {
            to += 1;
        }
        let time = moment(note, first_cue, first);
        file.place(crate::text::Span::new(from, to.max(from)), time)
    }

    fn locate(&self, offset: usize) -> (usize, usize) {
        let index = self
            .pieces
            .partition_point(|(at, _, _)| *at <= offset)
            .saturating_sub(1);
        match self.pieces.get(index) {
            Some((at, cue, within)) => (*cue, within + offset.saturating_sub(*at)),
            None => (0, offset),
        }
    }
}

/// The time of a byte of a cue: of the word where the file says so, otherwise by proportion within spoken paragraphs.
fn moment(note: &Note, index: usize, offset: usize) -> Option<ClockTime> {
    let cue = note.cues.get(index)?;
    let begun = cue.time?;
    if let Some((_, time)) = cue.word_times.iter().rev().find(|(at, _)| *at <= offset) {
        return Some(*time);
    }
    if note.kind == NoteKind::Typed {
        return Some(begun);
    }
    let ends = cue
        .until
        .or_else(|| note.cues.iter().skip(index + 1).find_map(|next| next.time));
    let Some(ends) = ends.filter(|ends| *ends > begun) else {
        return Some(begun);
    };
    let length = cue.text.len().max(1) as u64;
    let into = (ends.milliseconds - begun.milliseconds) * (offset as u64).min(length) / length;
    Some(ClockTime::from_milliseconds(begun.milliseconds + into))
}

/// Cuts a note into sentences.
pub fn sentences(note: &Note, language: Language) -> Vec<Sentence> {
    let typed = note.kind != NoteKind::Spoken;
    let stops = note.cues.iter().any(|cue| cue.text.contains(['.', ',']));
    let mut out = Vec::new();
    let mut index = 0;
    while index < note.cues.len() {
        let end = if typed {
            index + 1
        } else {
            run_end(&note.cues, index, stops)
        };
        let joined = join(note.cues.get(index..end).unwrap_or(&[]), index);
        for (number, line) in lines_of(&joined.text, typed).enumerate() {
            cut(
                &joined,
                line,
                typed,
                number > 0 || typed,
                &note.cues,
                language,
                &mut out,
            );
        }
        index = end;
    }
    out
}

/// Whether a note has commas and stops at all: a transcript may have none.
pub fn is_punctuated(sentences: &[Sentence]) -> bool {
    let is_stop = |byte: &u8| matches!(byte, b',' | b'.');
    let stops = |sentence: &Sentence| sentence.text.bytes().filter(is_stop).count();
    let stops = sentences.iter().map(stops).sum::<usize>() * 40;
    // A word and what parts it from the next take two bytes at least: mostly there is no need to count them.
    let most: usize = sentences.iter().map(|sentence| sentence.text.len() / 2 + 1).sum();
    if stops > most {
        return true;
    }
    let mut words = 0;
    sentences.iter().all(|sentence| {
        words += words_in(&sentence.text, usize::MAX);
        words < stops
    })
}

/// How many words stand in a text, apart by white space, counted up to `most`.
pub fn words_in(text: &str, most: usize) -> usize {
    if !text.is_ascii() {
        return text.split_whitespace().take(most).count();
    }
    let is_space = |byte: u8| matches!(byte, b' ' | b'\t'..=b'\r');
    let mut words = 0;
    let mut apart = true;
    for byte in text.bytes() {
        words += usize::from(apart && !is_space(byte));
        apart = is_space(byte);
        if words == most {
            break;
        }
    }
    words
}

/// Captions and paragraphs that one sentence runs across belong together. `stops` is whether the note has marks at all.
fn run_end(cues: &[Cue], start: usize, stops: bool) -> usize {
    let mut end = start + 1;
    while let (Some(before), Some(next)) = (cues.get(end - 1), cues.get(end)) {
        let finished = before.text.trim_end().ends_with(['.', '?', '!', '…', '"', '»']);
        let pause = match (before.until, next.time) {
            (Some(until), Some(time)) => time.milliseconds > until.milliseconds + 1500,
            _ => before.until.is_none() && (!stops || !next.text.trim_start().starts_with(char::is_lowercase)),
        };
        if finished || pause || before.private != next.private || before.speaker != next.speaker {
            break;
        }
        end += 1;
    }
    end
}

struct Joined<'a> {
    text: Cow<'a, str>,
    pieces: Vec<(usize, usize, usize)>,
}

fn join(cues: &[Cue], first: usize) -> Joined<'_> {
    if let [alone] = cues {
        return Joined {
            text: Cow::Borrowed(&alone.text),
            pieces: vec![(0, first, 0)],
        };
    }
    let mut text = String::new();
    let mut pieces = Vec::with_capacity(cues.len());
    for (index, cue) in cues.iter().enumerate() {
        if !text.is_empty() {
            text.push(' ');
        }
        pieces.push((text.len(), first + index, 0));
        text.push_str(&cue.text);
    }
    Joined {
        text: Cow::Owned(text),
        pieces,
    }
}

/// Where the lines of a typed text begin and end; a spoken one is one line.
fn lines_of(text: &str, typed: bool) -> impl Iterator<Item = (usize, usize)> {
    let mut start = 0;
    let ends = text.match_indices('\n').filter(move |_| typed).map(|(at, _)| at);
    ends.chain([text.len()]).map(move |end| {
        let line = (start, end);
        start = end + 1;
        line
    })
}

fn cut(
    joined: &Joined,
    (from, to): (usize, usize),
    typed: bool,
    opens_line: bool,
    cues: &[Cue],
    language: Language,
    out: &mut Vec<Sentence>,
) {
    let Some(text) = joined.text.get(from..to) else { return };
    let mut opens = opens_line;
    for (start, end) in bounds(text, typed, language) {
        let Some(part) = text.get(start..end) else { continue };
        let trimmed = part.trim();
        if trimmed.is_empty() {
            continue;
        }
        let lead = part.len() - part.trim_start().len();
        let begin = from + start + lead;
        let finish = begin + trimmed.len();
        let first = joined
            .pieces
            .partition_point(|(at, _, _)| *at <= begin)
            .saturating_sub(1);
        let pieces = joined
            .pieces
            .iter()
            .skip(first)
            .take_while(|(at, _, _)| *at < finish)
            .map(|(at, cue, within)| {
                if *at <= begin {
                    (0, *cue, within + (begin - at))
                } else {
                    (at - begin, *cue, *within)
                }
            })
            .collect::<Vec<_>>();
        let cue = pieces.first().and_then(|(_, cue, _)| cues.get(*cue));
        out.push(Sentence {
            text: trimmed.to_owned(),
            private: cue.is_some_and(|cue| cue.private),
            speaker: cue.and_then(|cue| cue.speaker.clone()),
            pieces,
            opens_line: opens,
            typed,
        });
        opens = false;
    }
}

/// Where the sentences of a text begin and end.
fn bounds(text: &str, typed: bool, language: Language) -> Vec<(usize, usize)> {
    let mut bounds = Vec::new();
    let mut start = 0;
    let marks = text.bytes().enumerate();
    // Most bytes are letters, and they stand behind these marks.
    for (at, mark) in marks.filter(|(_, byte)| *byte <= b'?' && matches!(byte, b'.' | b'?' | b'!' | b';')) {
        let next = || text.get(at + 1..).and_then(|rest| rest.chars().next());
        let closes = mark == b';' || next().is_none_or(char::is_whitespace);
        let ends = closes
            && match mark {
                b'.' => ends_sentence(text, start, at, typed),
                b'!' => at > start && !one_letter_word(text, at),
                _ => true,
            };
        if ends {
            bounds.push((start, at + 1));
            start = at + 1;
        }
    }
    bounds.push((start, text.len()));
    if !typed {
        bounds = gather_short(text, bounds, language);
    }
    let mut softened = Vec::with_capacity(bounds.len());
    for (from, to) in bounds {
        soften(text, from, to, language, &mut softened);
    }
    softened
}

/// Whether the point at a byte ends a sentence: it is not one of several, and no abbreviation's or list number's.
fn ends_sentence(text: &str, start: usize, at: usize, typed: bool) -> bool {
    let before = text.get(..at).unwrap_or("");
    let list_number = || typed && start == 0 && before.trim().parse::<u8>().is_ok();
    !before.ends_with('.') && !abbreviation(text, start, at, typed) && !list_number()
}

/// Fragments belong together: "The 2. Index down. Golpe with it. Ring finger."
fn gather_short(text: &str, bounds: Vec<(usize, usize)>, language: Language) -> Vec<(usize, usize)> {
    const LONG: usize = 7;
    let words = |(start, end): (usize, usize)| text.get(start..end).map_or(0, |part| words_in(part, LONG));
    let asks = |(start, end): (usize, usize)| {
        text.get(start..end)
            .is_some_and(|part| part.trim_end().ends_with(['?', '!']))
    };
    let tells = |(start, end): (usize, usize)| text.get(start..end).is_some_and(|part| tells_a_count(part, language));
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut last_words = usize::MAX;
    for bound in bounds {
        let here = words(bound);
        if here == 0 {
            continue;
        }
        match out
            .last_mut()
            .filter(|before| last_words <= 4 && here < LONG && !asks(**before) && !tells(bound))
        {
            Some(before) => before.1 = bound.1,
            None => out.push(bound),
        }
        last_words = here;
    }
    out
}

/// "On 1 the thumb goes down.", "El 2 es un golpe.": a count and what is played on it stand by themselves.
fn tells_a_count(sentence: &str, language: Language) -> bool {
    const LEADS: [&str; 19] = [
        "and", "then", "on", "the", "count", "beat", "y", "en", "el", "al", "so", "now", "right", "okay", "luego",
        "ahora", "entonces", "bueno", "vale",
    ];
    let folded = crate::text::fold(sentence).text;
    let words: Vec<&str> = folded
        .split_whitespace()
        .map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric()))
        .collect();
    // "2, down up": one of a row that is said over.
    const STROKES: [&str; 9] = ["down", "up", "and", "knock", "golpe", "tap", "abajo", "arriba", "y"];
    let row = folded.split_whitespace().next().is_some_and(|word| word.ends_with(','));
    let of_a_row = row && words.iter().skip(1).all(|word| STROKES.contains(word));
    let count = words
        .iter()
        .position(|word| !LEADS.contains(word))
        .filter(|_| !of_a_row);
    let told = count.and_then(|at| Some((words.get(at)?, words.len() - at - 1)));
    let is_count = |word: &str| {
        let number = word.parse().ok().or(super::numbers::cardinal(word, language));
        number.is_some_and(|number| (1..=12).contains(&number))
    };
    // "A for one through four."
    let over = |pair: &[&str]| matches!(pair, ["for" | "from" | "del", count] if is_count(count));
    told.is_some_and(|(word, behind)| is_count(word) && behind >= 2) || words.windows(2).any(over)
}

fn abbreviation(text: &str, start: usize, at: usize, typed: bool) -> bool {
    const KNOWN: [&str; 17] = [
        "e.g", "i.e", "etc", "vs", "acc", "rasg", "arr", "ab", "ind", "med", "an", "pul", "no", "aprox", "tr", "cda",
        "var",
    ];
    // They may also end a sentence.
    const OF_STROKES: [&str; 8] = ["dn", "ras", "str", "fr", "golp", "abaj", "abj", "pulg"];
    let word = text
        .get(start..at)
        .and_then(|before| before.split_whitespace().next_back())
        .unwrap_or("");
    let plain = word.trim_start_matches(['(', '"']);
    let is = |known: &str| plain.eq_ignore_ascii_case(known);
    // `ras. = rasgueado`
    let defined = || {
        text.get(at + 1..)
            .is_some_and(|behind| behind.trim_start().starts_with('='))
    };
    let behind = || text.get(at + 1..).and_then(|behind| behind.trim_start().chars().next());
    let goes_on = || !behind().is_some_and(|next| next.is_uppercase() || next == '(');
    let shortened = || KNOWN.iter().any(|known| is(known)) || OF_STROKES.iter().any(|known| is(known)) && goes_on();
    typed && at + 1 < text.len() && (shortened() || defined()) || is("m.d") || is("m.i")
}

fn one_letter_word(text: &str, at: usize) -> bool {
    let word = text
        .get(..at)
        .and_then(|before| before.split_whitespace().next_back())
        .unwrap_or("");
    word.chars().count() == 1
}
