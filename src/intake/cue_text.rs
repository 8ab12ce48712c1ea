use unicode_normalization::char::canonical_combining_class;
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc, is_nfc_quick};

use super::Cue;
use crate::text::{ClockTime, FileId};

/// A cue's text while it is gathered from its file: composed accents, and the way back to the file's bytes.
///
/// Two entries of the map for one byte of text mean that something in the file was passed over there:
/// the first is where the run before ends, the second where the next one begins.
#[derive(Debug, Clone, Default)]
pub(super) struct CueText {
    text: String,
    map: Vec<(usize, usize)>,
    word_times: Vec<(usize, ClockTime)>,
    /// Byte of the file where the last run ended.
    source_end: usize,
    /// The last run is byte for byte the file's, so that the next may follow in step.
    in_step: bool,
}

impl CueText {
    /// Adds a piece of the file as it stands there, accents composed.
    pub(super) fn push_source(&mut self, piece: &str, start: usize) {
        if piece.is_ascii() || is_nfc(piece) {
            self.push_run(piece, start, start + piece.len(), true);
            return;
        }
        let mut at = start;
        for cluster in clusters(piece) {
            let composed: String = cluster.nfc().collect();
            if composed == cluster {
                self.push_run(cluster, at, at + cluster.len(), true);
            } else {
                self.push_composed(&composed, at, at + cluster.len());
            }
            at += cluster.len();
        }
    }

    /// Adds text that stands for a piece of the file: an entity, a line end.
    pub(super) fn push_instead(&mut self, text: &str, start: usize, end: usize) {
        if text.len() == end - start && text.is_ascii() {
            self.push_run(text, start, end, true);
        } else {
            self.push_composed(text, start, end);
        }
    }

    pub(super) fn push_word_time(&mut self, time: ClockTime) {
        self.word_times.push((self.text.len(), time));
    }

    pub(super) fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    pub(super) fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }

    pub(super) fn ends_with_space(&self) -> bool {
        self.text.ends_with(char::is_whitespace)
    }

    /// The finished cue, without times; white space at its end is left off.
    pub(super) fn into_cue(mut self, file: FileId) -> Cue {
        self.map.push((self.text.len(), self.source_end));
        let cue = Cue {
            file,
            text: self.text,
            map: self.map,
            time: None,
            until: None,
            word_times: self.word_times,
            speaker: None,
            private: false,
        };
        let end = cue.text.trim_end().len();
        cue.part(0, end)
    }

    /// Each letter of a composed cluster leads back to the whole cluster.
    fn push_composed(&mut self, composed: &str, start: usize, end: usize) {
        let mut rest = composed.char_indices();
        rest.next();
        let inner: Vec<usize> = rest.map(|(at, _)| at).collect();
        let begin = self.text.len();
        self.push_run(composed, start, end, false);
        self.map.extend(inner.into_iter().map(|at| (begin + at, start)));
    }

    fn push_run(&mut self, text: &str, start: usize, end: usize, in_step: bool) {
        if text.is_empty() {
            return;
        }
        let at = self.text.len();
        let follows = at > 0 && self.source_end == start;
        if at > 0 && !follows {
            self.map.push((at, self.source_end));
        }
        if !(follows && in_step && self.in_step) {
            self.map.push((at, start));
        }
        self.text.push_str(text);
        self.source_end = end;
        self.in_step = in_step;
    }
}

/// Parts a text where composing cannot reach across: before each letter that never joins the one before it.
fn clusters(text: &str) -> Vec<&str> {
    let mut clusters = Vec::new();
    let mut start = 0;
    for (at, letter) in text.char_indices().skip(1) {
        if stands_alone(letter) {
            clusters.extend(text.get(start..at));
            start = at;
        }
    }
    clusters.extend(text.get(start..).filter(|last| !last.is_empty()));
    clusters
}

/// Nothing before it can join it: neither it nor what it begins with when taken apart is a combining letter.
fn stands_alone(letter: char) -> bool {
    let begins = std::iter::once(letter).nfd().next().unwrap_or(letter);
    let never_joins = matches!(is_nfc_quick(std::iter::once(begins)), IsNormalized::Yes);
    canonical_combining_class(begins) == 0 && never_joins
}
