use crate::findings::{Finding, Severity};
use crate::text::{ClockTime, Place, SourceText, Span};

/// Gathers the findings about one file.
pub(super) struct Report<'a> {
    source: &'a SourceText,
    pub(super) findings: Vec<Finding>,
}

impl<'a> Report<'a> {
    pub(super) fn new(source: &'a SourceText) -> Self {
        Self {
            source,
            findings: Vec::new(),
        }
    }

    pub(super) fn place(&self, span: Span) -> Place {
        self.source.place(span, None)
    }

    pub(super) fn warn(&mut self, rule: &str, span: Span, message: String, help: &str) {
        self.add(Severity::Warning, rule, span, None, message, help);
    }

    pub(super) fn error(&mut self, rule: &str, span: Span, message: String, help: &str) {
        self.add(Severity::Error, rule, span, None, message, help);
    }

    pub(super) fn warn_at(&mut self, rule: &str, span: Span, time: Option<ClockTime>, message: String, help: &str) {
        self.add(Severity::Warning, rule, span, time, message, help);
    }

    fn add(
        &mut self,
        severity: Severity,
        rule: &str,
        span: Span,
        time: Option<ClockTime>,
        message: String,
        help: &str,
    ) {
        self.findings.push(Finding {
            place: self.source.place(span, time),
            severity,
            rule: rule.to_owned(),
            message,
            help: help.to_owned(),
            also: Vec::new(),
        });
    }
}
