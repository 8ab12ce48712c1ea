//! Lines that are read, with what they say, and lines that are near them and must not be read.
//!
//! `lines.txt`: a line behind `> ` (or a block of them), under it what it says, one thing a line. In front may stand
//! what is known around it, behind `@ `. `near_misses.txt`: one line each.

use compasario::written::{Item, LineContext, OwnWord, line};

use crate::show::show;

const LINES: &str = include_str!("lines.txt");
const STACKED: &str = include_str!("stacked.txt");
const NEAR_MISSES: &str = include_str!("near_misses.txt");

#[derive(Default)]
struct Case<'t> {
    text: String,
    expected: Vec<&'t str>,
    around: Vec<&'t str>,
}

fn cases(table: &str) -> Vec<Case<'_>> {
    let mut cases = Vec::new();
    for paragraph in table.split("\n\n") {
        let mut case = Case::default();
        let mut input: Vec<&str> = Vec::new();
        for row in paragraph.lines().filter(|row| !row.starts_with("//")) {
            if let Some(text) = row.strip_prefix("> ") {
                input.push(text);
            } else if let Some(around) = row.strip_prefix("@ ") {
                case.around.push(around);
            } else {
                case.expected.push(row.trim());
            }
        }
        if !input.is_empty() {
            case.text = input.join("\n");
            cases.push(case);
        }
    }
    cases
}

fn with_context<T>(around: &[&str], run: impl FnOnce(&LineContext) -> T) -> T {
    let mut own_words: Vec<OwnWord> = Vec::new();
    let mut lengths: Vec<i64> = Vec::new();
    let mut context = LineContext::default();
    for row in around {
        let (name, value) = row.split_once(' ').unwrap();
        let number = value.parse::<i64>().ok();
        match name {
            "count" => context.count = number,
            "beats" => context.beats = number,
            "first" => context.first = number,
            "per-count" => context.per_count = number,
            "string" => context.string = number.and_then(|n| u8::try_from(n).ok()),
            "indent" => context.indent = usize::try_from(number.unwrap()).unwrap(),
            "lengths" => lengths = value.split(' ').map(|n| n.parse().unwrap()).collect(),
            "word" => {
                let items = line(value, &LineContext::default()).unwrap();
                own_words.extend(items.into_iter().filter_map(|item| match item.value {
                    Item::Defines(own) => Some(own),
                    _ => None,
                }));
            }
            other => panic!("unknown context `{other}`"),
        }
    }
    context.own_words = &own_words;
    context.lengths = &lengths;
    run(&context)
}

fn check(table: &str) {
    let mut wrong = Vec::new();
    for case in cases(table) {
        let read = with_context(&case.around, |context| line(&case.text, context));
        let said: Vec<String> = match &read {
            Some(items) => items.iter().map(|item| show(&item.value)).collect(),
            None => vec!["not read".to_owned()],
        };
        if said != case.expected {
            wrong.push(format!(
                "> {}\n    {}",
                case.text.replace('\n', "\n> "),
                said.join("\n    ")
            ));
        }
        for item in read.iter().flatten() {
            assert!(
                case.text.get(item.span.start..item.span.end).is_some(),
                "{}: {:?}",
                case.text,
                item.span
            );
        }
    }
    assert!(wrong.is_empty(), "read otherwise:\n\n{}\n", wrong.join("\n\n"));
}

#[test]
fn lines_are_read() {
    check(LINES);
}

#[test]
fn stacked_rows_are_read() {
    check(STACKED);
}

#[test]
fn near_misses_are_not_read() {
    let misses = NEAR_MISSES
        .lines()
        .filter(|row| !row.is_empty() && !row.starts_with("//"));
    let around = [
        "count 4",
        "beats 12",
        "per-count 4",
        "string 1",
        "word gp = golpe w/ a",
        "word G = golpe (a)",
    ];
    let read: Vec<String> = misses
        .filter_map(|text| {
            let bare = line(text, &LineContext::default());
            let items = bare.or_else(|| with_context(&around, |context| line(text, context)))?;
            Some(format!(
                "{text}\n    {}",
                items
                    .iter()
                    .map(|item| show(&item.value))
                    .collect::<Vec<_>>()
                    .join("\n    ")
            ))
        })
        .collect();
    assert!(read.is_empty(), "prose was read:\n\n{}\n", read.join("\n\n"));
}
