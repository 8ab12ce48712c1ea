//! Two states of a course, for the teacher: one page by itself. What differs in the music first, drawn as it was and as it is.

use std::collections::BTreeMap;

use serde::Serialize;

use super::compas::Compas;
use super::drawing::{self, Marks, Naming};
use super::labels::Labels;
use super::pattern_view;
use super::pieces::Page;
use super::templates::Press;
use crate::compare::{self, Comparison, LessonChange, LessonRecord, LineChange, Record};
use crate::failure::Failure;
use crate::music::lesson::Lesson;
use crate::music::palo::PaloTable;
use crate::music::position::Position;

#[derive(Debug, Serialize)]
struct View {
    title: String,
    verdict: String,
    lessons: Vec<LessonView>,
    pages: Vec<String>,
}

#[derive(Debug, Serialize)]
struct LessonView {
    id: String,
    title: String,
    language: &'static str,
    /// The words of the page in the lesson's language.
    t: &'static BTreeMap<String, String>,
    about: String,
    music: Vec<String>,
    pairs: Vec<PairView>,
    course: Vec<String>,
    follows: Vec<String>,
    words: Vec<LineChange>,
}

/// A pattern as it was above the same as it is.
#[derive(Debug, Serialize)]
struct PairView {
    name: String,
    was: Option<Picture>,
    is: Option<Picture>,
}

#[derive(Debug, Serialize)]
struct Picture {
    narrow: String,
    wide: String,
}

/// A lesson on one side, with the palos that it counts by.
struct Side<'a> {
    lesson: &'a Lesson,
    palos: &'a PaloTable,
}

pub(super) fn page(comparison: &Comparison, old: &Record, new: &Record) -> Result<String, Failure> {
    let palos = (old.palos(), new.palos());
    // The words of the comparison are English; those of a lesson stay in its own language.
    let labels = Labels::of("en");
    let course = if new.course.title.is_empty() {
        &old.course.title
    } else {
        &new.course.title
    };
    let mut lessons = Vec::new();
    for (index, change) in comparison.lessons.iter().enumerate() {
        let was = change.was.as_deref().unwrap_or(&change.lesson);
        let one = comparison.lessons.len() == 1;
        let was = record(old, was, one).map(LessonRecord::lesson);
        let is = record(new, &change.lesson, one).map(LessonRecord::lesson);
        let was = was.as_ref().map(|lesson| Side {
            lesson,
            palos: &palos.0,
        });
        let is = is.as_ref().map(|lesson| Side {
            lesson,
            palos: &palos.1,
        });
        lessons.push(lesson_view(change, index, (was, is), labels));
    }
    let title = labels.fill("compared_title", &[("course", course)]);
    let view = View {
        title: title.clone(),
        verdict: compare::verdict(comparison).to_owned(),
        lessons,
        pages: comparison.pages.iter().map(compare::page_in_words).collect(),
    };
    let page = Page::alone("comparison alone", title, course.clone(), labels.language);
    let file = Press::new()?.print("comparison.html", "comparison.html", &page, labels, ("view", &view))?;
    String::from_utf8(file.bytes).map_err(|error| Failure::Template(error.to_string()))
}

/// Two single notes are one lesson, whatever they are called.
fn record<'a>(record: &'a Record, id: &str, one: bool) -> Option<&'a LessonRecord> {
    let named = record.lessons.iter().find(|lesson| lesson.id == id);
    named.or_else(|| record.lessons.first().filter(|_| one && record.lessons.len() == 1))
}

fn lesson_view(
    change: &LessonChange,
    index: usize,
    (was, is): (Option<Side>, Option<Side>),
    labels: &'static Labels,
) -> LessonView {
    LessonView {
        id: format!("lesson-{index}"),
        title: if change.title.is_empty() {
            change.lesson.clone()
        } else {
            change.title.clone()
        },
        language: labels.language,
        t: labels.all(),
        about: compare::fate_in_words(change),
        music: change.music.iter().map(|difference| difference.words.clone()).collect(),
        pairs: pairs(index, (was.as_ref(), is.as_ref()), labels),
        course: change.course.clone(),
        follows: compare::follows_in_words(&change.follows),
        words: change.words.clone(),
    }
}

fn pairs(lesson: usize, (was, is): (Option<&Side>, Option<&Side>), labels: &Labels) -> Vec<PairView> {
    let none = Lesson::default();
    let old = was.map_or(&none, |side| side.lesson);
    let new = is.map_or(&none, |side| side.lesson);
    let mut views = Vec::new();
    for (one, two) in compare::pattern_pairs(old, new) {
        let before = one.and_then(|index| old.patterns.get(index));
        let after = two.and_then(|index| new.patterns.get(index));
        let marks: Vec<Position> = match (before, after) {
            (Some(before), Some(after)) => compare::differing(before, after),
            (_, _) => Vec::new(),
        };
        let same = before.zip(after).is_some_and(|(before, after)| {
            (before.span, before.runs_on, before.role) == (after.span, after.runs_on, after.role)
        });
        let Some(shown) = after.or(before).filter(|_| !(same && marks.is_empty())) else {
            continue;
        };
        let name = pattern_view::name(shown, labels);
        let draw = |side: Option<&Side>, index: Option<usize>, filled: bool| {
            let side = side?;
            let pattern = side.lesson.patterns.get(index?)?;
            let id = format!("l{lesson}p{}{}", views.len(), if filled { "is" } else { "was" });
            let about = labels.get(if filled { "compared_is" } else { "compared_was" });
            let naming = Naming {
                id: &id,
                title: &name,
                about,
            };
            let marks = Marks { at: &marks, filled };
            let compas = Compas::of(side.lesson, side.palos);
            let drawing = drawing::marked(pattern, &compas, side.lesson, labels, (naming, marks))?;
            Some(Picture {
                narrow: drawing.narrow,
                wide: drawing.wide,
            })
        };
        let (was, is) = (draw(was, one, false), draw(is, two, true));
        views.push(PairView { name, was, is });
    }
    views
}
