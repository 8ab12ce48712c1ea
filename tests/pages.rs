//! The pages: whole sites from lessons, checked as a reader's browser would find them.
#![allow(clippy::unwrap_used, reason = "a test says what went wrong by failing")]

#[path = "pages/fixtures.rs"]
mod fixtures;

use compasario::disk::OutputFile;
use compasario::music::palo::PaloTable;
use compasario::pages::{self, Choices, CourseHead, SiteInput};

fn build(course: &fixtures::Course, choices: Choices) -> Vec<OutputFile> {
    let head = CourseHead {
        title: "Thursday evening guitar".to_owned(),
        about: "Accompaniment, one palo at a time, from the evening class at the cultural centre.".to_owned(),
        language: String::new(),
    };
    pages::site(&SiteInput {
        head: &head,
        lessons: &course.lessons,
        folder: &course.folder,
        palos: PaloTable::ours(),
        choices,
    })
    .unwrap()
}

/// With COMPASARIO_LOOK=FOLDER the site is written there, to be looked at.
#[test]
fn a_site_is_made_from_the_gold_facts() {
    let files = build(&fixtures::gold(), Choices::default());
    assert!(files.iter().any(|file| file.path == "index.html"));
    if let Ok(folder) = std::env::var("COMPASARIO_LOOK") {
        for file in &files {
            let path = std::path::Path::new(&folder).join(&file.path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, &file.bytes).unwrap();
        }
    }
}
