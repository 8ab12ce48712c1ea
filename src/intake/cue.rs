use super::Cue;
use crate::text::{ClockTime, Span};

impl Cue {
    /// The byte of the file that a byte of the cue's text came from.
    pub fn source_offset(&self, offset: usize) -> usize {
        let index = self.map.partition_point(|(at, _)| *at <= offset);
        match index.checked_sub(1).and_then(|index| self.map.get(index)) {
            Some((at, source)) => source + (offset - at),
            None => offset,
        }
    }

    /// The piece of the file that a piece of the cue's text came from, tags and time stamps inside it included.
    pub fn source_span(&self, start: usize, end: usize) -> Span {
        let first = self.source_offset(start);
        if end <= start {
            return Span::new(first, first);
        }
        let index = self.map.partition_point(|(at, _)| *at < end);
        let last = match (
            self.map.get(index),
            index.checked_sub(1).and_then(|index| self.map.get(index)),
        ) {
            (Some((at, source)), _) if *at == end => *source,
            (_, Some((at, source))) => source + (end - at),
            (_, None) => end,
        };
        Span::new(first, last.max(first))
    }

    /// The moment of a byte of the text: of its word where words are timed, otherwise of the cue.
    pub fn time_at(&self, offset: usize) -> Option<ClockTime> {
        let index = self.word_times.partition_point(|(at, _)| *at <= offset);
        let word = index.checked_sub(1).and_then(|index| self.word_times.get(index));
        word.map(|(_, time)| *time).or(self.time)
    }

    /// The bytes `start..end` of the text as a cue of their own.
    pub(super) fn part(&self, start: usize, end: usize) -> Cue {
        let text = self.text.get(start..end).unwrap_or("").to_owned();
        let inside = self.map.iter().filter(|(at, _)| *at > start && *at < end);
        let mut map = vec![(0, self.source_offset(start))];
        map.extend(inside.map(|(at, source)| (at - start, *source)));
        if !text.is_empty() {
            map.push((text.len(), self.source_span(start, end).end));
        }
        let within = |at: &usize| *at >= start && *at < end.max(start + 1);
        let timed = self.word_times.iter().filter(|(at, _)| within(at));
        let word_times: Vec<_> = timed.map(|(at, time)| (at - start, *time)).collect();
        Cue {
            file: self.file,
            text,
            map,
            time: if start == 0 { self.time } else { self.time_at(start) },
            until: self.until,
            word_times,
            speaker: self.speaker.clone(),
            private: self.private,
        }
    }
}
