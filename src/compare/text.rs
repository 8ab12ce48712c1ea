//! The comparison for a terminal: plain text, the music first.

use super::wording::{LineChange, WordRun};
use super::{Comparison, Fate, Follows, LessonChange, PageChange, PageFate, ToldFinding, Verdict};
use crate::findings::Severity;

/// The whole comparison; ends with one line that says what it comes to.
pub fn text(comparison: &Comparison) -> String {
    let mut out = String::new();
    for lesson in &comparison.lessons {
        out.push_str(&of_lesson(lesson));
        out.push('\n');
    }
    out.push_str(&section("Pages", comparison.pages.iter().map(page_in_words), ""));
    if !comparison.pages.is_empty() {
        out.push('\n');
    }
    out.push_str(verdict(comparison));
    out.push('\n');
    out
}

/// What it all comes to, in one sentence.
pub fn verdict(comparison: &Comparison) -> &'static str {
    match comparison.verdict {
        Verdict::Nothing => "Nothing changed.",
        Verdict::Pages => "The music and the words are the same; only titles, order or addresses changed.",
        Verdict::Words => "Only the words changed: the music is the same.",
        Verdict::Music => "The music changed.",
    }
}

fn of_lesson(lesson: &LessonChange) -> String {
    let mut out = lesson.lesson.clone();
    if lesson.title != lesson.lesson && !lesson.title.is_empty() {
        out.push_str(&format!(": {}", lesson.title));
    }
    match (lesson.fate, &lesson.was) {
        (Fate::New, _) => out.push_str(" (new)"),
        (Fate::Gone, _) => out.push_str(" (gone)"),
        (Fate::Renamed, Some(was)) => out.push_str(&format!(" (was {was})")),
        (Fate::Renamed, None) | (Fate::Kept, _) => {}
    }
    out.push('\n');
    let music = lesson.music.iter().map(|difference| difference.words.clone());
    out.push_str(&section("Music", music, "  "));
    if let Some(sameness) = sameness(lesson) {
        out.push_str(&format!("  {sameness}\n"));
    }
    out.push_str(&section("Course", lesson.course.iter().cloned(), "  "));
    out.push_str(&section("What follows", follows_in_words(&lesson.follows), "  "));
    out.push_str(&section("Words", lesson.words.iter().flat_map(line), "  "));
    out
}

/// What a lesson was and is, for its heading on a page.
pub fn fate_in_words(lesson: &LessonChange) -> String {
    let fate = match (lesson.fate, &lesson.was) {
        (Fate::New, _) => " (new)".to_owned(),
        (Fate::Gone, _) => " (gone)".to_owned(),
        (Fate::Renamed, Some(was)) => format!(" (was {was})"),
        (Fate::Renamed, None) | (Fate::Kept, _) => String::new(),
    };
    let sameness = sameness(lesson).map_or(String::new(), |words| format!(". {words}"));
    format!("{}{fate}{sameness}", lesson.lesson)
}

/// What is to be said of a lesson whose music is the same.
fn sameness(lesson: &LessonChange) -> Option<&'static str> {
    let kept = matches!(lesson.fate, Fate::Kept | Fate::Renamed);
    (kept && lesson.music.is_empty()).then_some(if lesson.words.is_empty() {
        "The music and the words are the same."
    } else {
        "Rewording only: the music is the same."
    })
}

fn section(title: &str, lines: impl IntoIterator<Item = String>, indent: &str) -> String {
    let lines: Vec<String> = lines.into_iter().collect();
    if lines.is_empty() {
        return String::new();
    }
    let body: String = lines.iter().map(|line| format!("{indent}  {line}\n")).collect();
    format!("{indent}{title}\n{body}")
}

/// What follows, a line each.
pub fn follows_in_words(follows: &Follows) -> Vec<String> {
    let mut lines: Vec<String> = follows.joins.iter().chain(&follows.exercises).cloned().collect();
    if !follows.needed_by.is_empty() {
        lines.push(format!(
            "lessons that lead to this one: {}",
            follows.needed_by.join(", ")
        ));
    }
    lines.extend(follows.findings_new.iter().map(|finding| told("comes", finding)));
    lines.extend(follows.findings_gone.iter().map(|finding| told("goes", finding)));
    lines
}

fn told(what: &str, finding: &ToldFinding) -> String {
    let severity = match finding.severity {
        Severity::Error => "an error",
        Severity::Warning => "a warning",
        Severity::Note => "a note",
    };
    format!("{severity} {what} ({}): {}", finding.rule, finding.message)
}

/// `-` the line as it was, `+` as it is; words that differ stand in brackets where the line stayed.
fn line(change: &LineChange) -> Vec<String> {
    let both = !change.was.is_empty() && !change.is.is_empty();
    let shown = |sign: char, runs: &[WordRun]| {
        let marked = |run: &WordRun| match (both && run.differs, run.text.trim_end()) {
            (true, trimmed) if !trimmed.is_empty() => {
                let rest = run.text.get(trimmed.len()..).unwrap_or_default();
                format!("[{trimmed}]{rest}")
            }
            (_, _) => run.text.clone(),
        };
        let text: String = runs.iter().map(marked).collect();
        (!runs.is_empty()).then(|| format!("{sign} {text}"))
    };
    shown('-', &change.was)
        .into_iter()
        .chain(shown('+', &change.is))
        .collect()
}

/// What becomes of an address.
pub fn page_in_words(page: &PageChange) -> String {
    let mut out = match (page.fate, &page.to) {
        (PageFate::New, _) => format!("new: {}", page.address),
        (PageFate::Moved, Some(to)) => format!("moved: {} -> {to}", page.address),
        (PageFate::Moved, None) => format!("moved: {}", page.address),
        (PageFate::Gone, _) => format!("gone: {} (links to it from elsewhere break)", page.address),
    };
    if !page.linked_from.is_empty() {
        out.push_str(&format!("; linked from {}", page.linked_from.join(", ")));
    }
    out
}
