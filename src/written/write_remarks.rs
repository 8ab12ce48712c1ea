//! The teacher's words written out: cautions, advice, questions, links, and the record of the reading.

use crate::music::lesson::{Caution, Lesson};
use crate::text::Place;

use super::spelling::{caution_text, plain_or_quoted, quoted};
use super::write::{Detail, Line};

/// Cautions and questions stand below the pattern that they were read in.
pub struct Remarks {
    /// The pattern's index, or none for the end of the page; in the order of the lesson.
    cautions: Vec<(Option<usize>, Line)>,
    questions: Vec<(Option<usize>, Line)>,
}

impl Remarks {
    pub fn of(lesson: &Lesson) -> Self {
        let cautions = lesson
            .cautions
            .iter()
            .map(|caution| (caution.place, caution_line(caution)));
        let questions = lesson.questions.iter().map(|question| {
            let text = format!("? {}", plain_or_quoted(&question.value));
            (question.place, Line::said(text, question))
        });
        Self {
            cautions: placed(lesson, cautions),
            questions: placed(lesson, questions),
        }
    }

    pub fn take(&mut self, pattern: usize) -> Vec<Line> {
        let mut lines = Vec::new();
        for list in [&mut self.cautions, &mut self.questions] {
            let here = list.iter().take_while(|(index, _)| *index == Some(pattern)).count();
            lines.extend(list.drain(..here).map(|(_, line)| line));
        }
        lines
    }

    pub fn rest(self) -> Vec<Line> {
        let all = self.cautions.into_iter().chain(self.questions);
        all.map(|(_, line)| line).collect()
    }
}

/// Each line with the last pattern that begins before it in the same file; the last pattern of all when it has no
/// such place. The order of the lines is kept: one that would step back stands with the one before it.
fn placed(lesson: &Lesson, lines: impl Iterator<Item = (Place, Line)>) -> Vec<(Option<usize>, Line)> {
    let end = lesson.patterns.len().checked_sub(1);
    let mut reached = 0;
    let mut placed = Vec::new();
    for (place, line) in lines {
        let before = lesson.patterns.iter().rposition(|pattern| {
            let begins = pattern.place;
            place.line > 0 && begins.line > 0 && begins.file == place.file && begins.span.start <= place.span.start
        });
        let here = before.or(end);
        reached = reached.max(here.unwrap_or(0));
        placed.push((here.map(|_| reached), line));
    }
    placed
}

fn caution_line(caution: &Caution) -> Line {
    let counts: Vec<String> = caution.counts.iter().map(ToString::to_string).collect();
    let counts = if counts.is_empty() {
        String::new()
    } else {
        format!("({}) ", counts.join(", "))
    };
    let about = caution_text(&caution.about);
    Line::new(format!("! {counts}{about}"), caution.place)
}

pub fn remarks(lesson: &Lesson, detail: Detail) -> Vec<Line> {
    let mut lines = Vec::new();
    for advice in &lesson.advice {
        lines.push(Line::said(
            format!("advice: {}", plain_or_quoted(&advice.value)),
            advice,
        ));
    }
    for link in &lesson.links {
        let word = if link.announced { "later" } else { "see" };
        let text = format!("{word} {}: {}", link.target, plain_or_quoted(&link.words));
        lines.push(Line::new(text, link.place));
    }
    // That a technique is used, the strokes of a draft show themselves.
    let techniques = lesson.techniques.iter();
    for technique in techniques.filter(|technique| technique.explained || detail == Detail::All) {
        let word = if technique.explained { "explains" } else { "uses" };
        let text = format!("{word}: {}", plain_or_quoted(&technique.id));
        lines.push(Line::new(text, technique.place));
    }
    for let_stand in &lesson.let_stand {
        let reason = if let_stand.reason.is_empty() {
            String::new()
        } else {
            format!(": {}", plain_or_quoted(&let_stand.reason))
        };
        lines.push(Line::new(
            format!("(let stand {}{reason})", let_stand.rule),
            let_stand.place,
        ));
    }
    lines
}

/// How the text was read: kept in full, left out of a draft.
pub fn record(lesson: &Lesson) -> Vec<Line> {
    let mut lines = Vec::new();
    for misheard in &lesson.misheard {
        let text = format!("heard {}, read {}", quoted(&misheard.heard), quoted(&misheard.read_as));
        lines.push(Line::new(text, misheard.place));
    }
    for unread in &lesson.unread {
        let musical = if unread.musical { "!" } else { "" };
        let text = format!(
            "not read{musical} {}: {}",
            quoted(&unread.text),
            plain_or_quoted(&unread.reason)
        );
        lines.push(Line::new(text, unread.place));
    }
    for conflict in &lesson.conflicts {
        let (first, second) = (quoted(&conflict.first), quoted(&conflict.second));
        let text = format!("either {first} or {second}: {}", plain_or_quoted(&conflict.about));
        lines.push(Line::new(text, conflict.place));
    }
    lines
}
