//! How to read the drawings: every sign with its meaning.

use serde::Serialize;

use super::addresses;
use super::course::Course;
use super::drawing::{KeyItem, key_of_all};
use super::pieces;
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;

#[derive(Debug, Serialize)]
struct ReadingView {
    key: Vec<KeyItem>,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let page = pieces::page(
        course,
        "reading",
        labels.get("reading_title"),
        addresses::READING,
        labels,
    );
    let view = ReadingView {
        key: key_of_all(labels),
    };
    Ok(vec![press.print(
        addresses::READING,
        "reading.html",
        &page,
        labels,
        ("reading", &view),
    )?])
}
