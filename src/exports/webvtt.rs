//! A lesson's recording as WebVTT: chapters, one for each pattern, and captions, what is taught at each moment.
//!
//! Only times that stand in the notes. Where the recording's length is not known the last chapter ends with the last
//! moment that anything was read at. A caption stands until the next, but no longer than [`LONGEST`].

use crate::music::lesson::Lesson;
use crate::text::ClockTime;

/// The file; None when no pattern has a time.
pub fn chapters(lesson: &Lesson) -> Option<String> {
    let mut starts: Vec<(ClockTime, &str)> = Vec::new();
    for pattern in &lesson.patterns {
        // Several patterns begun in one breath are one chapter under the first's name.
        if let Some(time) = pattern.place.time
            && starts.iter().all(|(known, _)| *known != time)
        {
            starts.push((time, pattern.name.as_str()));
        }
    }
    starts.sort_by_key(|(time, _)| *time);
    let (last, _) = *starts.last()?;
    let end = lesson
        .recording_length
        .or_else(|| last_moment(lesson))
        .filter(|end| *end > last);
    let end = end.unwrap_or(ClockTime::from_milliseconds(last.milliseconds + 1_000));
    let ends = starts.iter().skip(1).map(|(time, _)| *time).chain([end]);
    let mut text = "WEBVTT\n".to_owned();
    for (index, ((start, name), until)) in starts.iter().zip(ends).enumerate() {
        let (number, start, until) = (index + 1, stamp(*start), stamp(until));
        text.push_str(&format!("\n{number}\n{start} --> {until}\n{}\n", payload(name)));
    }
    Some(text)
}

/// Milliseconds that a caption stands at most. Ours: long enough to read three lines twice.
const LONGEST: u64 = 15_000;

/// What was understood, in a musician's words, each at its moment; None when nothing has a time.
pub fn captions(lesson: &Lesson) -> Option<String> {
    let mut moments: Vec<(ClockTime, Vec<&str>)> = Vec::new();
    let mut readings: Vec<(ClockTime, &str)> = lesson
        .readings
        .iter()
        .filter_map(|reading| Some((reading.place.time?, reading.what.as_str())))
        .collect();
    readings.sort_by_key(|(time, _)| *time);
    for (time, what) in readings {
        match moments.last_mut().filter(|(known, _)| *known == time) {
            Some((_, lines)) if lines.contains(&what) => {}
            Some((_, lines)) => lines.push(what),
            None => moments.push((time, vec![what])),
        }
    }
    let after = |time: ClockTime| ClockTime::from_milliseconds(time.milliseconds + LONGEST);
    let ends = moments.iter().skip(1).map(|(time, _)| *time);
    let ends: Vec<ClockTime> = ends.chain(moments.last().map(|(last, _)| after(*last))).collect();
    let mut text = "WEBVTT\n".to_owned();
    for (index, ((start, lines), next)) in moments.iter().zip(ends).enumerate() {
        let (number, start, until) = (index + 1, stamp(*start), stamp(next.min(after(*start))));
        let lines: Vec<String> = lines.iter().map(|line| payload(line)).collect();
        text.push_str(&format!("\n{number}\n{start} --> {until}\n{}\n", lines.join("\n")));
    }
    (!moments.is_empty()).then_some(text)
}

fn last_moment(lesson: &Lesson) -> Option<ClockTime> {
    lesson.readings.iter().filter_map(|reading| reading.place.time).max()
}

/// `hh:mm:ss.ttt`, hours always given.
fn stamp(time: ClockTime) -> String {
    let (seconds, rest) = (time.milliseconds / 1_000, time.milliseconds % 1_000);
    format!(
        "{:02}:{:02}:{:02}.{rest:03}",
        seconds / 3_600,
        seconds / 60 % 60,
        seconds % 60
    )
}

/// One line of a cue: `&`, `<` and `>` escaped, which also keeps an arrow out of it; line ends become spaces.
fn payload(name: &str) -> String {
    let mut text = String::new();
    for letter in name.trim().chars() {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '\n' | '\r' => text.push(' '),
            letter => text.push(letter),
        }
    }
    if text.is_empty() { "–".to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::lesson::Reading;
    use crate::music::pattern::{Pattern, Role};
    use crate::text::Place;

    fn lesson(patterns: &[(&str, Option<u64>)]) -> Lesson {
        let pattern = |(name, seconds): &(&str, Option<u64>)| Pattern {
            name: (*name).to_owned(),
            role: Role::Variation,
            span: None,
            strokes: Vec::new(),
            changes: Vec::new(),
            left: Vec::new(),
            runs_on: None,
            claims: Vec::new(),
            place: Place {
                time: seconds.map(ClockTime::from_seconds),
                ..Place::default()
            },
        };
        Lesson {
            patterns: patterns.iter().map(pattern).collect(),
            ..Lesson::default()
        }
    }

    /// The form of the W3C's WebVTT: header, identifier, timings with three decimals, one line, a blank line between.
    #[test]
    fn chapters_follow_one_another() {
        let mut lesson = lesson(&[
            ("core", Some(42)),
            ("V1 <thumb> & run", Some(200)),
            ("untimed", None),
            ("same", Some(42)),
        ]);
        lesson.recording_length = Some(ClockTime::from_seconds(3_725));
        let expected = "WEBVTT\n\n1\n00:00:42.000 --> 00:03:20.000\ncore\n\n2\n00:03:20.000 --> 01:02:05.000\nV1 &lt;thumb&gt; &amp; run\n";
        assert_eq!(chapters(&lesson).as_deref(), Some(expected));
    }

    #[test]
    fn a_chapter_always_ends_after_it_begins() {
        let mut lesson = lesson(&[("core", Some(42))]);
        lesson.recording_length = Some(ClockTime::from_seconds(10));
        assert!(chapters(&lesson).is_some_and(|text| text.contains("00:00:42.000 --> 00:00:43.000")));
    }

    #[test]
    fn a_caption_stands_until_the_next_but_not_for_ever() {
        let mut lesson = lesson(&[]);
        let reading = |seconds, what: &str| Reading {
            what: what.to_owned(),
            place: Place {
                time: Some(ClockTime::from_seconds(seconds)),
                ..Place::default()
            },
            sentence: Place::default(),
            implied: None,
        };
        lesson.readings = vec![
            reading(4, "tempo 90"),
            reading(1, "3: down with i --> golpe"),
            reading(4, "compás of 12"),
            reading(60, "key E"),
        ];
        let expected = "WEBVTT\n\n1\n00:00:01.000 --> 00:00:04.000\n3: down with i --&gt; golpe\n\n\
            2\n00:00:04.000 --> 00:00:19.000\ntempo 90\ncompás of 12\n\n3\n00:01:00.000 --> 00:01:15.000\nkey E\n";
        assert_eq!(captions(&lesson).as_deref(), Some(expected));
    }

    #[test]
    fn nothing_is_made_of_no_times() {
        assert_eq!(captions(&lesson(&[])), None);
        assert_eq!(chapters(&lesson(&[("core", None)])), None);
    }
}
