//! A lesson's corrections, `heard -> meant`, applied to its transcripts before they are read.

use crate::intake::{Cue, Folder, Note};
use crate::music::lesson::{Misheard, Said};
use crate::text::{ClockTime, fold};

/// What stands between the words heard and the words meant.
const ARROWS: [&str; 4] = ["->", "→", "=>", "="];

/// One line of a corrections note.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Folded words.
    heard: Vec<String>,
    meant: String,
    /// Only there, give or take a cue.
    at: Option<ClockTime>,
}

/// The corrections of a note, the longest first. A line that is none is asked about.
pub fn read(folder: &Folder, note: &Note) -> (Vec<Correction>, Vec<Said<String>>) {
    let mut corrections = Vec::new();
    let mut questions = Vec::new();
    for cue in &note.cues {
        let mut start = 0;
        for line in cue.text.split('\n') {
            let end = start + line.len();
            let file = folder.files.get(cue.file.0 as usize);
            let place = file.map(|file| file.place(cue.source_span(start, end), cue.time));
            start = end + 1;
            let Some(place) = place.filter(|_| !line.trim().is_empty()) else {
                continue;
            };
            let stamped = file.is_some_and(|file| file.line(place.line).trim_start().starts_with(['[', '(']));
            match correction(line) {
                Some((heard, meant)) => corrections.push(Correction {
                    heard,
                    meant,
                    at: cue.time.filter(|_| stamped),
                }),
                None => {
                    let question = format!("Which words does \"{}\" correct? Write: heard -> meant", line.trim());
                    questions.push(Said::new(question, place));
                }
            }
        }
    }
    corrections.sort_by_key(|correction| (std::cmp::Reverse(correction.heard.len()), correction.at.is_none()));
    (corrections, questions)
}

fn correction(line: &str) -> Option<(Vec<String>, String)> {
    let (heard, meant) = ARROWS.iter().find_map(|arrow| line.split_once(arrow))?;
    let bare = |side: &str| side.trim().trim_matches(['"', '“', '”', '«', '»']).trim().to_owned();
    let heard: Vec<String> = words(&bare(heard)).into_iter().map(|word| word.folded).collect();
    (!heard.is_empty()).then(|| (heard, bare(meant)))
}

/// A word of a text, folded, with its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Word {
    folded: String,
    start: usize,
    end: usize,
}

/// Runs of letters and digits; an apostrophe or sharp inside belongs to the word.
fn words(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    let mut begun: Option<usize> = None;
    let inside = |letter: char| {
        letter.is_alphanumeric()
            || matches!(letter, '\'' | '’' | '#')
            || unicode_normalization::char::is_combining_mark(letter)
    };
    let ends = text.char_indices().chain([(text.len(), ' ')]);
    for (at, letter) in ends {
        match (begun, inside(letter)) {
            (None, true) => begun = Some(at),
            (Some(start), false) => {
                begun = None;
                let folded = fold(text.get(start..at).unwrap_or("")).text;
                words.push(Word { folded, start, end: at });
            }
            _ => {}
        }
    }
    words
}

/// Where the words of one correction stand: from a word of one cue to a word of the same or the next one.
struct Hit<'a> {
    correction: &'a Correction,
    first: (usize, Word),
    last: (usize, Word),
}

/// Puts a transcript right. What was changed is reported, each with the place of the words heard.
pub fn apply(folder: &Folder, note: &mut Note, corrections: &[Correction]) -> Vec<Misheard> {
    if corrections.is_empty() {
        return Vec::new();
    }
    let hits = hits(&note.cues, corrections);
    let misheard = hits.iter().filter_map(|hit| reported(folder, note, hit)).collect();
    for hit in hits.iter().rev() {
        let ((first, from), (last, to)) = (&hit.first, &hit.last);
        if first == last {
            replace(note.cues.get_mut(*first), from.start, to.end, &hit.correction.meant);
        } else {
            replace(note.cues.get_mut(*last), 0, to.end, "");
            let end = note.cues.get(*first).map_or(0, |cue| cue.text.len());
            replace(note.cues.get_mut(*first), from.start, end, &hit.correction.meant);
        }
    }
    misheard
}

fn hits<'a>(cues: &[Cue], corrections: &'a [Correction]) -> Vec<Hit<'a>> {
    let cued = |(index, cue): (usize, &Cue)| words(&cue.text).into_iter().map(move |word| (index, word));
    let all: Vec<(usize, Word)> = cues.iter().enumerate().flat_map(cued).collect();
    let mut hits = Vec::new();
    let mut index = 0;
    while let Some(rest) = all.get(index..).filter(|rest| !rest.is_empty()) {
        let found = corrections.iter().find(|correction| matches(correction, rest, cues));
        if let Some(correction) = found
            && let (Some(first), Some(last)) = (rest.first(), rest.get(correction.heard.len() - 1))
        {
            hits.push(Hit {
                correction,
                first: first.clone(),
                last: last.clone(),
            });
            index += correction.heard.len();
        } else {
            index += 1;
        }
    }
    hits
}

fn matches(correction: &Correction, rest: &[(usize, Word)], cues: &[Cue]) -> bool {
    let Some(stretch) = rest.get(..correction.heard.len()) else {
        return false;
    };
    let same = stretch
        .iter()
        .zip(&correction.heard)
        .all(|((_, word), heard)| word.folded == *heard);
    same && stretch.windows(2).all(|pair| joined(pair, cues)) && in_time(correction, stretch, cues)
}

/// Two words one behind the other in a cue, or over the border of two cues of one voice, both private or both not.
fn joined(pair: &[(usize, Word)], cues: &[Cue]) -> bool {
    let [(before, left), (after, right)] = pair else {
        return false;
    };
    let (Some(first), Some(second)) = (cues.get(*before), cues.get(*after)) else {
        return false;
    };
    let plain = |between: Option<&str>| {
        between.is_some_and(|between| {
            between
                .chars()
                .all(|letter| letter.is_whitespace() || ",-".contains(letter))
        })
    };
    if before == after {
        return plain(first.text.get(left.end..right.start));
    }
    let one_voice = first.private == second.private && first.speaker == second.speaker;
    *after == before + 1 && one_voice && plain(first.text.get(left.end..)) && plain(second.text.get(..right.start))
}

fn in_time(correction: &Correction, stretch: &[(usize, Word)], cues: &[Cue]) -> bool {
    let (Some(at), Some((cue, _))) = (correction.at, stretch.first()) else {
        return true;
    };
    let there = cues
        .iter()
        .rposition(|cue| cue.time.is_some_and(|time| time <= at))
        .unwrap_or(0);
    cue.abs_diff(there) <= 1
}

fn reported(folder: &Folder, note: &Note, hit: &Hit) -> Option<Misheard> {
    let ((first, from), (last, to)) = (&hit.first, &hit.last);
    let (cue, end_cue) = (note.cues.get(*first)?, note.cues.get(*last)?);
    let file = folder.files.get(cue.file.0 as usize)?;
    let start = cue.source_span(from.start, from.end);
    let span = start.to(end_cue.source_span(to.start, to.end));
    let heard = if first == last {
        cue.text.get(from.start..to.end)?.to_owned()
    } else {
        format!(
            "{} {}",
            cue.text.get(from.start..)?.trim(),
            end_cue.text.get(..to.end)?.trim()
        )
    };
    Some(Misheard {
        heard: heard.split_whitespace().collect::<Vec<_>>().join(" "),
        read_as: hit.correction.meant.clone(),
        place: file.place(span, cue.time_at(from.start)),
    })
}

/// Other words in the place of some bytes of a cue. Each of their letters points at all of the words that stood there.
fn replace(cue: Option<&mut Cue>, start: usize, end: usize, with: &str) {
    let Some(cue) = cue.filter(|cue| cue.text.get(start..end).is_some()) else {
        return;
    };
    let stood = cue.source_span(start, end);
    let mut map: Vec<(usize, usize)> = cue.map.iter().filter(|(at, _)| *at < start).copied().collect();
    if start > 0 {
        if map.is_empty() {
            map.push((0, cue.source_offset(0)));
        }
        map.push((start, cue.source_span(0, start).end));
    }
    for (at, letter) in with.char_indices() {
        map.push((start + at, stood.start));
        map.push((start + at + letter.len_utf8(), stood.end));
    }
    let moved = |at: usize| at - end + start + with.len();
    map.push((moved(end), cue.source_offset(end)));
    map.extend(
        cue.map
            .iter()
            .filter(|(at, _)| *at > end)
            .map(|(at, source)| (moved(*at), *source)),
    );
    cue.word_times = cue
        .word_times
        .iter()
        .filter(|(at, _)| *at <= start || *at >= end)
        .map(|(at, time)| (if *at >= end { moved(*at) } else { *at }, *time))
        .collect();
    cue.text.replace_range(start..end, with);
    cue.map = map;
}
