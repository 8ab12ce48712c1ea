//! Each edit of the table is made to a lesson, and the music compared: exactly what stands under it has to be said.

use std::path::Path;

use compasario::compare::{self, Comparison, Side, Verdict};
use compasario::pages::{self, Choices, CourseHead, SiteInput};
use compasario::pipeline;

const TABLE: &str = include_str!("edits.txt");

struct Edit {
    title: String,
    lesson: String,
    /// Lines taken out, and the lines that come in their place; each group is one replacement.
    changes: Vec<(Vec<String>, Vec<String>)>,
    /// Paragraphs of the note put in another order.
    turned: bool,
    expected: Vec<String>,
}

fn table() -> Vec<Edit> {
    let mut edits: Vec<Edit> = Vec::new();
    let mut lesson = String::new();
    for line in TABLE.lines() {
        let (sign, rest) = line.split_at(line.char_indices().nth(1).map_or(line.len(), |(at, _)| at));
        let rest = rest.strip_prefix(' ').unwrap_or(rest).to_owned();
        if let Some(name) = line.strip_prefix("## ") {
            name.clone_into(&mut lesson);
            continue;
        }
        if lesson.is_empty() {
            continue;
        }
        if sign == "*" {
            edits.push(Edit {
                title: rest,
                lesson: lesson.clone(),
                changes: Vec::new(),
                turned: false,
                expected: Vec::new(),
            });
            continue;
        }
        let Some(edit) = edits.last_mut() else { continue };
        match sign {
            "-" => match edit.changes.last_mut() {
                Some((was, is)) if is.is_empty() => was.push(rest),
                _ => edit.changes.push((vec![rest], Vec::new())),
            },
            "+" => match edit.changes.last_mut() {
                Some((_, is)) => is.push(rest),
                None => edit.changes.push((Vec::new(), vec![rest])),
            },
            "~" => edit.turned = true,
            "=" => edit.expected.push(rest),
            _ => {}
        }
    }
    edits
}

fn note(lesson: &str) -> (String, String) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/compare/lessons");
    let name = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let name = name.into_iter().find(|name| name.starts_with(lesson)).unwrap();
    let text = std::fs::read_to_string(folder.join(&name)).unwrap();
    (name, text)
}

fn edited(text: &str, edit: &Edit) -> String {
    let mut text = text.to_owned();
    for (was, is) in &edit.changes {
        if was.is_empty() {
            text.push_str(&format!("\n{}\n", is.join("\n")));
            continue;
        }
        let was = was.join("\n");
        assert_eq!(
            text.matches(&was).count(),
            1,
            "{}: `{was}` stands there once",
            edit.title
        );
        text = text.replace(&was, &is.join("\n"));
    }
    if edit.turned {
        let mut parts: Vec<&str> = text.trim_end().split("\n\n").collect();
        let last = parts.len() - 1;
        parts.swap(last, last - 1);
        text = parts.join("\n\n") + "\n";
    }
    text
}

pub fn side(folder: &Path) -> Side {
    let review = pipeline::review(folder).unwrap();
    let head = CourseHead::default();
    let input = SiteInput {
        head: &head,
        lessons: &review.published,
        folder: &review.folder,
        palos: &review.palos,
        choices: Choices::default(),
        publication: Default::default(),
    };
    Side {
        record: pages::record(&input),
        ..Side::default()
    }
}

fn compared(edit: &Edit) -> Comparison {
    let (name, text) = note(&edit.lesson);
    let directory = tempfile::tempdir().unwrap();
    let sides = [("old", text.clone()), ("new", edited(&text, edit))].map(|(folder, text)| {
        let folder = directory.path().join(folder);
        std::fs::create_dir(&folder).unwrap();
        std::fs::write(folder.join(&name), text).unwrap();
        side(&folder)
    });
    let [old, new] = sides;
    compare::compare(&old, &new, "")
}

#[test]
fn every_edit_of_the_table_is_told_as_it_stands_there() {
    let edits = table();
    assert!(edits.len() >= 40, "{}", edits.len());
    let mut wrong = String::new();
    for edit in &edits {
        let comparison = compared(edit);
        let said: Vec<&String> = comparison
            .lessons
            .iter()
            .flat_map(|lesson| &lesson.music)
            .map(|music| &music.words)
            .collect();
        if said != edit.expected.iter().collect::<Vec<_>>() {
            wrong.push_str(&format!("* {} ({})\n", edit.title, edit.lesson));
            edit.expected
                .iter()
                .for_each(|line| wrong.push_str(&format!("  expected: {line}\n")));
            said.iter().for_each(|line| wrong.push_str(&format!("= {line}\n")));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// An edit made backwards has as many differences, and is never silent.
#[test]
fn an_edit_taken_back_is_a_difference_too() {
    for edit in table().iter().filter(|edit| !edit.turned) {
        let (name, text) = note(&edit.lesson);
        let directory = tempfile::tempdir().unwrap();
        let there = |folder: &str, text: &str| {
            let folder = directory.path().join(folder);
            std::fs::create_dir(&folder).unwrap();
            std::fs::write(folder.join(&name), text).unwrap();
            side(&folder)
        };
        let (old, new) = (there("old", &edited(&text, edit)), there("new", &text));
        let back = compare::compare(&old, &new, "");
        let count: usize = back.lessons.iter().map(|lesson| lesson.music.len()).sum();
        assert_eq!(count == 0, edit.expected.is_empty(), "{}", edit.title);
    }
}

#[test]
fn a_lesson_beside_itself_is_nothing() {
    for lesson in ["tangos", "solea", "rumba"] {
        let edit = Edit {
            title: "nothing".to_owned(),
            lesson: lesson.to_owned(),
            changes: Vec::new(),
            turned: false,
            expected: Vec::new(),
        };
        assert_eq!(compared(&edit).verdict, Verdict::Nothing, "{lesson}");
    }
}
