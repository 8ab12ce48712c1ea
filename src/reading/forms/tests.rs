use super::super::context::Context;
use super::super::lexicon::{Language, lexicon};
use super::super::tokens::{Tokens, tokens};
use super::{Asked, FORMS, Form, names_in};

/// What a sentence is read with.
pub fn context(language: Language, typed: bool) -> Context {
    Context {
        language,
        typed,
        punctuated: true,
        beats: Some(12),
        aliases: Vec::new(),
        own_sounds: Vec::new(),
        own_strings: Vec::new(),
        gestures: Vec::new(),
        alternating: false,
        thirds: false,
        highest: 0,
        round: None,
        pairs: false,
        joins_with_ampersand: false,
        own_palos: Default::default(),
    }
}

/// What a form reads in a sentence that stands alone in a typed note.
fn reads(form: &Form, text: &str) -> bool {
    let spanish = text
        .split(' ')
        .any(|word| matches!(word, "hoy" | "en" | "al" | "acentos" | "tiempos" | "(tiempos"));
    let language = if spanish { Language::Spanish } else { Language::English };
    let context = context(language, true);
    let tokens = Tokens::of(tokens(text, language, lexicon(language)));
    let asked = Asked {
        tokens: &tokens,
        says: tokens.says,
        names: names_in(&tokens, &context),
        context: &context,
        previous: &Tokens::default(),
        in_pattern: matches!(form.name, "pattern-begins" | "passage" | "own-heading"),
        fresh_variation: false,
        opens_line: true,
        opening: true,
        text,
    };
    form.is_asked(&asked) && !(form.read)(&asked).is_empty()
}

#[test]
fn every_form_reads_its_example() {
    for form in &FORMS {
        assert!(
            reads(form, form.example),
            "{} does not read {:?}",
            form.name,
            form.example
        );
    }
}

/// Each form has a table `tests/reading/NAME.txt`: sentences it reads, and near misses it must not read.
#[test]
fn every_form_has_a_table_and_keeps_it() {
    let mut wrong = Vec::new();
    for form in &FORMS {
        let path = format!("{}/tests/reading/{}.txt", env!("CARGO_MANIFEST_DIR"), form.name);
        let Ok(table) = std::fs::read_to_string(&path) else {
            wrong.push(format!("{path} is missing"));
            continue;
        };
        let (read, missed) = table.split_once("near misses").unwrap_or((&table, ""));
        let rows = |text: &str| -> Vec<String> {
            let rows = text.lines().filter_map(|line| line.strip_prefix("    "));
            rows.map(str::to_owned).collect()
        };
        let (read, missed) = (rows(read), rows(missed));
        if read.len() < 3 || missed.len() < 3 {
            wrong.push(format!("{path} wants three sentences of each kind"));
        }
        wrong.extend(
            read.iter()
                .filter(|row| !reads(form, row))
                .map(|row| format!("{} does not read {row:?}", form.name)),
        );
        wrong.extend(
            missed
                .iter()
                .filter(|row| reads(form, row))
                .map(|row| format!("{} reads {row:?}", form.name)),
        );
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
