use crate::findings::{Finding, Holes, Severity, Words};
use crate::text::{ClockTime, Place, SourceText, Span};

/// Gathers the findings about one file.
pub(super) struct Report<'a> {
    source: &'a SourceText,
    words: &'static Words,
    pub(super) findings: Vec<Finding>,
}

impl<'a> Report<'a> {
    pub(super) fn new(source: &'a SourceText, words: &'static Words) -> Self {
        Self {
            source,
            words,
            findings: Vec::new(),
        }
    }

    pub(super) fn place(&self, span: Span) -> Place {
        self.source.place(span, None)
    }

    /// A warning in the words of its rule, or those of the case.
    pub(super) fn warn(&mut self, rule: &str, span: Span, case: &str, holes: Holes) {
        self.add(Severity::Warning, rule, (span, None), case, holes);
    }

    pub(super) fn error(&mut self, rule: &str, span: Span, case: &str, holes: Holes) {
        self.add(Severity::Error, rule, (span, None), case, holes);
    }

    pub(super) fn warn_at(&mut self, rule: &str, span: Span, time: Option<ClockTime>, case: &str, holes: Holes) {
        self.add(Severity::Warning, rule, (span, time), case, holes);
    }

    fn add(
        &mut self,
        severity: Severity,
        rule: &str,
        (span, time): (Span, Option<ClockTime>),
        case: &str,
        holes: Holes,
    ) {
        let place = self.source.place(span, time);
        let finding = Finding::worded(self.words, rule, severity, place, (case, case), holes);
        self.findings.push(finding);
    }
}
