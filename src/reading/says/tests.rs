//! What a rule needs is what it needs: in no sentence of the test notes would a rule have found anything without it.

use std::path::Path;

use super::super::clauses::clauses;
use super::super::forms::tests::context;
use super::super::forms::{Asked, FORMS, names_in};
use super::super::language::language_of;
use super::super::lexicon::{Language, lexicon};
use super::super::moments::{MOMENT, MOMENTS};
use super::super::pitch_words::named;
use super::super::sentences::sentences;
use super::super::tokens::{Tokens, tokens};
use super::Kind;
use crate::intake::{Note, load_note};

/// A sentence of the test notes and the one before it.
struct Read {
    language: Language,
    text: String,
    tokens: Tokens,
    before: Tokens,
    opening: bool,
}

fn all_sentences() -> Vec<Read> {
    let mut all = Vec::new();
    for note in test_notes() {
        let language = language_of(&note);
        let cut = |text: &str| Tokens::of(tokens(text, language, lexicon(language)));
        let mut before = String::new();
        for sentence in sentences(&note, language) {
            all.push(Read {
                language,
                tokens: cut(&sentence.text),
                opening: before.is_empty(),
                before: cut(&before),
                text: sentence.text.clone(),
            });
            before = sentence.text;
        }
    }
    assert!(all.len() > 3_000, "{} sentences are too few", all.len());
    all
}

#[test]
fn forms_find_nothing_without_what_they_need() {
    let mut wrong = Vec::new();
    for read in all_sentences() {
        for standing in 0..16 {
            let context = context(read.language, standing & 1 > 0);
            let asked = Asked {
                tokens: &read.tokens,
                says: read.tokens.says,
                names: names_in(&read.tokens, &context),
                context: &context,
                previous: &read.before,
                in_pattern: standing & 2 > 0,
                fresh_variation: standing & 4 > 0,
                opens_line: standing & 8 > 0,
                opening: read.opening,
                text: &read.text,
            };
            let unasked = FORMS.iter().filter(|form| !form.is_asked(&asked));
            let finding = unasked.filter(|form| !(form.read)(&asked).is_empty());
            wrong.extend(finding.map(|form| format!("{}: {}", form.name, read.text)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_name_is_missed_for_the_looks_of_its_word() {
    let mut wrong = Vec::new();
    for Read {
        language, text, tokens, ..
    } in all_sentences()
    {
        for (at, token) in tokens.iter().enumerate().filter(|(_, token)| !token.has(Kind::Name)) {
            let found = [false, true].map(|typed| named(&tokens, at, language, typed));
            if found.iter().any(Option::is_some) {
                wrong.push(format!("{}: {text}", token.raw));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_moment_is_missed_for_what_its_word_is() {
    for read in all_sentences() {
        let mut context = context(read.language, true);
        for (thirds, typed) in [(false, false), (false, true), (true, false), (true, true)] {
            (context.thirds, context.typed) = (thirds, typed);
            for (begins, moment) in MOMENTS {
                assert!(MOMENT.or(begins) == MOMENT, "{begins:?}");
                let others = (0..read.tokens.len()).filter(|at| !read.tokens[*at].says().any_of(begins));
                let missed: Vec<usize> = others
                    .filter(|at| moment(&read.tokens, *at, &context).is_some())
                    .collect();
                assert!(missed.is_empty(), "{missed:?} in {}", read.text);
            }
        }
    }
}

/// The readers of clauses are held against what they begin with at every token, as each sentence is read.
#[test]
fn clauses_begin_with_what_their_readers_say() {
    for read in all_sentences() {
        for standing in 0..4 {
            let mut context = context(read.language, standing & 1 > 0);
            context.punctuated = standing & 2 > 0;
            clauses(&read.tokens, &context);
        }
    }
}

/// The notes of the corpus and of the other voices.
fn test_notes() -> Vec<Note> {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let voices = std::fs::read_dir(tests.join("voices"))
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let folders = voices
        .filter(|path| path.is_dir())
        .chain([tests.join("corpus/lessons")]);
    let files = folders.flat_map(|folder| std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()));
    let written = files.filter(|path| {
        path.extension()
            .is_some_and(|ending| ending == "txt" || ending == "vtt")
    });
    written.flat_map(|path| load_note(&path).unwrap().notes).collect()
}
