//! The chords of the course: every name with every shape that a lesson gives it.

use serde::Serialize;

use super::addresses;
use super::course::{Course, Ready};
use super::drawing;
use super::labels::show_name;
use super::pieces::{self, Heard, Link, Links};
use super::templates::Press;
use crate::disk::OutputFile;
use crate::failure::Failure;
use crate::music::chord::{Chord, ChordName};

#[derive(Debug, Serialize)]
struct ChordsView {
    chords: Vec<ChordView>,
}

#[derive(Debug, Serialize)]
struct ChordView {
    anchor: String,
    name: String,
    shapes: Vec<ShapeView>,
}

#[derive(Debug, Serialize)]
struct ShapeView {
    svg: String,
    frets: String,
    lessons: Vec<Use>,
}

#[derive(Debug, Serialize)]
struct Use {
    link: Link,
    heard: Heard,
    language: &'static str,
}

pub(super) fn pages(course: &Course, press: &Press) -> Result<Vec<OutputFile>, Failure> {
    let labels = course.labels;
    let page = pieces::page(course, "chords", labels.get("chords"), addresses::CHORDS, labels);
    let view = ChordsView {
        chords: chords(course, &Links::from_page(addresses::CHORDS)),
    };
    Ok(vec![press.print(
        addresses::CHORDS,
        "chords.html",
        &page,
        labels,
        ("chords", &view),
    )?])
}

fn chords(course: &Course, links: &Links) -> Vec<ChordView> {
    let mut names: Vec<&ChordName> = course
        .lessons
        .iter()
        .flat_map(|ready| &ready.lesson().chords)
        .map(|chord| &chord.name)
        .collect();
    names.sort();
    names.dedup();
    names.into_iter().map(|name| chord(course, name, links)).collect()
}

fn chord(course: &Course, name: &ChordName, links: &Links) -> ChordView {
    let anchor = addresses::chord_anchor(&name.to_string());
    let mut shapes: Vec<Shape> = Vec::new();
    for ready in &course.lessons {
        for chord in ready.lesson().chords.iter().filter(|chord| chord.name == *name) {
            let same = |shape: &&mut Shape| shape.chord.shape == chord.shape && shape.chord.fingers == chord.fingers;
            match shapes.iter_mut().find(same) {
                Some(shape) => shape.uses.push((ready, chord)),
                None => shapes.push(Shape {
                    chord,
                    uses: vec![(ready, chord)],
                }),
            }
        }
    }
    // Lessons that name the chord and give no shape come last.
    shapes.sort_by_key(|shape| shape.chord.shape.is_none());
    let view = |(index, shape): (usize, &Shape)| ShapeView {
        svg: drawing::chord_shape(shape.chord, &format!("{anchor}-{}", index + 1), course.labels),
        frets: shape.chord.shape.map_or(String::new(), |shape| shape.to_string()),
        lessons: shape
            .uses
            .iter()
            .map(|(ready, chord)| lesson_use(ready, chord, links))
            .collect(),
    };
    ChordView {
        name: show_name(&name.to_string()),
        shapes: shapes.iter().enumerate().map(view).collect(),
        anchor,
    }
}

fn lesson_use(ready: &Ready, chord: &Chord, links: &Links) -> Use {
    Use {
        link: links.lesson(ready),
        heard: links.heard(ready, chord.shape_place.unwrap_or(chord.place), false),
        language: ready.labels.language,
    }
}

/// One shape of a chord, and the lessons that give it.
struct Shape<'a> {
    chord: &'a Chord,
    uses: Vec<(&'a Ready<'a>, &'a Chord)>,
}
