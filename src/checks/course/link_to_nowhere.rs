use super::before::by_id;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::music::lesson::{CrossReference, Lesson, Said};

pub(in crate::checks) const CHECK: Check = Check {
    id: "link-to-nowhere",
    severity: Severity::Warning,
    family: Family::Course,
    about: About {
        finds: "A note refers to a lesson, or needs one, that is not in the folder.",
        matters: "The student is sent to a page that does not exist, just where something was left out because it stands there.",
        trips: "[0:11] for the golpe look at the lesson farruca-prologue",
        right: "[0:11] for the golpe look at the lesson farruca-prelude",
    },
    run: Run::Course(look),
};

fn look(lessons: &[Lesson], context: &Context) -> Vec<Finding> {
    let in_lesson = |lesson: &Lesson| {
        let links = lesson.links.iter().filter_map(|link| of_link(link, lessons, context));
        let needs = lesson.needs.iter().filter_map(|needs| of_needs(needs, lessons));
        links.chain(needs).collect::<Vec<_>>()
    };
    lessons.iter().flat_map(in_lesson).collect()
}

/// A lesson still to come is announced, not missed. "The alegrías lesson" may be one that is not in this folder: a note.
fn of_link(link: &CrossReference, lessons: &[Lesson], context: &Context) -> Option<Finding> {
    if link.announced || by_id(lessons, &link.target).is_some() {
        return None;
    }
    let is_palo = context.palos.find(&link.target).is_some();
    let of_palo = |lesson: &Lesson| lesson.palo.as_ref().is_some_and(|palo| palo.value == link.target);
    if is_palo && lessons.iter().any(of_palo) {
        return None;
    }
    let message = if is_palo {
        format!(
            "\"{}\" refers to a lesson, but none of the folder is about {}",
            link.words.trim(),
            link.target
        )
    } else {
        format!("this refers to the lesson {}, which is not in the folder", link.target)
    };
    let finding = CHECK.found(link.place, message, nearest(&link.target, lessons));
    Some(if is_palo {
        finding.weighing(Severity::Note)
    } else {
        finding
    })
}

fn of_needs(needs: &Said<String>, lessons: &[Lesson]) -> Option<Finding> {
    if by_id(lessons, &needs.value).is_some() {
        return None;
    }
    let message = format!("this lesson needs {}, which is not in the folder", needs.value);
    Some(CHECK.found(needs.place, message, nearest(&needs.value, lessons)))
}

fn nearest(id: &str, lessons: &[Lesson]) -> String {
    let distance = |other: &str| strsim::damerau_levenshtein(id, other);
    let nearest = lessons
        .iter()
        .map(|lesson| lesson.id.as_str())
        .min_by_key(|other| distance(other));
    match nearest.filter(|other| distance(other) <= id.chars().count() / 3) {
        Some(other) => format!("Is it {other}?"),
        None => "Correct the name, or add the lesson's note to the folder".to_owned(),
    }
}
