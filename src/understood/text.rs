use anstyle::Style;

use super::sentences::{Letter, Sentence, State};
use super::{InShort, Open, Understood};
use crate::findings::human::{printable, wrap};
use crate::text::{ClockTime, Place};

/// Columns before the words: the time stands there.
const MARGIN: usize = 9;

/// The note with its readings, then the lesson, then what is open. Nothing depends on colour.
pub fn text(understood: &Understood, width: usize) -> String {
    let mut text = String::new();
    for note in &understood.notes {
        heading(
            &mut text,
            &format!("{}: the words, and what was read from them", note.name),
            width,
        );
        let mut before = None;
        for sentence in &note.sentences {
            let again = sentence.time.is_some() && sentence.time == before;
            before = sentence.time;
            text.push_str(&told(sentence, again, width));
        }
        text.push('\n');
    }
    in_short(&mut text, &understood.lesson, width);
    open(&mut text, "Open questions", &understood.questions, width);
    let (musical, maybe): (Vec<&Open>, Vec<&Open>) = understood.not_understood.iter().partition(|open| open.musical);
    open(&mut text, "Not understood, and plainly music", &musical, width);
    open(&mut text, "Not understood, perhaps no music", &maybe, width);
    misheard(&mut text, &understood.misheard, width);
    text.trim_end().to_owned() + "\n"
}

fn heading(text: &mut String, words: &str, width: usize) {
    let bold = Style::new().bold();
    text.push_str(&format!("{bold}{}{bold:#}\n", wrap(words, width)));
}

fn moment(time: Option<ClockTime>, line: u32) -> String {
    match time {
        Some(time) => format!("{time:>7}"),
        None => format!("{:>7}", format!("line {line}")),
    }
}

/// The sentence in lines, under each the marks with their numbers, then what was read.
fn told(sentence: &Sentence, again: bool, width: usize) -> String {
    let mut text = String::new();
    let room = width.saturating_sub(MARGIN).max(20);
    let moment = if again {
        String::new()
    } else {
        moment(sentence.time, sentence.line)
    };
    let mut margin = format!("{moment:>7}  ");
    let faint = Style::new().dimmed();
    for line in lines(&sentence.letters, room) {
        let words: String = line.iter().map(|letter| letter.letter).collect();
        text.push_str(&format!("{margin}{}\n", printable(words.trim_end())));
        let marks = under(&line, sentence);
        if !marks.trim().is_empty() {
            text.push_str(&format!("{:MARGIN$}{faint}{}{faint:#}\n", "", marks.trim_end()));
        }
        margin = " ".repeat(MARGIN);
    }
    for mark in &sentence.marks {
        for (what, implied) in &mark.read {
            let label = format!("{:>MARGIN$} ", format!("{} =", mark.number));
            let what = match implied {
                Some(rule) => format!("{what} (implied: {rule})"),
                None => what.clone(),
            };
            text.push_str(&label);
            text.push_str(
                &wrap(&what, width.saturating_sub(MARGIN + 1)).replace('\n', &format!("\n{:w$}", "", w = MARGIN + 1)),
            );
            text.push('\n');
        }
    }
    if let State::NotUnderstood { why, musical } = &sentence.state {
        let what = if *musical { "not understood" } else { "nothing read" };
        text.push_str(&format!("{:>MARGIN$} {what}: {why}\n", "?"));
    }
    if sentence.private {
        text.push_str(&format!("{:>MARGIN$} private: never published\n", "!"));
    }
    text
}

/// Letters in lines that break between words.
fn lines(letters: &[Letter], room: usize) -> Vec<Vec<Letter>> {
    let mut lines: Vec<Vec<Letter>> = vec![Vec::new()];
    for word in letters.split_inclusive(|letter| letter.letter == ' ') {
        let full = lines
            .last()
            .is_some_and(|line| !line.is_empty() && line.len() + word.len() > room + 1);
        if full {
            lines.push(Vec::new());
        }
        if let Some(line) = lines.last_mut() {
            line.extend_from_slice(word);
        }
    }
    lines
}

/// `1------  2---`: a number where a mark begins, a line under its words.
fn under(line: &[Letter], sentence: &Sentence) -> String {
    let mut marks = String::new();
    let mut before = None;
    let mut skip = 0usize;
    for letter in line {
        let new = letter.mark != before;
        before = letter.mark;
        let number = letter
            .mark
            .and_then(|mark| sentence.marks.get(mark))
            .map(|mark| mark.number.to_string());
        match number {
            Some(number) if new => {
                skip = number.chars().count() - 1;
                marks.push_str(&number);
            }
            _ if skip > 0 => skip -= 1,
            Some(_) => marks.push('-'),
            None => marks.push(' '),
        }
    }
    marks
}

fn in_short(text: &mut String, lesson: &InShort, width: usize) {
    heading(text, &format!("The lesson: {}", lesson.title), width);
    for (name, value) in &lesson.facts {
        let value = wrap(value, width.saturating_sub(13)).replace('\n', &format!("\n{:13}", ""));
        text.push_str(&format!("  {name:<10} {value}\n"));
    }
    for pattern in &lesson.patterns {
        text.push_str(&format!("\n  {}\n", pattern.title));
        let chords = pattern
            .rows
            .iter()
            .map(|row| row.chord.chars().count())
            .max()
            .unwrap_or(0)
            .max(2);
        for row in &pattern.rows {
            let sign = if row.implied { '~' } else { ' ' };
            let strokes = wrap(&row.strokes.join(" + "), width.saturating_sub(chords + 16));
            let strokes = strokes.replace('\n', &format!("\n{:w$}", "", w = chords + 15));
            let row = format!("  {sign} {:>7}  {:<chords$}  {strokes}", row.at, row.chord);
            text.push_str(&format!("{}\n", row.trim_end()));
        }
    }
    if lesson
        .patterns
        .iter()
        .flat_map(|pattern| &pattern.rows)
        .any(|row| row.implied)
    {
        text.push_str("  ~ not said, but follows from what was\n");
    }
    for (line, about) in &lesson.cautions {
        let about = wrap(about, width.saturating_sub(22)).replace('\n', &format!("\n{:12}", ""));
        text.push_str(&format!("\n  careful:  {about} (line {line})\n"));
    }
    text.push('\n');
}

fn open<T: std::borrow::Borrow<Open>>(text: &mut String, title: &str, open: &[T], width: usize) {
    if open.is_empty() {
        return;
    }
    heading(text, &format!("{title} ({})", open.len()), width);
    for open in open {
        let open = open.borrow();
        let words = match open.why.as_str() {
            "" => open.words.clone(),
            why => format!("\"{}\": {why}", open.words),
        };
        item(text, &open.place, &words, width);
    }
    text.push('\n');
}

fn misheard(text: &mut String, words: &[(Place, String, String)], width: usize) {
    if words.is_empty() {
        return;
    }
    heading(text, &format!("Misheard and put right ({})", words.len()), width);
    for (place, heard, read) in words {
        item(text, place, &format!("\"{heard}\" was read as {read}"), width);
    }
}

fn item(text: &mut String, place: &Place, words: &str, width: usize) {
    let words = wrap(words, width.saturating_sub(MARGIN)).replace('\n', &format!("\n{:MARGIN$}", ""));
    text.push_str(&format!("{}  {words}\n", moment(place.time, place.line)));
}
