use serde::{Deserialize, Serialize};

use crate::findings::{Finding, Holes, Severity, Words};
use crate::text::{Language, SourceText, Span};

/// What `course.toml` at the top of the notes folder says of the course as a whole. Everything in it may be left out.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct CourseHead {
    pub title: String,
    /// One or two sentences for the first page.
    pub about: String,
    /// `en` or `es`: of the pages that belong to no lesson. Empty: that of most lessons.
    pub language: String,
}

/// Reads it. A file with a fault is left out whole, and said.
pub(super) fn read_course(source: &SourceText) -> (CourseHead, Option<Finding>) {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    match toml::from_str::<CourseHead>(text) {
        Ok(head) if !["", "en", "es"].contains(&head.language.as_str()) => {
            let at = source.text.find("language").unwrap_or(0);
            let span = Span::new(at, at + "language".len());
            let finding = fault(source, span, "language", &[("language", &head.language)]);
            let language = String::new();
            (CourseHead { language, ..head }, Some(finding))
        }
        Ok(head) => (head, None),
        Err(error) => {
            let mark = source.text.len() - text.len();
            let span = error
                .span()
                .map_or(Span::default(), |span| Span::new(span.start + mark, span.end + mark));
            let why = first_line(error.message());
            (CourseHead::default(), Some(fault(source, span, "", &[("fault", &why)])))
        }
    }
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or("").trim_end_matches('.')
}

fn fault(source: &SourceText, span: Span, case: &str, holes: Holes) -> Finding {
    let words = Words::of(Language::of_words([source.text.as_str()]));
    let place = source.place(span, None);
    Finding::worded(words, "course-file-wrong", Severity::Error, place, (case, case), holes)
}
