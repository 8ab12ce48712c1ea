//! Every lesson whose facts were written down by hand, written in the form and read back.

use std::path::{Path, PathBuf};

use compasario::exports::facts::{Facts, from_lesson, to_lesson};
use compasario::written;

use crate::score::f1;

fn gold_files(folder: &Path, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    for entry in entries {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gold_files(&path, found);
        } else if path.to_string_lossy().ends_with(".gold.json") {
            found.push(path);
        }
    }
}

fn all_gold() -> Vec<(PathBuf, Facts)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["tests/corpus/lessons", "tests/voices", "tests/demo-gold"] {
        gold_files(&root.join(folder), &mut files);
    }
    files.sort();
    let facts = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).unwrap();
        let facts = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        (path, facts)
    };
    files.into_iter().map(facts).collect()
}

#[test]
fn every_gold_lesson_written_and_read_back_scores_one() {
    let gold = all_gold();
    assert!(gold.len() >= 8, "the corpus has eight lessons, {} found", gold.len());
    for (path, facts) in gold {
        let lesson = to_lesson(&facts);
        let text = written::write(&lesson);
        let read = from_lesson(&written::read(&text));
        let score = f1(&from_lesson(&lesson), &read);
        assert!(score == 1.0, "{}: {score:.3}\n{text}", path.display());
        let differs = comparable(&read).into_iter().zip(comparable(&from_lesson(&lesson)));
        let differs: Vec<_> = differs.filter(|(read, gold)| read != gold).take(3).collect();
        assert!(differs.is_empty(), "{}: {differs:#?}\n{text}", path.display());
    }
}

/// The facts line by line, strokes in the order of a pattern, without the lines of the other text.
fn comparable(facts: &Facts) -> Vec<String> {
    let mut facts = facts.clone();
    facts.cautions.iter_mut().for_each(|caution| caution.line = 0);
    for pattern in &mut facts.patterns {
        pattern.strokes.sort_by_key(|stroke| (stroke.at, stroke.action));
        pattern.changes.sort_by_key(|change| change.at);
    }
    let text = serde_json::to_string_pretty(&facts).unwrap();
    text.lines().map(str::to_owned).collect()
}

#[test]
fn the_score_sees_a_wrong_stroke() {
    let (_, facts) = all_gold().swap_remove(0);
    let lesson = to_lesson(&facts);
    let text = written::write(&lesson).replacen("down", "up", 1);
    let read = from_lesson(&written::read(&text));
    assert!(f1(&from_lesson(&lesson), &read) < 1.0);
}
