use super::super::context::Context;
use super::super::lexicon::{Language, lexicon};
use super::super::tokens::tokens;
use super::{Asked, FORMS};

/// Every form reads its own example.
#[test]
fn every_form_reads_its_example() {
    for form in &FORMS {
        let context = Context {
            language: Language::English,
            typed: true,
            punctuated: true,
            beats: Some(12),
            aliases: Vec::new(),
            alternating: false,
            thirds: false,
            round: None,
            highest: 0,
        };
        let tokens = tokens(form.example, Language::English, lexicon(Language::English));
        let asked = Asked {
            tokens: &tokens,
            context: &context,
            previous: &[],
            in_pattern: matches!(form.name, "pattern-begins" | "passage"),
            fresh_variation: false,
            opens_line: true,
            opening: true,
            text: form.example,
        };
        assert!(
            !(form.read)(&asked).is_empty(),
            "{} does not read {:?}",
            form.name,
            form.example
        );
    }
}
