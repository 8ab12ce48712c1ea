//! Which lessons come before which: by what they need, and by their place in the course.

use crate::music::lesson::Lesson;

/// The lesson with this id.
pub(super) fn by_id<'a>(lessons: &'a [Lesson], id: &str) -> Option<&'a Lesson> {
    lessons.iter().find(|lesson| lesson.id == id)
}

/// All lessons that come before this one, as far as anybody said: those it needs and what they need in turn,
/// and those with a lower place in the course. None where nothing is said about its order.
pub(super) fn earlier<'a>(lessons: &'a [Lesson], lesson: &Lesson) -> Option<Vec<&'a Lesson>> {
    if lesson.order.is_none() && lesson.needs.is_empty() {
        return None;
    }
    let mut found: Vec<&Lesson> = Vec::new();
    let mut open: Vec<&str> = lesson.needs.iter().map(|needs| needs.value.as_str()).collect();
    while let Some(id) = open.pop() {
        let known = |lesson: &&Lesson| lesson.id == id;
        let Some(needed) = by_id(lessons, id).filter(|_| id != lesson.id && !found.iter().any(known)) else {
            continue;
        };
        open.extend(needed.needs.iter().map(|needs| needs.value.as_str()));
        found.push(needed);
    }
    if let Some(order) = &lesson.order {
        let lower = |other: &&Lesson| other.order.as_ref().is_some_and(|other| other.value < order.value);
        for other in lessons.iter().filter(lower) {
            if !found.iter().any(|lesson| lesson.id == other.id) {
                found.push(other);
            }
        }
    }
    Some(found)
}
