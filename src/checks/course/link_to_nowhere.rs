use super::before::by_id;
use crate::checks::{About, Check, Context, Family, Run};
use crate::findings::{Finding, Severity};
use crate::intake::Sibling;
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
        let needs = lesson
            .needs
            .iter()
            .filter_map(|needs| of_needs(needs, lessons, context));
        links.chain(needs).collect::<Vec<_>>()
    };
    lessons.iter().flat_map(in_lesson).collect()
}

/// A lesson still to come is announced, not missed. "The alegrías lesson" may be one that is not in this folder: a note.
fn of_link(link: &CrossReference, lessons: &[Lesson], context: &Context) -> Option<Finding> {
    if link.announced || is_there(&link.target, lessons, context) {
        return None;
    }
    let is_palo = context.palos.find(&link.target).is_some();
    let of_palo = |lesson: &Lesson| lesson.palo.as_ref().is_some_and(|palo| palo.value == link.target);
    let named_for_it = |sibling: &Sibling| sibling.id.starts_with(&link.target);
    if is_palo && (lessons.iter().any(of_palo) || context.folder.siblings.iter().any(named_for_it)) {
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
    let finding = CHECK.found(link.place, message, nearest(&link.target, lessons, context));
    Some(if is_palo {
        finding.weighing(Severity::Note)
    } else {
        finding
    })
}

fn is_there(id: &str, lessons: &[Lesson], context: &Context) -> bool {
    by_id(lessons, id).is_some() || context.folder.siblings.iter().any(|sibling| sibling.id == id)
}

fn of_needs(needs: &Said<String>, lessons: &[Lesson], context: &Context) -> Option<Finding> {
    if is_there(&needs.value, lessons, context) {
        return None;
    }
    let message = format!("this lesson needs {}, which is not in the folder", needs.value);
    Some(CHECK.found(needs.place, message, nearest(&needs.value, lessons, context)))
}

fn nearest(id: &str, lessons: &[Lesson], context: &Context) -> String {
    let distance = |other: &&str| strsim::damerau_levenshtein(id, other);
    let here = lessons.iter().map(|lesson| lesson.id.as_str());
    let beside = context.folder.siblings.iter().map(|sibling| sibling.id.as_str());
    let most = id.chars().count() / 3;
    // A name much longer or shorter is never near: most need not be measured.
    let near = here
        .chain(beside)
        .filter(|other| other.len().abs_diff(id.len()) <= most);
    match near.min_by_key(distance).filter(|other| distance(other) <= most) {
        Some(other) => format!("Is it {other}?"),
        None => "Correct the name, or add the lesson's note to the folder".to_owned(),
    }
}
